"""Bends: radii of table 4-6, setback."""

from __future__ import annotations

import math

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.bends import bend_radius, setback
from hatchwright.workings import Grade


@pytest.mark.parametrize(
    ("alloy", "temper", "thickness_in", "least", "greatest"),
    [  # [AC43.13-1B], table 4-6, page 4-14
        ("2024", "T3", 0.016, 1.5, 3.0),
        ("2024", "T3", 0.032, 2.0, 4.0),
        ("2024", "T3", 0.064, 3.0, 5.0),
        ("2024", "T3", 0.258, 5.0, 7.0),
        ("2024", "O", 0.032, 0.0, 1.0),
        ("5052", "H32", 0.032, 0.0, 0.0),
        ("5052", "H38", 0.128, 2.0, 4.0),
        ("6061", "T6", 0.064, 1.0, 2.0),
        ("7075", "T6", 0.182, 5.0, 7.0),
    ],
)
def test_a_cell(alloy: str, temper: str, thickness_in: float, least: float, greatest: float) -> None:
    found = bend_radius(alloy, temper, thickness_in=thickness_in)
    assert (found.least_ratio, found.greatest_ratio, found.thickness_in) == (least, greatest, thickness_in)
    assert (found.source.key, found.grade) == ("AC43.13-1B", Grade.PUBLISHED)


def test_the_column_next_above_is_read_and_said() -> None:
    found = bend_radius("2024", "t3", thickness_in=0.040)
    assert (found.thickness_in, found.least_ratio, found.greatest_ratio) == (0.064, 3.0, 5.0)


@pytest.mark.parametrize("thickness_in", [0.015, 0.259, math.nan])
def test_outside_the_columns(thickness_in: float) -> None:
    with pytest.raises(TableError, match=r"\.016 to \.258 in"):
        bend_radius("2024", "T3", thickness_in=thickness_in)


def test_an_alloy_that_is_not_in_it() -> None:
    with pytest.raises(TableError, match=r"alloy 2024, temper T42\. Listed by temper: O, T3, T6"):
        bend_radius("2024", "T42", thickness_in=0.032)


@pytest.mark.parametrize(
    ("bend_deg", "factor"),
    [(90, 1.0), (60, 0.57735), (120, 1.73205), (135, 2.4142)],  # [AC43.13-1B], table 4-7: K = tan(A/2)
)
def test_setback_of_radius_and_thickness_one(bend_deg: float, factor: float) -> None:
    assert setback(bend_deg=bend_deg, radius_in=0.75, thickness_in=0.25).value == pytest.approx(
        factor, abs=5e-5
    )


def test_setback_at_90_degrees_is_radius_plus_thickness() -> None:
    assert setback(bend_deg=90, radius_in=0.16, thickness_in=0.04).value == pytest.approx(0.2)


@pytest.mark.parametrize("bend_deg", [0.0, 180.0, -90.0, 270.0, math.nan])
def test_a_bend_without_setback(bend_deg: float) -> None:
    with pytest.raises(TableError, match="between 0 and 180"):
        setback(bend_deg=bend_deg, radius_in=0.75, thickness_in=0.25)
