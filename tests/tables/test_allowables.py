"""Allowables of sheet, copied by hand from [MIL-HDBK-5J], 31 Jan 2003, chapter 3 (as transcribed), in psi."""

from __future__ import annotations

from itertools import product

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.allowables import SHEET_ALLOWABLES, allowables
from hatchwright.tables.materials import sheet
from hatchwright.workings import Grade

CLAD_2024_T3 = sheet("2024", "T3", True)


def test_clad_2024_t3_table_e1() -> None:
    found = allowables(CLAD_2024_T3, thickness_in=0.032)
    assert (found.ftu_l_psi, found.ftu_lt_psi) == (60_000, 59_000)
    assert (found.fty_l_psi, found.fty_lt_psi) == (44_000, 39_000)
    assert (found.fcy_l_psi, found.fcy_lt_psi) == (36_000, 42_000)
    assert found.fsu_psi == 37_000
    assert (found.fbru_15_psi, found.fbru_20_psi) == (97_000, 121_000)
    assert (found.fbry_15_psi, found.fbry_20_psi) == (68_000, 82_000)
    assert (found.e_psi, found.e_secondary_psi) == (10.5e6, 9.5e6)
    assert (found.ec_psi, found.ec_secondary_psi) == (10.7e6, 9.7e6)
    assert (found.source.key, found.source.place) == ("MIL-HDBK-5J", "table 3.2.3.0(e1)")
    assert found.grade is Grade.PUBLISHED


def test_bare_7075_t6_table_b1() -> None:
    found = allowables(sheet("7075", "T6", False), thickness_in=0.050)
    assert (found.ftu_l_psi, found.ftu_lt_psi, found.fsu_psi) == (78_000, 78_000, 47_000)
    assert (found.fbru_20_psi, found.fbry_20_psi) == (156_000, 119_000)
    assert found.g_psi == 3.9e6


@pytest.mark.parametrize(
    ("thickness_in", "ftu_lt_psi"),
    [(0.008, 58_000), (0.010, 59_000), (0.062, 59_000), (0.0625, 59_000), (0.063, 61_000), (0.249, 62_000)],
)
def test_a_row_covers_both_its_ends(thickness_in: float, ftu_lt_psi: float) -> None:
    assert allowables(CLAD_2024_T3, thickness_in=thickness_in).ftu_lt_psi == ftu_lt_psi


def test_the_lower_direction_when_the_grain_is_not_known() -> None:
    found = allowables(CLAD_2024_T3, thickness_in=0.032)
    assert (found.ftu_psi, found.fty_psi, found.fcy_psi) == (59_000, 39_000, 36_000)


def test_b_basis_is_never_below_a_basis() -> None:
    for alloy, temper, clad in [
        ("2024", "T3", False),
        ("2024", "T3", True),
        ("7075", "T6", False),
        ("6061", "T6", False),
    ]:
        material = sheet(alloy, temper, clad)
        for thickness_in in (0.016, 0.040, 0.080, 0.200):
            a = allowables(material, thickness_in=thickness_in, statistical_basis="A")
            b = allowables(material, thickness_in=thickness_in, statistical_basis="B")
            assert (a.statistical_basis, b.statistical_basis) == ("A", "B")
            assert b.ftu_psi >= a.ftu_psi
            assert b.fbru_20_psi >= a.fbru_20_psi
            assert b.fsu_psi >= a.fsu_psi


def test_a_basis_that_stands_in_is_named() -> None:
    found = allowables(sheet("5052", "H32", False), thickness_in=0.040)
    assert found.statistical_basis == "S"
    assert "no A basis is published" in found.note
    assert found.ftu_psi == 31_000  # table 3.5.1.0(b1)


def test_of_two_specifications_the_weaker_unless_it_is_named() -> None:
    clad = sheet("7075", "T6", True)
    assert allowables(clad, thickness_in=0.025).ftu_psi == 70_000  # table 3.7.6.0(c2)
    named = SHEET_ALLOWABLES.some(alloy="7075", temper="T6", is_clad=True, specification="AMS 4049")
    covering = [row for row in named if row.thickness_min_in <= 0.025 <= row.thickness_max_in]
    assert min(row.ftu_psi for row in covering) == 71_000  # table 3.7.6.0(c1)


def test_shear_modulus_of_clad_sheet_is_computed_and_says_so() -> None:
    found = allowables(CLAD_2024_T3, thickness_in=0.032)
    assert found.g_psi == pytest.approx(
        3.95e6, rel=0.002
    )  # E/(2(1+mu)), E 10.5 Msi, mu 0.33, printed to 3 digits
    assert "not tabulated" in found.note


@pytest.mark.parametrize("thickness_in", [0.0, 0.007, 0.2501, 0.5, 0.8, float("nan")])
def test_outside_the_thicknesses_the_ranges_are_said(thickness_in: float) -> None:
    with pytest.raises(TableError, match=r"\.010 to \.062 in"):
        allowables(CLAD_2024_T3, thickness_in=thickness_in)


def test_a_row_with_part_of_the_properties_is_not_handed_out() -> None:
    with pytest.raises(
        TableError, match=r"no sheet strength is listed for 7075-T6 at \.0100 in.*every property"
    ):
        allowables(sheet("7075", "T6", False), thickness_in=0.010, statistical_basis="S")


def test_a_wrong_basis_says_which_there_are() -> None:
    with pytest.raises(TableError, match="A, B or S"):
        allowables(CLAD_2024_T3, thickness_in=0.032, statistical_basis="C")


def test_ratios_between_properties() -> None:
    """Misread cells show up in the ratios; the bounds are those of the handbook's own rows."""
    for row in SHEET_ALLOWABLES.rows():
        if not row.cells["fsu_psi"]:
            continue
        ftu_psi = row.number("ftu_lt_psi")
        assert 0.58 <= row.number("fsu_psi") / ftu_psi <= 0.66
        assert 1.53 <= row.number("fbru_15_psi") / ftu_psi <= 1.67
        assert 1.97 <= row.number("fbru_20_psi") / ftu_psi <= 2.11
        for along, across in product(("fty_l_psi", "fty_lt_psi"), ("ftu_l_psi", "ftu_lt_psi")):
            assert row.number(along) < row.number(across)
        assert row.number("fbry_15_psi") < row.number("fbry_20_psi") < row.number("fbru_20_psi")


def test_strength_never_falls_with_thickness_within_a_table() -> None:
    runs: dict[tuple[str, ...], list[tuple[float, float]]] = {}
    for row in SHEET_ALLOWABLES.rows():
        key = tuple(
            row.cells[heading]
            for heading in ("alloy", "temper", "clad", "specification", "statistical_basis")
        )
        runs.setdefault(key, []).append((row.number("thickness_min_in"), row.number("ftu_lt_psi")))
    for run in runs.values():
        strengths = [strength for _, strength in sorted(run)]
        assert strengths == sorted(strengths)
