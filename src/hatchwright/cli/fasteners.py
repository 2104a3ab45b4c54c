"""`hatchwright fasteners`: what to order, drill and drive."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.fastener_lines import fastener_lines
from hatchwright.cli.frame import job_command, put_json
from hatchwright.cli.verdict_lines import end_with
from hatchwright.cli.wording import words
from hatchwright.workflow.fasteners import choose_fasteners, fastener_values


@job_command("fasteners", words("command.fasteners.help"))
def command(job: Path, as_json: bool, shop: Path | None) -> None:
    """Say what to order, drill and drive for each kind of hole, and what the new parts weigh."""
    report = choose_fasteners(job, shop=shop)
    if as_json:
        put_json(fastener_values(report))
    else:
        click.echo("\n".join(fastener_lines(report)))
    end_with(report.examination, shown=not as_json)
