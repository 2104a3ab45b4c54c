"""Lines as long as they can be read: of a terminal as wide as it is, and without one a row is a line, however long."""

from __future__ import annotations

import shutil
import sys
from textwrap import wrap

import click

_WIDEST = 110


def line_width() -> int:
    """Letters in a line: as many as the terminal shows or COLUMNS says, no more than can be read, and no end of them in
    a pipe or file."""
    columns = shutil.get_terminal_size((0, 0)).columns
    return min(columns, _WIDEST) if columns else sys.maxsize


def wrapped(text: str, width: int, *, first: str = "", hang: str = "  ") -> list[str]:
    """Fold a text into lines.

    Args:
        width: see `line_width`.
        first: stands before the first line.
        hang: stands before all others.
    """
    return wrap(text, width, initial_indent=first, subsequent_indent=hang, break_on_hyphens=False)


def put_text(text: str, *, indent: str = "") -> None:
    """Print a text, folded where that is needed."""
    for line in wrapped(text, line_width(), first=indent, hang=f"{indent}  "):
        click.echo(line)
