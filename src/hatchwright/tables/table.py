"""What a table is: its headings and its rows as written.

A heading that ends in a unit (`_in`, `_psi`, ...) holds a number. So does `value`, whose unit stands in the
column `unit`. Any other heading holds words.
"""

from __future__ import annotations

import csv
import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from hatchwright.errors import TableError
from hatchwright.workings import Grade, Source

CITATION = ("source", "place", "edition", "basis")
"""The headings that end every table."""

DIAMETER_MATCH_IN = 0.0006
"""Two nominal diameters closer than this are the same size, so that .156 finds 5/32 [in]."""

_LONGEST_TEXT = 80

_UNITS = ("in", "in_lbf", "psi", "lbf", "lb", "lb_per_in3", "per_in", "deg", "ratio")


@dataclass(frozen=True, slots=True)
class Order:
    """How one column must run: `value` rises (or falls) along `along`, for each set of `within` cells."""

    value: str
    along: str
    within: tuple[str, ...] = ()
    falls: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Row:
    """One row as written: its cells by heading, its line in the file, and what its last four cells say."""

    cells: Mapping[str, str]
    line: int
    source: Source
    grade: Grade

    def text(self, heading: str) -> str:
        """The words under a heading."""
        return self.cells[heading]

    def number(self, heading: str) -> float:
        """The number under a heading [unit of the heading]."""
        return float(self.cells[heading])

    def number_or_none(self, heading: str) -> float | None:
        """The number under a heading, None when the cell is empty [unit of the heading]."""
        cell = self.cells[heading]
        return float(cell) if cell else None

    def meant(self, heading: str) -> str | float:
        """What a cell means however it is written, so that .125 is 0.125 and "ad" is AD."""
        cell = self.cells[heading]
        return round(float(cell), 6) if cell and unit_of(heading) else cell.casefold()

    def is_size(self, heading: str, size_in: float) -> bool:
        """Whether a nominal diameter under a heading is the size asked for [in]."""
        return abs(self.number(heading) - size_in) < DIAMETER_MATCH_IN


@dataclass(frozen=True, slots=True, eq=False)
class ShopTables:
    """A shop's own rows, checked: rows by table name."""

    rows: Mapping[str, tuple[Row, ...]] = field(default_factory=dict)

    @property
    def words(self) -> str:
        """How many rows there are of each table, and out of which documents."""
        rows = ", ".join(f"{len(rows)} of {name}" for name, rows in sorted(self.rows.items()) if rows)
        out_of = "; ".join(f"{key}, {edition}" for key, edition in self.documents.items())
        return f"{rows} ({out_of})" if rows else "none"

    @property
    def documents(self) -> Mapping[str, str]:
        """The documents that the shop's rows name, with their editions."""
        cells = [row.cells for rows in self.rows.values() for row in rows]
        return {one["source"]: one["edition"] for one in cells}

    @property
    def digest(self) -> str:
        """The same for the same rows only."""
        told = sorted((name, [sorted(row.cells.items()) for row in rows]) for name, rows in self.rows.items())
        return hashlib.sha256(repr(told).encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class Table:
    """One CSV file and what its rows must be.

    Args:
        name: file name without its ending.
        about: what it holds, in one line.
        key: headings that name a row; no two rows agree in all of them.
        values: the other headings before the citation.
        orders: how its columns must run.
        optional: headings whose cells may be empty.
        choices: headings whose words come from a closed list, with the list.
        is_open: whether a shop may add rows of its own.
    """

    name: str
    about: str
    key: tuple[str, ...]
    values: tuple[str, ...]
    orders: tuple[Order, ...] = ()
    optional: tuple[str, ...] = ()
    choices: tuple[tuple[str, tuple[str, ...]], ...] = ()
    is_open: bool = True

    @property
    def headings(self) -> tuple[str, ...]:
        """All headings in order."""
        return self.key + self.values + CITATION

    def rows(self, shop: ShopTables | None = None) -> tuple[Row, ...]:
        """All rows, the shop's own in place of those that it replaces.

        Args:
            shop: a shop's own rows, when there are any.
        Returns:
            tuple[Row, ...]: the shop's rows first, then the table's in file order.
        """
        built_in = _built_in(self)
        own = shop.rows.get(self.name, ()) if shop else ()
        if not own:
            return built_in
        replaced = {self.name_of(row) for row in own}
        return own + tuple(row for row in built_in if self.name_of(row) not in replaced)

    def name_of(self, row: Row) -> tuple[str | float, ...]:
        """What names a row: its key cells, however they are written."""
        return tuple(row.meant(heading) for heading in self.key)


def unit_of(heading: str) -> str:
    """The unit that a heading ends with, "" for words.

    >>> unit_of("thickness_in"), unit_of("torque_in_lbf"), unit_of("drill")
    ('in', 'in_lbf', '')
    """
    return max((unit for unit in _UNITS if heading.endswith(f"_{unit}")), key=len, default="")


def read_rows(path: Path, table: Table) -> tuple[Row, ...]:
    """Read one CSV file as it is written.

    Args:
        path: the file.
        table: what it must hold.
    Returns:
        tuple[Row, ...]: its rows.
    Raises:
        TableError: the file cannot be read, or its headings or grades are not those of the table.
    """
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            reader = csv.reader(file, strict=True)
            headings = tuple(cell.strip() for cell in next(reader, ()))
            if headings != table.headings:
                raise TableError(
                    _headings_differ(headings, table),
                    where=f"{path.name}, line 1",
                    remedy="Use exactly those headings",
                )
            return tuple(_row(path, table, reader.line_num, cells) for cells in reader if any(cells))
    except (OSError, UnicodeDecodeError, csv.Error) as fault:
        raise TableError(
            f"the file cannot be read as comma-separated text ({fault})",
            where=path.name,
            remedy="Save it as CSV in UTF-8",
        ) from None


def _row(path: Path, table: Table, line: int, cells: list[str]) -> Row:
    where = f"{path.name}, line {line}"
    if len(cells) != len(table.headings):
        raise TableError(
            f"the row has {len(cells)} cells, the table has {len(table.headings)}",
            where=where,
            remedy="Put text that holds a comma in quotation marks",
        )
    named = dict(zip(table.headings, (cell.strip() for cell in cells), strict=True))
    try:
        grade = Grade(named["basis"])
    except ValueError:
        raise TableError(
            f"'{named['basis'][:_LONGEST_TEXT]}' is not a basis",
            where=f"{where}, basis",
            remedy=f"Write one of: {', '.join(Grade)}",
        ) from None
    return Row(cells=named, line=line, source=Source(named["source"], named["place"]), grade=grade)


def _headings_differ(headings: tuple[str, ...], table: Table) -> str:
    missing = ", ".join(heading for heading in table.headings if heading not in headings) or "none"
    strange = ", ".join(heading for heading in headings if heading not in table.headings) or "none"
    must = ",".join(table.headings)
    return f"the headings must be {must}; missing: {missing}; not of this table: {strange[:_LONGEST_TEXT]}"


@cache
def _built_in(table: Table) -> tuple[Row, ...]:
    return read_rows(Path(__file__).with_name(f"{table.name}.csv"), table)
