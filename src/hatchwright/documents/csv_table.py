"""A plain table as a CSV file: a decimal point, UTF-8, and no cell that a program would run as a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from typing import TypeAlias

from hatchwright.drawings.lettering import literal
from hatchwright.drawings.writers.readback.compare import refuse
from hatchwright.said import said

_BEGINS_FORMULA = ("=", "+", "-", "@")
"""What a program for tables takes for the beginning of a formula. Common practice, no source."""

Cell: TypeAlias = str | int | float | None


def csv_from(headings: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """Write a table, and read it back.

    Args:
        headings: of the columns.
        rows: text as it is; numbers as numbers; None for a cell that is left empty.
    Raises:
        ExportError: it did not read back as it was written.

    >>> csv_from(("Item", "Need"), [("=1+1", 64)]).decode().splitlines()
    ['Item,Need', "'=1+1,64"]
    """
    told = [list(map(_told, headings)), *(list(map(_told, row)) for row in rows)]
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\r\n").writerows(told)
    made = text.getvalue().encode("utf-8")
    if list(csv.reader(io.StringIO(made.decode("utf-8"), newline=""))) != told:
        refuse("CSV", said("readback.table_differs"))
    return made


def _told(cell: Cell) -> str:
    """A number in figures, a text on one line; one that would begin a formula stays text behind a quotation mark."""
    if cell is None:
        return ""
    if not isinstance(cell, str):
        return f"{cell}"
    text = literal(cell)
    return f"'{text}" if text.lstrip().startswith(_BEGINS_FORMULA) else text
