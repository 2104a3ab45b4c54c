"""`hatchwright new`: start a job file."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.frame import put, words
from hatchwright.workflow.new_job import new_job


@click.command(name="new", help=words("command.new.help"))
@click.argument("job", type=click.Path(path_type=Path))
def command(job: Path) -> None:
    """Start a job file with every section, its fields explained, to be filled in."""
    new_job(job)
    put("command.new.done", job=str(job))
