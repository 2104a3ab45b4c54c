"""A row of a table as it is written in its CSV file."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from pathlib import Path

from msgspec import Struct

from hatchwright.errors import TableError
from hatchwright.said import Listed, said
from hatchwright.tables.columns import unit_of
from hatchwright.workings import Grade, Source

CITATION = ("source", "place", "edition", "basis")
"""The headings that end every table."""

_LONGEST_TEXT = 80


class Row(Struct, frozen=True, eq=False):
    """One row as written: its cells by heading, its line in the file, and what its last four cells say."""

    cells: Mapping[str, str]
    line: int
    source: Source
    grade: Grade

    def number(self, heading: str) -> float:
        """The number under a heading [unit of the heading]."""
        return float(self.cells[heading])

    def meant(self, heading: str) -> str | float:
        """What a cell means however it is written, so that .125 is 0.125 and "ad" is AD."""
        cell = self.cells[heading]
        return round(float(cell), 6) if cell and unit_of(heading) else cell.casefold()


def read_rows(path: Path, headings: tuple[str, ...]) -> tuple[Row, ...]:
    """Read one CSV file as it is written.

    Raises:
        TableError: the file cannot be read, or its headings or grades are not those of the table.
    """
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            reader = csv.reader(file, strict=True)
            given = tuple(cell.strip() for cell in next(reader, ()))
            if given != headings:
                absent = ", ".join(heading for heading in headings if heading not in given) or "none"
                strange = ", ".join(heading for heading in given if heading not in headings) or "none"
                raise TableError.saying(
                    "error.headings",
                    where=f"{path.name}, line 1",
                    must=",".join(headings),
                    missing=absent,
                    strange=strange[:_LONGEST_TEXT],
                )
            return tuple(
                _row(f"{path.name}, line {reader.line_num}", headings, reader.line_num, cells)
                for cells in reader
                if any(cells)
            )
    except (OSError, UnicodeDecodeError, csv.Error) as fault:
        raise TableError.saying("error.no_csv", where=path.name, why=str(fault)) from None


def _row(where: str, headings: tuple[str, ...], line: int, cells: list[str]) -> Row:
    if len(cells) != len(headings):
        raise TableError.saying("error.row_cells", where=where, given=len(cells), wanted=len(headings))
    named = dict(zip(headings, map(str.strip, cells), strict=True))
    try:
        grade = Grade(named["basis"])
    except ValueError:
        raise TableError(
            said("error.no_basis", basis=named["basis"][:_LONGEST_TEXT]),
            where=f"{where}, basis",
            remedy=said("error.one_of", words=Listed(tuple(map(str, Grade)), ",")),
        ) from None
    return Row(named, line, Source(named["source"], named["place"]), grade)
