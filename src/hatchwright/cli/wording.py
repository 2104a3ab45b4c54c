"""What the commands print, by the ids of the catalogue."""

from __future__ import annotations

from collections.abc import Iterable

import click

from hatchwright.finding import Finding
from hatchwright.said import Value, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.workflow.finding_lines import finding_lines


def words(id: str, unit: Unit = "in", /, **values: Value) -> str:
    """One sentence, name or heading."""
    return tell(said(id, **values), unit)


def put(id: str, unit: Unit = "in", /, *, to_err: bool = False, **values: Value) -> None:
    """Print one sentence as a line."""
    click.echo(words(id, unit, **values), err=to_err)


def say_findings(findings: Iterable[Finding], unit: Unit, *, indent: str = "") -> None:
    """Print findings, each with its advice."""
    for finding in findings:
        for line in finding_lines(finding, unit):
            click.echo(f"{indent}{line}")
