"""`hatchwright new`: start a job file."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.workflow.new_job import new_job


@click.command(name="new")
@click.argument("job", type=click.Path(path_type=Path))
def command(job: Path) -> None:
    """Start a job file with every section, its fields explained, to be filled in.

    The file holds a small sound job of round numbers, not yours: change each one. A file that is there already is never
    touched.
    """
    new_job(job)
    click.echo(f"{job}: change every number to those of your job, then: hatchwright check {job}")
