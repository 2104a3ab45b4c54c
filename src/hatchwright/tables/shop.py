"""A shop's own rows: read from its folder, checked, and taken whole or not at all."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from hatchwright.errors import Fault, TableError
from hatchwright.said import Listed, said
from hatchwright.tables.catalog import TABLES
from hatchwright.tables.columns import unit_of
from hatchwright.tables.drills import drill
from hatchwright.tables.row import Row, read_rows
from hatchwright.tables.soundness import faults_of
from hatchwright.tables.table import ShopTables, Table
from hatchwright.words.tell import tell
from hatchwright.workings import Grade

LARGEST_FILE_BYTES = 1_000_000
"""No table of a shop is larger; a larger file is something else [bytes]."""

_OTHER_UNIT_FACTOR = 3.0
"""A number further from the one it replaces than this is in another unit (lbf and N differ by 4.4) [-]."""

_FAULTS_SHOWN = 20


def load_shop_tables(folder: Path) -> ShopTables:
    """Read a shop's own rows.

    A row that names the same thing as one of ours takes its place, unless ours is published: then the two must agree.

    Args:
        folder: holds CSV files named and headed like the tables of this package; other files are left alone.
    Returns:
        ShopTables: the accepted rows, each graded the shop's own.
    Raises:
        TableError: anything is wrong in any file; it lists file, line and reason, and nothing of the folder is used.
    """
    try:
        paths = sorted(path for path in folder.iterdir() if path.suffix.lower() == ".csv")
    except OSError as fault:
        raise TableError.saying("error.shop_folder", where=str(folder), why=fault.strerror or "") from None
    open_tables = {table.name: table for table in TABLES if table.is_open}
    faults: list[str] = []
    accepted: dict[str, tuple[Row, ...]] = {}
    for path in paths:
        table = open_tables.get(path.stem)
        try:
            if table is None:
                raise _not_a_table(path, open_tables)
            if table.name in accepted:
                raise TableError(said("error.shop_twice"), where=path.name, remedy=said("error.keep_one"))
            if path.is_file() and path.stat().st_size > LARGEST_FILE_BYTES:
                raise TableError.saying("error.shop_large", where=path.name, most=LARGEST_FILE_BYTES)
            rows = _spelt_as_ours(table, read_rows(path, table.headings))
        except TableError as error:
            faults.append(str(error).removesuffix("."))
            continue
        found = [f"{path.name}, {fault}".removesuffix(".") for fault in _all_faults(table, rows)]
        faults += found
        if not found:
            published = {table.name_of(row) for row in table.rows() if row.grade is Grade.PUBLISHED}
            accepted[table.name] = tuple(row for row in rows if table.name_of(row) not in published)
    if faults:
        shown, more = Listed(tuple(faults[:_FAULTS_SHOWN]), ";"), len(faults) - _FAULTS_SHOWN
        raise TableError(
            said("error.shop_more", faults=shown, more=more)
            if more > 0
            else said("error.shop", faults=shown),
            where=tell(said("table.of_shop")),
            remedy=said("error.shop.do"),
        )
    return ShopTables(accepted)


def _all_faults(table: Table[Any], rows: tuple[Row, ...]) -> Iterator[Fault]:
    published = (row for row in table.rows() if row.grade is Grade.PUBLISHED)
    faults = tuple(faults_of(table, rows, beside=published))
    yield from faults
    if faults:
        return
    ours = {table.name_of(row): row for row in table.rows()}
    for row in rows:
        if row.grade is not Grade.SHOP:
            shop, claimed = str(Grade.SHOP), str(row.grade)
            yield Fault.saying("basis", "error.shop_claim", claimed, line=row.line, grade=shop)
        yield from _drill_faults(row)
        same = ours.get(table.name_of(row))
        if same is not None:
            yield from _against_ours(table, row, same)
        elif "key" in table.key:
            yield Fault.saying("key", "error.shop_key", row.cells["key"], line=row.line)


def _drill_faults(row: Row) -> Iterator[Fault]:
    for heading in ("drill", "opens_to"):
        try:
            if row.cells.get(heading):
                drill(row.cells[heading])
        except TableError as error:
            yield Fault(heading, error.what, row.cells[heading], error.remedy, row.line)


def _against_ours(table: Table[Any], row: Row, ours: Row) -> Iterator[Fault]:
    for heading in table.values:
        given, known = row.cells[heading], ours.cells[heading]
        is_number = bool(unit_of(heading)) or heading == "value"
        if heading == "note" or not given or not known:
            continue
        if heading == "unit" and given != known:
            yield Fault.saying(heading, "error.shop_unit", given, line=row.line, known=known)
        elif is_number and not _within(float(given), float(known)):
            yield Fault.saying(
                heading,
                "error.shop_far",
                given,
                line=row.line,
                times=f"{_OTHER_UNIT_FACTOR:g}",
                known=known,
                source=str(ours.source),
            )
        elif ours.grade is Grade.PUBLISHED and not (
            float(given) == float(known) if is_number else given.casefold() == known.casefold()
        ):
            yield Fault.saying(
                heading, "error.shop_differs", given, line=row.line, known=known, source=str(ours.source)
            )


def _within(given: float, known: float) -> bool:
    if known == 0.0:
        return True
    return 1 / _OTHER_UNIT_FACTOR <= given / known <= _OTHER_UNIT_FACTOR


def _spelt_as_ours(table: Table[Any], rows: tuple[Row, ...]) -> tuple[Row, ...]:
    """The rows with words written as the table writes them, so that "ad" is found as AD."""
    ours: dict[str, dict[str, str]] = {}
    for one in table.columns.values():
        if not unit_of(one.heading):
            words = (*(row.cells[one.heading] for row in table.rows()), *one.words)
            ours[one.heading] = {word.casefold(): word for word in words}

    def spelt(heading: str, cell: str) -> str:
        return ours.get(heading, {}).get(cell.casefold(), cell)

    return tuple(replace(row, cells={at: spelt(at, cell) for at, cell in row.cells.items()}) for row in rows)


def _not_a_table(path: Path, open_tables: dict[str, Table[Any]]) -> TableError:
    closed = any(table.name == path.stem for table in TABLES)
    return TableError(
        said("error.shop_closed" if closed else "error.shop_no_table"),
        where=path.name,
        remedy=said("error.shop_no_table.do", names=Listed(tuple(sorted(open_tables)), ",")),
    )
