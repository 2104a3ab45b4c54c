"""A table as it comes out of a spreadsheet, a CSV file or a message: rows and columns of text, and what was seen in it.

What can mean two things is refused and never guessed: what parts the columns, what a comma is, which column is which.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from io import StringIO

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import EntryError, Fault, JobError
from hatchwright.job.bounds import first_of
from hatchwright.job.job_fields import Kind
from hatchwright.job.pasted_heads import head_note, order_of, ordered, units_of
from hatchwright.job.pasted_rows import LENGTHS, WORDS, Column, Row, names_of
from hatchwright.number import COUNT, decimal
from hatchwright.said import Listed, Said, said
from hatchwright.tables.drills import drill_sizes
from hatchwright.units import UNIT_MARKS, Unit, parse_length

_BLANKS = " "
_PARTED_BY = ("\t", ";", _BLANKS, ",")
"""What parts the columns, first what parts them beyond doubt."""

_MOST_HEADS = 4
"""Rows of titles, headings and units above the values; more than this are no headings [rows]."""

_LONGEST_SHOWN = 60
_QUOTES = "\"'“”„’‘"
_WHOLE = re.compile(r"#?\d{1,6}(?:[.,]0*)?", re.ASCII)
_BARE = re.compile(r"[-+\d\s/.,]*\d[.,]?", re.ASCII)
"""A number that has no unit of its own, and is no drill."""


_DEGREES = re.compile(r"(?<!\s)\s*+(?:°|deg(?:rees?)?\.?)$")
_LONG = re.compile(r"[^\t;,\n]{1000}")
"""More than any cell of a table, or line of one that blanks part; nothing longer is taken apart."""


class Table(Struct, frozen=True):
    """The rows of values in the order of the columns, and what a person should know of how they were read."""

    rows: tuple[Row, ...]
    notes: tuple[Said, ...]


def read_table(
    pasted: str, columns: Sequence[Column], *, unit: Unit, most: int, commas_are_decimal: bool = False
) -> Table:
    """Read what was pasted.

    Args:
        unit: of a bare length.
        most: rows that the list takes.
        commas_are_decimal: whether the person said that commas are decimal marks.
    Returns:
        Table: each length as it may stand in a job of that unit.
    Raises:
        JobError: every row that can't be read, each fault with the row's number as its line and the label of its
            column, "" where the whole row is meant.
    """
    filled = sum(1 for line in pasted.splitlines() if line.strip())
    if filled > most + _MOST_HEADS:
        raise JobError.about("", "paste.too_many", str(filled), rows=filled, most=most)
    if found := _LONG.search(pasted):
        line, shown = pasted.count("\n", 0, found.start()) + 1, found[0][:_LONGEST_SHOWN]
        raise JobError((Fault.saying("", "paste.long_cell", shown, line=line),))
    parted = _parted(pasted, columns)
    begin = next((at for at, row in enumerate(parted) if _holds_values(row, columns)), len(parted))
    heads, rows = parted[:begin], parted[begin:]
    if not rows or begin > _MOST_HEADS:
        raise JobError.about("", "paste.nothing", columns=names_of(columns))
    order, units = order_of(heads, columns), units_of(heads, columns)
    rows = [ordered(row, order) for row in rows]
    as_pasted = rows
    if commas_are_decimal or _are_decimal(rows, columns, units, unit):
        rows = [_with_points(row, columns) for row in rows]
    has_commas = rows != as_pasted
    rows = [_with_units(row, columns, units, unit) for row in rows]
    if faults := first_of(fault for row in rows for fault in _faults(row, columns, unit)):
        raise JobError(faults)
    notes = [*(head_note(row) for row in heads), *([said("paste.commas")] if has_commas else [])]
    whole = tuple(Row(row.number, _without_empty_end(row.cells)) for row in rows)
    return Table(whole, tuple(notes))


def _parted(pasted: str, columns: Sequence[Column]) -> list[Row]:
    """Its rows, by what parts the columns so that most of them can be read."""
    least = sum(column.required for column in columns)
    found = {mark: list(_rows(pasted, mark)) for mark in _PARTED_BY if mark == _BLANKS or mark in pasted}
    read = {mark: sum(_is_whole(row, columns) for row in rows) for mark, rows in found.items()}
    wide = {mark: sum(len(row.cells) >= least for row in rows) for mark, rows in found.items()}
    best = max(found, key=lambda mark: (read[mark], wide[mark]))
    is_doubtful = best == _BLANKS and "," in read and read[","] == read[best]
    is_doubtful |= best == "," and all(map(_could_be_decimal, found[","]))
    if read[best] and is_doubtful:
        raise JobError.about("", "paste.comma_or_column")
    return found[best]


def _could_be_decimal(row: Row) -> bool:
    """Whether the comma between two cells could as well be the decimal mark of one."""
    return len(row.cells) == 2 and all(cell.isdecimal() for cell in row.cells)


def _rows(pasted: str, mark: str) -> Iterator[Row]:
    """The rows that hold anything."""
    if mark == _BLANKS:
        for number, line in enumerate(pasted.splitlines(), start=1):
            if cells := _blank_parted(line):
                yield Row(number, cells)
        return
    reader = csv.reader(StringIO(pasted), delimiter=mark, skipinitialspace=True)
    try:
        for cells_of_row in reader:
            cells = tuple(_unquoted(cell.strip()) for cell in cells_of_row)
            if any(cells):
                yield Row(reader.line_num, cells)
    except csv.Error:
        raise JobError.about("", "paste.no_table") from None


def _blank_parted(line: str) -> tuple[str, ...]:
    """The cells of a line that blanks part; a unit belongs to the number before it."""
    cells: list[str] = []
    for word in line.split():
        bare = _unquoted(word)
        if cells and bare.lower() in UNIT_MARKS and cells[-1][-1].isdigit():
            cells[-1] += f" {bare}"
        else:
            cells.append(bare)
    return tuple(cells)


def _unquoted(cell: str) -> str:
    """A cell without quotes around it; an inch mark behind a number stays."""
    is_quoted = len(cell) > 1 and cell[0] in _QUOTES and cell[-1] in _QUOTES
    return cell[1:-1].strip() if is_quoted else cell


def _without_empty_end(cells: tuple[str, ...]) -> tuple[str, ...]:
    kept = len(cells)
    while kept and not cells[kept - 1]:
        kept -= 1
    return cells[:kept]


def _reads(cell: str, kind: Kind) -> bool:
    """Whether a cell is a value of that kind, a comma taken for a point."""
    if kind == "count":
        return _WHOLE.fullmatch(cell) is not None
    if kind in WORDS:
        return bool(cell)
    try:
        if kind not in LENGTHS:
            return decimal(_degrees(cell).replace(",", ".")) is not None
        parse_length(cell.replace(",", "."), drills=_drills(kind), signed=kind != "diameter")
    except EntryError:
        return False
    return True


def _drills(kind: Kind) -> Mapping[str, float] | None:
    return drill_sizes() if kind == "diameter" else None


def _degrees(cell: str) -> str:
    return _DEGREES.sub("", cell)


def _is_whole(row: Row, columns: Sequence[Column]) -> bool:
    """Whether a row has as many cells as the list takes, and all can be read."""
    cells = _without_empty_end(row.cells)
    least = sum(column.required for column in columns)
    return least <= len(cells) <= len(columns) and all(
        (_reads(cell, column.kind) and not cell.endswith(",")) or not (cell or column.required)
        for cell, column in zip(cells, columns, strict=False)
    )


def _holds_values(row: Row, columns: Sequence[Column]) -> bool:
    """Whether any cell but a diameter's can be read, or holds a figure: a letter above a column of diameters is a drill
    too."""
    told = zip(row.cells, columns, strict=False)
    if any(_reads(cell, column.kind) for cell, column in told if column.kind not in ("diameter", *WORDS)):
        return True
    return any(mark.isdigit() for cell in row.cells for mark in cell)


def _are_decimal(
    rows: Sequence[Row], columns: Sequence[Column], units: Mapping[int, str], unit: Unit
) -> bool:
    """Whether every comma of the values is a decimal mark: none of them has a point, and one comma at least can't set
    off thousands."""
    cells = [
        (cell, column.kind, units.get(at, unit))
        for row in rows
        for at, (cell, column) in enumerate(zip(row.cells, columns, strict=False))
        if column.kind != "count" and column.kind not in WORDS
    ]
    if any("." in re.sub(r"[a-z]+\.", "", cell) for cell, _, _ in cells):
        return False
    return any("," in cell and _means_one_thing(cell, kind, own) for cell, kind, own in cells)


def _means_one_thing(cell: str, kind: Kind, unit: str) -> bool:
    """Whether the comma of one cell can only be a decimal mark, as a job reads it in the unit of its column."""
    try:
        if kind in LENGTHS:
            return parse_length(cell, unit=unit, signed=True).inch is not None
        return decimal(_degrees(cell)) is not None
    except EntryError:
        return False


def _with_points(row: Row, columns: Sequence[Column]) -> Row:
    cells = (
        cell.replace(",", ".") if at < len(columns) and _has_one_comma(cell, columns[at]) else cell
        for at, cell in enumerate(row.cells)
    )
    return replace(row, cells=tuple(cells))


def _has_one_comma(cell: str, column: Column) -> bool:
    return column.kind not in WORDS and cell.count(",") == 1


def _with_units(row: Row, columns: Sequence[Column], units: Mapping[int, str], unit: Unit) -> Row:
    """The row as it may stand in a job: a length in another unit than the job's bears it, whole numbers and angles are
    bare."""
    cells = list(row.cells)
    for at, (cell, column) in enumerate(zip(row.cells, columns, strict=False)):
        if column.kind == "count" and _WHOLE.fullmatch(cell):
            cells[at] = _whole(cell.removeprefix("#"))
        elif column.kind == "amount":
            cells[at] = _degrees(cell)
        elif column.kind in WORDS:
            cells[at] = cell.lower() if cell.lower() in column.choices else cell
        elif _BARE.fullmatch(cell) and units.get(at, unit) != unit:
            cells[at] = f"{cell} {units[at]}"
    return replace(row, cells=tuple(cells))


def _whole(cell: str) -> str:
    """A whole number without a decimal mark; as it is where its comma could set off thousands."""
    with suppress(EntryError):
        return str(int(decimal(cell, most=COUNT.most) or 0))
    return cell


def _faults(row: Row, columns: Sequence[Column], unit: Unit) -> Iterator[Fault]:
    """What is wrong with a row of values."""
    cells = _without_empty_end(row.cells)
    if len(cells) > len(columns):
        shown, taken = " | ".join(cells)[:_LONGEST_SHOWN], names_of(columns)
        yield Fault.saying("", "paste.too_wide", shown, line=row.number, n=len(cells), columns=taken)
        return
    for at, column in enumerate(columns):
        cell = cells[at] if at < len(cells) else ""
        if not cell:
            if column.required:
                yield Fault.saying(column.label, "paste.empty", line=row.number, columns=names_of(columns))
            continue
        try:
            is_read = _is_read(cell, column, unit)
        except EntryError as error:
            yield Fault(column.label, error.what, cell[:_LONGEST_SHOWN], error.remedy, row.number, unit)
        else:
            if not is_read:
                id, shown = f"paste.unread.{column.kind.replace(' ', '_')}", cell[:_LONGEST_SHOWN]
                takes = Listed(column.choices, ",")
                yield Fault.saying(column.label, id, shown, line=row.number, choices=takes)


def _is_read(cell: str, column: Column, unit: Unit) -> bool:
    if column.kind == "count":
        return decimal(cell, most=COUNT.most) is not None and cell.isdecimal() and int(cell) in COUNT
    if column.kind in LENGTHS:
        parse_length(cell, unit=unit, drills=_drills(column.kind), signed=column.kind != "diameter")
        return True
    if column.kind in WORDS:
        return not column.choices or cell in column.choices
    return decimal(cell) is not None
