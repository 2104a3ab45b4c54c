"""What the commands print, by the ids of the catalogue."""

from __future__ import annotations

import click

from hatchwright.said import Value, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell


def words(id: str, unit: Unit = "in", /, **values: Value) -> str:
    """One sentence, name or heading."""
    return tell(said(id, **values), unit)


def put(id: str, unit: Unit = "in", /, *, to_err: bool = False, **values: Value) -> None:
    """Print one sentence as a line."""
    click.echo(words(id, unit, **values), err=to_err)
