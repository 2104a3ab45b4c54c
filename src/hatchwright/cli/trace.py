"""`hatchwright trace`: a traced ring, opening or template as entries of a job."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.change_lines import put_changes
from hatchwright.cli.frame import PATH, TURN_DEG, job_command, overwrite_option, put_json, words
from hatchwright.cli.lines import put_text
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.cli.verdict_lines import STOP, end_with
from hatchwright.units import Unit
from hatchwright.words.tell import tell

if TYPE_CHECKING:
    from hatchwright.workflow.compared import Compared
    from hatchwright.workflow.trace import TracedJob, Wanted


@job_command("trace", words("command.trace.help"))
@click.argument("drawing", type=PATH)
@click.option(
    "--as",
    "wanted",
    type=click.Choice(["opening", "ring", "holes"]),
    multiple=True,
    required=True,
    help=words("command.trace.as"),
)
@click.option("--within", default=".005 in", show_default=True, help=words("command.trace.within"))
@click.option("--unit", type=click.Choice(["in", "mm"]), help=words("command.trace.unit"))
@click.option("--layer", default="", help=words("command.trace.layer"))
@click.option("--zero", nargs=2, metavar="X Y", help=words("command.trace.zero"))
@click.option("--turn", type=TURN_DEG, default=0.0, metavar="DEG", help=words("command.trace.turn"))
@click.option("--flip", is_flag=True, help=words("command.trace.flip"))
@click.option("--row", default="", metavar="NAME", help=words("command.trace.row"))
@click.option("--rivet", default="", help=words("command.trace.rivet"))
@click.option("--enter", "enters", is_flag=True, help=words("command.trace.enter"))
@overwrite_option
def command(
    job: Path,
    drawing: Path,
    as_json: bool,
    wanted: tuple[Wanted, ...],
    within: str,
    unit: Unit | None,
    layer: str,
    zero: tuple[str, str] | None,
    turn: float,
    flip: bool,
    row: str,
    rivet: str,
    enters: bool,
    overwrite: bool,
    shop: Path | None,
) -> None:
    """Make entries of a traced drawing, and show what the job answers with them."""
    from hatchwright.workflow.trace import HowTraced, compared_trace, enter_trace, traced_job

    how = HowTraced(wanted, within, unit, layer, zero, turn, flip, row, rivet)
    found = traced_job(job, drawing, how, shop=shop)
    with progress_bar() as progress:
        both = compared_trace(found, folder=job.parent, progress=progress)
    if not as_json:
        _print(found, both)
    files: tuple[Path, ...] = ()
    if enters:
        files = enter_trace(job, found, overwrite=overwrite)
        for path in files:
            click.echo(path, err=as_json)
        click.echo(words("command.trace.entered", drawing=drawing.name, job=str(job)), err=as_json)
    if as_json:
        from hatchwright.workflow.trace_values import trace_values

        names = tuple(path.name for path in files)
        put_json(trace_values(found, both, files=names, is_entered=enters))
    if both.faults:
        sys.exit(STOP)
    end_with(both.after or both.before, shown=not as_json)


def _print(found: TracedJob, both: Compared) -> None:
    from hatchwright.workflow.trace_said import entry_texts, trace_lines

    unit = found.job.unit
    for told in trace_lines(found):
        put_text(tell(told, unit))
    put_text(words("command.trace.entries"))
    for line in entry_texts(found):
        click.echo(f"  {line}")
    put_changes(both, unit, of="command.trace")
