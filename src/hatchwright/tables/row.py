"""A row of a table as it is written in its CSV file."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from hatchwright.errors import TableError
from hatchwright.said import Listed, Said, said
from hatchwright.tables.columns import unit_of
from hatchwright.workings import Grade, Source

CITATION = ("source", "place", "edition", "basis")
"""The headings that end every table."""

_LONGEST_TEXT = 80


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
                raise TableError(
                    _headings_differ(given, headings),
                    where=f"{path.name}, line 1",
                    remedy=said("error.headings.do"),
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
        raise TableError(
            said("error.row_cells", given=len(cells), wanted=len(headings)),
            where=where,
            remedy=said("error.row_cells.do"),
        )
    named = dict(zip(headings, (cell.strip() for cell in cells), strict=True))
    try:
        grade = Grade(named["basis"])
    except ValueError:
        raise TableError(
            said("error.no_basis", basis=named["basis"][:_LONGEST_TEXT]),
            where=f"{where}, basis",
            remedy=said("error.one_of", words=Listed(tuple(map(str, Grade)), ",")),
        ) from None
    return Row(named, line, Source(named["source"], named["place"]), grade)


def _headings_differ(given: tuple[str, ...], must: tuple[str, ...]) -> Said:
    missing = ", ".join(heading for heading in must if heading not in given) or "none"
    strange = ", ".join(heading for heading in given if heading not in must) or "none"
    return said("error.headings", must=",".join(must), missing=missing, strange=strange[:_LONGEST_TEXT])
