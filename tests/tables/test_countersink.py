"""Countersinks and dimples: the documents side by side, and what is used by default."""

from __future__ import annotations

import math

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.countersink import (
    COUNTERSINK_DIAMETERS,
    COUNTERSINK_THRESHOLDS,
    countersink_minimum,
    countersink_thresholds,
    dimple_spread,
)
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.rivets import head_size
from hatchwright.workings import Grade

SIZES_IN = (3 / 32, 1 / 8, 5 / 32, 3 / 16, 1 / 4)


@pytest.mark.parametrize(
    ("diameter_in", "thickness_in", "grade"),
    [  # [TM-9-2320-363-34-2], table 4, 100 degrees
        (3 / 32, 0.040, Grade.PUBLISHED),
        (1 / 8, 0.050, Grade.PUBLISHED),
        (5 / 32, 0.064, Grade.PUBLISHED),
        (3 / 16, 0.072, Grade.PUBLISHED),
        (1 / 4, 0.100, Grade.MEMORY),  # the table's .072 is less than the head is deep
    ],
)
def test_thinnest_sheet(diameter_in: float, thickness_in: float, grade: Grade) -> None:
    found = countersink_minimum(diameter_in)
    assert (found.value, found.grade) == (thickness_in, grade)


@pytest.mark.parametrize("dash", [3, 4, 5, 6, 8])
def test_the_default_clears_the_head(dash: int) -> None:
    assert countersink_minimum(dash / 32).value > head_size(parse_rivet(f"MS20426AD{dash}")).height_in


def test_the_impossible_entry_is_shown_and_not_used() -> None:
    entries = {one.document: one for one in countersink_thresholds(1 / 4)}
    assert entries["Army table"].thickness.value == 0.072
    assert entries["Army table"].use != "default"
    assert "not to be used" in entries["Army table"].thickness.note


def test_thresholds_of_a_3_32_rivet_side_by_side() -> None:
    found = [(one.document, one.thickness.value) for one in countersink_thresholds(3 / 32)]
    assert found[0] == ("Army table", 0.040)
    assert set(found) == {
        ("Army table", 0.040),  # [TM-9-2320-363-34-2]
        ("knife edge note", 0.032),  # [MIL-HDBK-5F], quoted
        ("older practice", 0.032),  # [BUILDER-FORUMS]
        ("amateur-built practice", 0.040),  # [BUILDER-LOGS]
        ("1940s manual", 0.051),  # [REPAIR-1940S], par. 10
        ("Navy tool text", 0.064),  # [NAVEDTRA-14315]
    }


def test_every_size_has_one_default() -> None:
    defaults = [
        row.number("diameter_in") for row in COUNTERSINK_THRESHOLDS.rows() if row.cells["use"] == "default"
    ]
    assert sorted(defaults) == sorted(SIZES_IN)


@pytest.mark.parametrize(
    ("diameter_in", "least_in", "greatest_in"),
    [(1 / 8, 0.222, 0.228), (5 / 32, 0.283, 0.289), (3 / 16, 0.350, 0.356)],  # [TM-9-2320-363-34-2], table 3
)
def test_countersink_diameters(diameter_in: float, least_in: float, greatest_in: float) -> None:
    found = COUNTERSINK_DIAMETERS.one(diameter_in=diameter_in)
    assert (found.least_in, found.greatest_in) == (least_in, greatest_in)
    head = head_size(parse_rivet(f"MS20426AD{round(diameter_in * 32)}"))
    assert head.head_in == pytest.approx((least_in + greatest_in) / 2, abs=0.0005)


@pytest.mark.parametrize(
    ("drill", "after_in", "passes"),
    [
        ("40", 0.104, "#37"),
        ("#32", 0.1285, "#30"),
    ],  # [BUILDER-FORUMS]: No. 37 no-go; No. 32 dimpled gives No. 30
)
def test_dimpling_opens_the_hole(drill: str, after_in: float, passes: str) -> None:
    found = dimple_spread(drill)
    assert (found.value, found.grade) == (after_in, Grade.RESTATED)
    assert passes in found.note


def test_nothing_is_guessed() -> None:
    with pytest.raises(TableError, match=r"Listed by drill: 40, 32\. Measure a coupon"):
        dimple_spread("30")
    for diameter_in in (0.0625, 0.2, math.nan):
        with pytest.raises(TableError, match=r"Listed by diameter: \.0938, \.125"):
            countersink_minimum(diameter_in)
        with pytest.raises(TableError, match=r"Listed by diameter: \.125, \.1562"):
            COUNTERSINK_DIAMETERS.one(diameter_in=diameter_in)
