"""`hatchwright new`: start a job file."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.frame import put, words
from hatchwright.said import Listed
from hatchwright.workflow.new_job import NEW_JOBS, new_job


@click.command(name="new", help=words("command.new.help"))
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--kind",
    default=NEW_JOBS[0],
    show_default=True,
    metavar="KIND",
    help=words("command.new.kind", kinds=Listed(NEW_JOBS, ",")),
)
def command(job: Path, kind: str) -> None:
    """Start a job file of one kind, its fields explained, to be filled in."""
    new_job(job, kind)
    put("command.new.done", job=str(job))
