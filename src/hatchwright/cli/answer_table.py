"""A table of answers whose words are never cut short, however narrow the screen."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.table import Table


def answer_table(headings: Sequence[str], rows: Iterable[Sequence[str]], *, title: str = "") -> Table:
    """Lay answers out as wide as the screen, where what does not fit on a line goes on in the next.

    The last column takes the words, and all others are as wide as their longest.
    """
    from rich.table import Table
    from rich.text import Text

    table = Table(title=title or None, show_lines=True, expand=True)
    for heading in headings:
        table.add_column(heading, ratio=1 if heading == headings[-1] else None, overflow="fold")
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    return table
