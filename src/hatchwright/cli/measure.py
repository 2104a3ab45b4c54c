"""`hatchwright measure`: lay what was drilled on what was drawn, and enter it in the job."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.answer_table import put_table
from hatchwright.cli.frame import PATH, job_command, put_json, words
from hatchwright.cli.lines import put_text
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.cli.verdict_lines import STOP, end_with
from hatchwright.judged import Status
from hatchwright.said import said
from hatchwright.units import Unit
from hatchwright.words.findings import told_text
from hatchwright.words.tell import tell

if TYPE_CHECKING:
    from hatchwright.search.changed_findings import ChangedFinding
    from hatchwright.workflow.measure import Compared, Measured

SHOWN = 20
"""Answers that change and are printed; all are in the output for programs."""


@job_command("measure", words("command.measure.help"))
@click.argument("readings", type=PATH)
@click.option("--unit", type=click.Choice(["in", "mm"]), help=words("command.measure.unit"))
@click.option("--u", default="", help=words("command.measure.u"))
@click.option("--zero", nargs=2, metavar="X Y", help=words("command.measure.zero"))
@click.option("--turn", type=float, default=0.0, metavar="DEG", help=words("command.measure.turn"))
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
    from hatchwright.workflow.measure import HowRead, compared, enter, measured_file

    how = HowRead(u, unit, zero, turn, flip, zero_u, decimal_comma)
    found = measured_file(job, readings, how, shop=shop)
    with progress_bar() as progress:
        both = compared(found, folder=job.parent, progress=progress)
    if not as_json:
        _print(found, both)
    if enters:
        enter(job, found, as_they_are=as_they_are)
        click.echo(words("command.measure.entered", n=len(found.fit.readings), job=str(job)), err=as_json)
    if as_json:
        from hatchwright.workflow.measure_values import measure_values

        put_json(measure_values(found, both, is_entered=enters))
    if found.doubts or both.faults:
        sys.exit(STOP)
    end_with(both.after or both.before, shown=not as_json)


def _print(found: Measured, both: Compared) -> None:
    from hatchwright.workflow.measure_said import HEADS, fit_said, hole_cells

    unit, fit = found.job.unit, found.fit
    for note in found.notes:
        put_text(tell(note, unit))
    put_text(tell(fit_said(found), unit))
    heads = [words(f"measure.head.{name}") for name in HEADS]
    rows = [hole_cells(one, unit) for one in fit.holes]
    put_table(heads, rows, title=words("measure.title", unit=said(f"paste.unit.{unit}")))
    for one in found.named:
        put_text(tell(one.told, unit))
    if not found.named:
        put_text(words("measure.nothing_named"))
    _print_changes(both, unit)


def _print_changes(both: Compared, unit: Unit) -> None:
    for fault in both.faults:
        put_text(words("command.measure.not_taken", fault=str(fault)))
    if both.after is None:
        return
    answers = [one for one in both.changes if one.is_of_status]
    put_text(words("command.measure.changes", n=len(answers), numbers=len(both.changes) - len(answers)))
    for one in answers[:SHOWN]:
        put_text(_change(one, unit), indent="  ")
    if len(answers) > SHOWN:
        put_text(words("command.measure.more_changes", n=len(answers) - SHOWN), indent="  ")


def _change(one: ChangedFinding, unit: Unit) -> str:
    was, now = (finding.status if finding else Status.PASS for finding in (one.old, one.new))
    told = told_text(one.shown, unit)
    return words("command.measure.change", unit, was=was, now=now, code=one.shown.code, what=told)
