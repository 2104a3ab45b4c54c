"""`hatchwright new`: start a job file."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.frame import PATH, put, words
from hatchwright.said import Listed
from hatchwright.workflow.new_job import NEW_JOBS, SHAPES, SIDES, UNITS, Start, new_job


@click.command(name="new", help=words("command.new.help"))
@click.argument("job", type=click.Path(path_type=Path), required=False)
@click.option(
    "--kind",
    default=NEW_JOBS[0],
    show_default=True,
    metavar="KIND",
    help=words("command.new.kind", kinds=Listed(NEW_JOBS, ",")),
)
@click.option(
    "--shape", default="", metavar="SHAPE", help=words("command.new.shape", shapes=Listed(SHAPES, "or"))
)
@click.option(
    "--units",
    default=UNITS[0],
    show_default=True,
    metavar="UNITS",
    help=words("command.new.units", units=Listed(UNITS, "or")),
)
@click.option("--side", default="", metavar="SIDE", help=words("command.new.side", sides=Listed(SIDES, "or")))
@click.option("--survey", type=PATH, metavar="SHEET", help=words("command.new.survey"))
def command(job: Path | None, kind: str, shape: str, units: str, side: str, survey: Path | None) -> None:
    """Start a job file of one kind, its fields explained, to be filled in."""
    start = Start(kind, shape, units, side)
    path = job or Path(f"{start.kind}.toml")
    if survey is not None:
        from hatchwright.workflow.new_from_survey import new_from_survey

        answer = new_from_survey(path, start, survey)
        if answer.contradictions:
            put("command.new.not_entered", job=str(path), n=len(answer.contradictions))
        else:
            put("command.new.entered", job=str(path), n=len(answer.entries) + len(answer.parts))
        return
    new_job(path, start)
    put("command.new.done", job=str(path))
