"""Tables of a paper that stand one below the other, each with its heading, and what is signed below them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec import Struct

from hatchwright.said import Said
from hatchwright.units import Unit, figure
from hatchwright.words.tell import tell


class MadeTable(Struct, frozen=True):
    """One table.

    Args:
        heads: of its columns.
        widths: of its columns, each as a share of the sheet [-].
        rows: cells as printed.
        how: what is said above it, None for nothing.
    """

    title: Said
    heads: tuple[Said, ...]
    widths: tuple[float, ...]
    rows: tuple[tuple[str, ...], ...]
    how: Said | None = None

    def empty(self, rows: int) -> MadeTable:
        """The same with blank rows to write in."""
        blank = ("",) * len(self.heads)
        return MadeTable(self.title, self.heads, self.widths, (blank,) * rows, self.how)


def tables_on_paper(tables: Iterable[MadeTable], unit: Unit) -> list[dict[str, Any]]:
    """The tables as the template prints them."""
    return [
        {
            "title": tell(one.title, unit),
            "how": tell(one.how, unit) if one.how else "",
            "heads": [tell(head, unit) for head in one.heads],
            "widths": list(one.widths),
            "rows": [list(row) for row in one.rows],
            "is_empty": not any(cell for row in one.rows for cell in row),
        }
        for one in tables
    ]


def signed(value_in: float, unit: Unit) -> str:
    """A deviation with its sign, such as ``+.003`` or ``-.010`` [in]."""
    text = figure(value_in, unit)
    return text if text.startswith("-") or not any(mark in "123456789" for mark in text) else f"+{text}"


def pair(first_in: float, second_in: float, unit: Unit) -> str:
    """Two coordinates in one cell [in]."""
    return f"{figure(first_in, unit)}, {figure(second_in, unit)}"
