"""Rivets per inch of width: tables 4-9, 4-10 and 4-11 of the circular, protruding AD rivets in single lap."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

from hatchwright.errors import TableError
from hatchwright.judged import FLOAT_NOISE
from hatchwright.said import Listed, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.columns import OptionalText
from hatchwright.tables.table import SAME_SIZE_IN, Order, Record, ShopTables, Table
from hatchwright.words.tell import tell


class _PerInch(Record, frozen=True):
    thickness_in: float
    fastener: Literal["rivet", "bolt AN-3"]
    diameter_in: float
    rivets_per_in: float
    note: OptionalText


class _Note(Record, frozen=True):
    table: str
    letter: str
    multiplier_ratio: float
    applies_to: str


class _Sheet(Record, frozen=True):
    alloy: str
    temper: str
    is_clad: bool
    table: str


AC43_TABLE_4_9, AC43_TABLE_4_10, AC43_TABLE_4_11 = (
    Table(
        _PerInch,
        f"ac43_13_1b_table_4_{number}",
        named_by=3,
        orders=(
            Order("rivets_per_in", along="thickness_in"),
            Order("rivets_per_in", along="diameter_in", falls=True),
        ),
        title=f"table 4-{number}",
        asks=("fastener", "thickness_in"),
        otherwise=True,
        words="ac43_rivets_per_inch",
    )
    for number in (9, 10, 11)
)

AC43_TABLE_NOTES = Table(
    _Note, "ac43_13_1b_table_notes", named_by=2, is_open=False, title="notes of tables 4-9 to 4-11"
)

AC43_TABLE_MATERIALS = Table(
    _Sheet, "ac43_13_1b_table_materials", named_by=4, is_open=False, title="titles of tables 4-9 to 4-11"
)

_NOTE_READINGS = {"no reduction": "", "note c": "c"}
TABLE_READINGS = {
    f"table {table}, {name}": (table, letter)
    for table in ("4-9", "4-10", "4-11")
    for name, letter in _NOTE_READINGS.items()
}
"""Readings that a job may choose from under R601: each table, and the letter of the note that takes rivets off."""

_TABLES = {"4-9": AC43_TABLE_4_9, "4-10": AC43_TABLE_4_10, "4-11": AC43_TABLE_4_11}


def tables_for(alloy: str, temper: str, clad: bool) -> tuple[str, ...]:
    """Which of the tables are for a sheet, the default first.

    Returns:
        tuple[str, ...]: "4-9", "4-10" or "4-11"; two for clad 2024-T3; empty when the circular has none for the
            sheet, which must be said, not passed over. Table 4-9 comes first as the safer one: where rivet shear
            governs it asks for about a quarter more; the circular's own example (par. 4-58g) takes table 4-10.

    >>> tables_for("2024", "T3", True), tables_for("5052", "H32", False), tables_for("6061", "T6", False)
    (('4-9', '4-10'), ('4-11',), ())
    """
    return tuple(
        row.table
        for row in AC43_TABLE_MATERIALS.all(alloy=alloy, is_clad=clad)
        if row.temper in ("any", temper.strip().upper())
    )


@lru_cache(maxsize=64)
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
        fastener: "rivet" (2117-T4, protruding head) or "bolt AN-3".
    Returns:
        Cited: per inch of width, before any note; its note names the row when it is not the sheet's own.
    Raises:
        TableError: the table has no such row or cell.
    Source: [AC43.13-1B], tables 4-9 to 4-11, pages 4-37 to 4-39.

    >>> rivets_per_inch("4-10", thickness_in=0.032, diameter_in=0.125).value
    4.9
    """
    found = _table(table)
    row_in = found.at_least(
        "thickness_in", thickness_in, shop, within=True, same=True, fastener=fastener
    ).thickness_in
    in_row = [row for row in found.all(shop, fastener=fastener) if row.thickness_in == row_in]
    for row in in_row:
        if abs(row.diameter_in - diameter_in) < SAME_SIZE_IN:
            if row_in <= thickness_in + FLOAT_NOISE:
                return row.cited("rivets_per_in", row.note)
            read = tell(said("table.row_read", row=inch(row_in), thickness=inch(thickness_in, fine=True)))
            return row.cited("rivets_per_in", "; ".join(filter(None, (row.note, read))))
    raise found.refusal(
        said(
            "table.fastener_row", fastener=fastener, diameter=inch(diameter_in, fine=True), row=inch(row_in)
        ),
        [inch(row.diameter_in, fine=True) for row in in_row],
    )


def table_note(table: str, letter: str) -> Cited:
    """What part of the table's rivets a note allows, its own note saying where it applies [-].

    Note c, three quarters for single-lap sheet joints, may be counting the same thing twice, since the tables are
    titled single lap already: it is applied only when the user chooses it, and the choice is printed.

    Args:
        table: "4-9", "4-10" or "4-11".
        letter: "a", "b" or "c".
    Raises:
        TableError: there is no such table or note.

    >>> table_note("4-10", "c").value
    0.75
    """
    row = AC43_TABLE_NOTES.one(table=table, letter=letter)
    return row.cited("multiplier_ratio", row.applies_to)


def _table(table: str) -> Table[_PerInch]:
    try:
        return _TABLES[table]
    except KeyError:
        raise TableError(
            said("error.no_table", table=table),
            remedy=said("error.one_of", words=Listed(tuple(_TABLES), ",")),
        ) from None
