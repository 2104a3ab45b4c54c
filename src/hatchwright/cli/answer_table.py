"""A table of answers whose words are never cut short: in a frame on a terminal, else one row a line."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterable, Iterator, Sequence

import click

_BETWEEN_LINES = " | "
"""What parts the lines of a cell where a row is one line."""


def put_table(headings: Sequence[str], rows: Iterable[Sequence[str]], *, title: str) -> None:
    """Print answers, below a title. The last column takes the words, and all others are as wide as their longest.

    On a terminal the table is as wide as the screen, and what does not fit on a line goes on in the next. In a pipe or
    a file nothing is folded, and columns stand apart by two spaces.
    """
    if sys.stdout.isatty():
        _put_framed(headings, rows, title)
    else:
        click.echo(title)
        for line in _in_lines((headings, *rows)):
            click.echo(line)


def _put_framed(headings: Sequence[str], rows: Iterable[Sequence[str]], title: str) -> None:
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    table = Table(title=title, show_lines=True, expand=True)
    for heading in headings:
        table.add_column(heading, ratio=1 if heading == headings[-1] else None, overflow="fold")
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    width = shutil.get_terminal_size().columns  # that of a terminal that knows no codes too
    Console(highlight=False, markup=False).print(table, width=width)


def _in_lines(rows: Iterable[Sequence[str]]) -> Iterator[str]:
    told = [[_BETWEEN_LINES.join(cell.splitlines()) for cell in row] for row in rows]
    widths = [max(map(len, column)) for column in zip(*told, strict=True)]
    for row in told:
        yield "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
