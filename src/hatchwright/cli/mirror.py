"""`hatchwright mirror`: the other side of a job as a job of its own."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.frame import put, words
from hatchwright.workflow.mirror import mirror


@click.command(name="mirror", help=words("command.mirror.help"))
@click.argument("job", type=click.Path(path_type=Path))
@click.argument("other", type=click.Path(path_type=Path))
def command(job: Path, other: Path) -> None:
    """Write the job of the other side, to be measured and answered there."""
    mirror(job, other)
    put("command.mirror.done", job=str(job), other=str(other))
