"""Aluminium sheet: kinds, densities and stock."""

from __future__ import annotations

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.materials import density, known_sheet, nearest_gauge, next_gauge, sheet, sheet_stock
from hatchwright.workings import Grade

STOCK_IN = [0.016, 0.020, 0.025, 0.032, 0.040, 0.050, 0.063, 0.071, 0.080, 0.090, 0.100, 0.125]
"""Decimal series of aircraft aluminium sheet; common practice, no source."""


def test_the_kinds_of_sheet() -> None:
    assert set(known_sheet()) == {
        ("2024", "T3", False),
        ("2024", "T3", True),
        ("2024", "T42", False),
        ("2024", "T42", True),
        ("5052", "H32", False),
        ("5052", "H34", False),
        ("6061", "T6", False),
        ("7075", "T6", False),
        ("7075", "T6", True),
    }


def test_every_kind_has_a_density() -> None:
    for kind in known_sheet():
        found = density(kind[0])
        assert found.grade is Grade.PUBLISHED
        assert found.source.key == "MIL-HDBK-5J"
        assert 0.095 < found.value < 0.102


def test_both_densities_of_2024_are_kept() -> None:
    clad = sheet("2024", "T3", True)
    # [MIL-HDBK-5J], table 3.2.3.0(b1)
    assert (density("2024").value, density("2024").grade) == (0.100, Grade.PUBLISHED)
    # from memory, unverified: the figure of mass estimates
    assert (clad.density.value, clad.density.grade) == (0.101, Grade.MEMORY)
    assert sheet("6061", "T6", False).density.value == 0.098  # [MIL-HDBK-5J], table 3.6.2.0(b1)


def test_names_are_read_as_people_write_them() -> None:
    assert str(sheet(" 2024 ", "t3", True)) == "2024-T3 clad"
    assert str(sheet("5052", "h32", False)) == "5052-H32"


def test_an_unknown_sheet_names_what_there_is() -> None:
    with pytest.raises(TableError, match=r"2024-T4 bare.*2024-T3 clad.*7075-T6 clad"):
        sheet("2024", "T4", False)
    with pytest.raises(TableError, match="5052-H32 clad"):
        sheet("5052", "H32", True)


def test_stock() -> None:
    assert [one.value for one in sheet_stock()] == STOCK_IN
    assert {one.grade for one in sheet_stock()} == {Grade.PRACTICE}


@pytest.mark.parametrize(
    ("thickness_in", "next_in"),
    [(0.016, 0.020), (0.025, 0.032), (0.032, 0.040), (0.0321, 0.040), (0.0319, 0.032), (0.100, 0.125)],
)
def test_one_gauge_heavier(thickness_in: float, next_in: float) -> None:
    assert next_gauge(thickness_in).value == next_in


def test_nothing_is_heavier_than_the_heaviest() -> None:
    with pytest.raises(TableError, match=r"thickness above \.125 in\. .*\.016 to \.125 in"):
        next_gauge(0.125)


@pytest.mark.parametrize(
    ("measured_in", "gauge_in"),
    [(0.0315, 0.032), (0.024, 0.025), (0.0155, 0.016), (0.051, 0.050), (0.126, 0.125)],
)
def test_the_gauge_of_a_measured_sheet(measured_in: float, gauge_in: float) -> None:
    assert nearest_gauge(measured_in).value == gauge_in


@pytest.mark.parametrize("measured_in", [0.010, 0.0139, 0.128, 0.8, float("nan")])
def test_no_gauge_is_guessed_outside_the_stock(measured_in: float) -> None:
    with pytest.raises(TableError, match=r"\.016 to \.125 in"):
        nearest_gauge(measured_in)
