"""Rivets per inch of width: tables 4-9, 4-10 and 4-11 of the circular, protruding AD rivets in single lap."""

from __future__ import annotations

from hatchwright.errors import TableError
from hatchwright.judged import FLOAT_NOISE
from hatchwright.tables.catalog import (
    AC43_TABLE_4_9,
    AC43_TABLE_4_10,
    AC43_TABLE_4_11,
    AC43_TABLE_MATERIALS,
    AC43_TABLE_NOTES,
)
from hatchwright.tables.cited import Cited
from hatchwright.tables.table import ShopTables, Table
from hatchwright.units import decimal_inch

_TABLES = {"4-9": AC43_TABLE_4_9, "4-10": AC43_TABLE_4_10, "4-11": AC43_TABLE_4_11}

_CONFLICT = (
    "Clad 2024-T3 stands in the titles of both table 4-9 and table 4-10. Where bearing governs the two "
    "agree; where rivet shear governs table 4-9 asks for about a quarter more. The circular's own example "
    "(par. 4-58g) takes table 4-10. Table 4-9 is the default because it is the safer; choose the other "
    "with a reason."
)


def tables_for(alloy: str, temper: str, clad: bool) -> tuple[str, ...]:
    """Which of the tables are for a sheet, the default first.

    Args:
        alloy: four digits, such as "2024".
        temper: such as "T3".
        clad: whether the sheet is clad.
    Returns:
        tuple[str, ...]: "4-9", "4-10" or "4-11"; two for clad 2024-T3; empty when the circular has none
            for the
        sheet, which must be said, not passed over.

    >>> tables_for("2024", "T3", True), tables_for("5052", "H32", False), tables_for("6061", "T6", False)
    (('4-9', '4-10'), ('4-11',), ())
    """
    return tuple(
        row.text("table")
        for row in AC43_TABLE_MATERIALS.rows()
        if row.text("alloy") == alloy.strip()
        and row.text("temper") in ("any", temper.strip().upper())
        and (row.text("clad") == "yes") == clad
    )


def table_conflict(alloy: str, temper: str, clad: bool) -> str:
    """What a reader must know when the circular has two tables for one sheet.

    Args:
        alloy: four digits.
        temper: such as "T3".
        clad: whether the sheet is clad.
    Returns:
        str: the conflict and the default with its reason, "" when there is none.
    """
    return _CONFLICT if len(tables_for(alloy, temper, clad)) > 1 else ""


def rivets_per_inch(
    table: str,
    *,
    thickness_in: float,
    diameter_in: float,
    fastener: str = "rivet",
    shop: ShopTables | None = None,
) -> Cited:
    """How many rivets an inch of width takes.

    Args:
        table: "4-9", "4-10" or "4-11".
        thickness_in: thickness of the sheet; the row at it or next above it is taken, for stock is up to
            three percent thinner than the table's wire gauges (common practice, no source) [in].
        diameter_in: nominal diameter of the rivet [in].
        fastener: "rivet" (2117-T4, protruding head) or "bolt AN-3".
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: per inch of width, before any note; its note names the row when it is not the sheet's own.
    Raises:
        TableError: the table has no such row or cell.
    Source: [AC43.13-1B], tables 4-9 to 4-11, pages 4-37 to 4-39.

    >>> rivets_per_inch("4-10", thickness_in=0.032, diameter_in=0.125).value
    4.9
    """
    rows = [row for row in _table(table).rows(shop) if row.text("fastener") == fastener]
    thicknesses_in = sorted({row.number("thickness_in") for row in rows})
    at_or_above = [row_in for row_in in thicknesses_in if row_in >= thickness_in - FLOAT_NOISE]
    if not at_or_above or thickness_in < thicknesses_in[0] - FLOAT_NOISE:
        ends = " to ".join(decimal_inch(end_in) for end_in in (thicknesses_in[0], thicknesses_in[-1]))
        raise TableError(
            f"no {fastener} row for sheet of {thickness_in:.4f} in",
            where=f"table {table}",
            remedy=f"Its {fastener} rows run from {ends} in; nothing is read beyond them",
        )
    row_in = at_or_above[0]
    in_row = [row for row in rows if row.number("thickness_in") == row_in]
    for row in in_row:
        if row.is_size("diameter_in", diameter_in):
            notes = [row.text("note")]
            if row_in > thickness_in + FLOAT_NOISE:
                notes.append(f"row {decimal_inch(row_in)} for sheet of {decimal_inch(thickness_in, 4)} in")
            note = "; ".join(filter(None, notes))
            return Cited(row.number("rivets_per_in"), "per in", row.source, row.grade, note)
    there = ", ".join(f"{row.number('diameter_in'):g}" for row in in_row)
    raise TableError(
        f"no {fastener} of {diameter_in:.4f} in stands in row {decimal_inch(row_in)}",
        where=f"table {table}",
        remedy=f"Diameters in that row: {there} in",
    )


def table_note(table: str, letter: str) -> Cited:
    """What part of the table's rivets a note allows.

    Args:
        table: "4-9", "4-10" or "4-11".
        letter: "a", "b" or "c".
    Returns:
        Cited: multiplier, its note saying where it applies [-].
    Raises:
        TableError: there is no such table or note.

    >>> table_note("4-10", "c").value
    0.75
    """
    for row in AC43_TABLE_NOTES.rows():
        if (row.text("table"), row.text("letter")) == (table, letter):
            return Cited(row.number("multiplier_ratio"), "-", row.source, row.grade, row.text("applies_to"))
    raise TableError(
        f"there is no note '{letter}'", where=f"table {table}", remedy="Tables 4-9 to 4-11 have notes a to c"
    )


def lap_note(table: str) -> Cited:
    """Note c, three quarters for single-lap sheet joints [-].

    The tables are titled single lap already, so the note may be counting the same thing twice: it is applied
    only when the user chooses it, and the choice is printed.

    Args:
        table: "4-9", "4-10" or "4-11".
    Returns:
        Cited: the multiplier.
    """
    return table_note(table, "c")


def _table(table: str) -> Table:
    try:
        return _TABLES[table]
    except KeyError:
        raise TableError(
            f"there is no table '{table}'", remedy=f"Write one of: {', '.join(_TABLES)}"
        ) from None
