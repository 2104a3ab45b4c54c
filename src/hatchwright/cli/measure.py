"""`hatchwright measure`: lay what was drilled on what was drawn, and enter it in the job."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.answer_table import put_table
from hatchwright.cli.change_lines import put_changes
from hatchwright.cli.frame import PATH, TURN_DEG, job_command, put_json, words
from hatchwright.cli.lines import put_text
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.cli.verdict_lines import STOP, end_with
from hatchwright.said import said
from hatchwright.units import Unit
from hatchwright.words.tell import tell

if TYPE_CHECKING:
    from hatchwright.inspection.best_fit import BestFit
    from hatchwright.workflow.compared import Compared
    from hatchwright.workflow.measure import Measured


@job_command("measure", words("command.measure.help"))
@click.argument("readings", type=PATH)
@click.option("--unit", type=click.Choice(["in", "mm"]), help=words("command.measure.unit"))
@click.option("--u", default="", help=words("command.measure.u"))
@click.option("--zero", nargs=2, metavar="X Y", help=words("command.measure.zero"))
@click.option("--turn", type=TURN_DEG, default=0.0, metavar="DEG", help=words("command.measure.turn"))
@click.option("--flip", is_flag=True, help=words("command.measure.flip"))
@click.option("--zero-u", default="", help=words("command.measure.zero_u"))
@click.option("--decimal-comma", is_flag=True, help=words("command.measure.decimal_comma"))
@click.option("--enter", "enters", is_flag=True, help=words("command.measure.enter"))
@click.option("--as-they-are", is_flag=True, help=words("command.measure.as_they_are"))
def command(
    job: Path,
    readings: Path,
    as_json: bool,
    unit: Unit | None,
    u: str,
    zero: tuple[str, str] | None,
    turn: float,
    flip: bool,
    zero_u: str,
    decimal_comma: bool,
    enters: bool,
    as_they_are: bool,
    shop: Path | None,
) -> None:
    """Lay what was drilled on what was drawn, and show what the job answers with it."""
    from hatchwright.workflow.compared import compared
    from hatchwright.workflow.measure import HowRead, enter, measured_file

    how = HowRead(u, unit, zero, turn, flip, zero_u, decimal_comma)
    found = measured_file(job, readings, how, shop=shop)
    with progress_bar() as progress:
        both = compared(found, folder=job.parent, progress=progress)
    if not as_json:
        _print(found, both)
    if enters:
        enter(job, found, as_they_are=as_they_are)
        click.echo(words("command.measure.entered", n=found.count, job=str(job)), err=as_json)
    if as_json:
        from hatchwright.workflow.measure_values import measure_values

        put_json(measure_values(found, both, is_entered=enters))
    if found.doubts or both.faults:
        sys.exit(STOP)
    end_with(both.after or both.before, shown=not as_json)


def _print(found: Measured, both: Compared) -> None:
    from hatchwright.workflow.measure_said import others_said

    for note in (*found.notes, *others_said(found)):
        put_text(tell(note, found.job.unit))
    if found.fit:
        _print_fit(found, found.fit)
    put_changes(both, found.job.unit, of="command.measure")


def _print_fit(found: Measured, fit: BestFit) -> None:
    from hatchwright.workflow.measure_said import HEADS, fit_said, hole_cells

    unit = found.job.unit
    put_text(tell(fit_said(fit), unit))
    heads = [words(f"measure.head.{name}") for name in HEADS]
    rows = [hole_cells(one, unit) for one in fit.holes]
    put_table(heads, rows, title=words("measure.title", unit=said(f"paste.unit.{unit}")))
    for one in found.named:
        put_text(tell(one.told, unit))
    if not found.named:
        put_text(words("measure.nothing_named"))
