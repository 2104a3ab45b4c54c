"""Rivets per inch: which table, which row, which cell, and what happens outside them."""

from __future__ import annotations

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.rivets_per_inch import (
    rivets_per_inch,
    table_note,
    tables_for,
)
from hatchwright.workings import Grade


@pytest.mark.parametrize(
    ("sheet", "tables"),
    [  # [AC43.13-1B], titles of tables 4-9 to 4-11
        (("2024", "T3", True), ("4-9", "4-10")),
        (("2024", "T3", False), ("4-9",)),
        (("2024", "T36", True), ("4-9",)),
        (("7075", "T6", False), ("4-9",)),
        (("7075", "t6", True), ("4-9",)),
        (("2014", "T6", False), ("4-9",)),
        (("2017", "T3", False), ("4-10",)),
        (("5052", "H32", False), ("4-11",)),
        (("5052", "H38", False), ("4-11",)),
        (("6061", "T6", False), ()),
        (("2024", "T42", True), ()),
        (("7075", "T73", False), ()),
    ],
)
def test_which_table(sheet: tuple[str, str, bool], tables: tuple[str, ...]) -> None:
    assert tables_for(*sheet) == tables


@pytest.mark.parametrize(
    ("table", "thickness_in", "diameter_in", "per_in"),
    [  # [AC43.13-1B], cells copied by hand
        ("4-9", 0.040, 1 / 8, 7.7),
        ("4-10", 0.040, 1 / 8, 6.2),
        ("4-10", 0.032, 1 / 8, 4.9),
        ("4-9", 0.016, 3 / 32, 6.5),
        ("4-11", 0.128, 1 / 4, 3.5),
        ("4-11", 0.064, 3 / 32, 12.7),
    ],
)
def test_a_cell(table: str, thickness_in: float, diameter_in: float, per_in: float) -> None:
    found = rivets_per_inch(table, thickness_in=thickness_in, diameter_in=diameter_in)
    assert (found.value, found.unit, found.grade, found.note) == (per_in, "per in", Grade.PUBLISHED, "")
    assert found.source.key == "AC43.13-1B"
    assert table in found.source.place


@pytest.mark.parametrize(
    ("stock_in", "row_in"),
    [
        (0.050, 0.051),
        (0.063, 0.064),
        (0.080, 0.081),
        (0.090, 0.091),
        (0.100, 0.102),
        (0.125, 0.128),
        (0.0315, 0.032),
    ],
)
def test_stock_takes_the_row_next_above_and_says_so(stock_in: float, row_in: float) -> None:
    """The mapping of stock to wire-gauge rows; common practice, no source."""
    found = rivets_per_inch("4-9", thickness_in=stock_in, diameter_in=3 / 16)
    assert found.value == rivets_per_inch("4-9", thickness_in=row_in, diameter_in=3 / 16).value
    assert f"row {row_in:.3f}".replace("0.", ".") in found.note


def test_notes() -> None:
    for table in ("4-9", "4-10", "4-11"):
        assert [table_note(table, letter).value for letter in "abc"] == [0.8, 0.6, 0.75]
        assert "single-lap" in table_note(table, "c").note
    with pytest.raises(TableError, match="Listed by letter: a, b, c"):
        table_note("4-9", "d")


def test_the_one_misread_bolt_cell_is_computed_and_says_so() -> None:
    found = rivets_per_inch("4-9", thickness_in=0.128, diameter_in=0.190, fastener="bolt AN-3")
    assert found.value == 4.2  # .128 x 70 000 / 2126, note d of table 4-9
    assert found.grade is Grade.COMPUTED
    assert "printed 3.2" in found.note


@pytest.mark.parametrize(
    ("table", "thickness_in", "diameter_in", "match"),
    [
        ("4-9", 0.015, 0.125, r"\.016 to \.128 in"),
        ("4-9", 0.129, 0.250, r"\.016 to \.128 in"),
        ("4-9", float("nan"), 0.250, r"\.016 to \.128 in"),
        ("4-9", 0.128, 0.125, r"row \.128.*\.1875, \.2500"),
        ("4-10", 0.032, 0.100, r"row \.032.*\.0938, \.1250"),
        ("4-11", 0.016, 0.250, r"row \.016"),
        ("4-12", 0.032, 0.125, "4-9, 4-10, 4-11"),
    ],
)
def test_nothing_is_read_beyond_a_table(
    table: str, thickness_in: float, diameter_in: float, match: str
) -> None:
    with pytest.raises(TableError, match=match):
        rivets_per_inch(table, thickness_in=thickness_in, diameter_in=diameter_in)


@pytest.mark.parametrize(
    ("thickness_mm", "row_in"), [(0.813, 0.032), (0.8128, 0.032), (0.41, 0.016), (1.016, 0.040)]
)
def test_a_nominal_thickness_typed_in_millimeters_is_its_own_row(thickness_mm, row_in):
    """25.4 mm an inch exactly: .813 mm is .03201 in, a sheet of .032 and no thicker one."""
    asked = rivets_per_inch(
        "4-9", thickness_in=thickness_mm / 25.4, diameter_in=0.125 if row_in > 0.02 else 0.09375
    )
    own = rivets_per_inch("4-9", thickness_in=row_in, diameter_in=0.125 if row_in > 0.02 else 0.09375)
    assert (asked.value, asked.note) == (own.value, own.note)


def test_a_thickness_between_two_rows_still_takes_the_thicker_one():
    between = rivets_per_inch("4-9", thickness_in=0.0335, diameter_in=0.125)
    assert between.value == rivets_per_inch("4-9", thickness_in=0.036, diameter_in=0.125).value
    assert between.note
