"""Findings on the terminal, each with its advice."""

from __future__ import annotations

from collections.abc import Iterable

import click

from hatchwright.finding import Finding
from hatchwright.units import Unit
from hatchwright.workflow.finding_lines import finding_lines


def say_findings(findings: Iterable[Finding], unit: Unit) -> None:
    """Print findings."""
    for finding in findings:
        for line in finding_lines(finding, unit):
            click.echo(line)
