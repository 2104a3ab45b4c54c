"""`hatchwright measure`: lay what was drilled on what was drawn, and enter it in the job."""

from __future__ import annotations

import math
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
from hatchwright.said import Amount, inch, said
from hatchwright.units import Unit
from hatchwright.words.findings import told_text
from hatchwright.words.tell import tell

if TYPE_CHECKING:
    from hatchwright.inspection.best_fit import HoleFit
    from hatchwright.workflow.changed_findings import ChangedFinding
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
    unit, fit = found.job.unit, found.fit
    for note in found.notes:
        put_text(tell(note, unit))
    x, y = fit.fit.shift_effects
    turn = fit.fit.turn_effect
    put_text(
        words(
            "command.measure.fit",
            unit,
            matched=len(fit.holes),
            holes=len(fit.pattern.numbers),
            readings=len(fit.readings),
            x=inch(x.size_in),
            y=inch(y.size_in),
            u=inch(max(x.expanded_in, y.expanded_in)),
            turn=Amount(math.degrees(turn.size_in), "deg"),
            turn_u=Amount(math.degrees(turn.expanded_in), "deg"),
            scatter=inch(math.sqrt(fit.fit.mean_square_in2 / 2.0)),
        )
    )
    heads = (
        words(f"command.measure.head.{name}") for name in ("hole", "row", "off", "template", "drilling", "u")
    )
    put_table(tuple(heads), [_row(one, unit) for one in fit.holes], title=words("command.measure.title"))
    for one in found.named:
        put_text(tell(one.told, unit))
    if not found.named:
        put_text(words("command.measure.nothing_named"))
    _print_changes(both, unit)


def _row(one: HoleFit, unit: Unit) -> tuple[str, ...]:
    pairs = (
        tell(said("command.measure.pair", x=inch(x), y=inch(y)), unit, how="b") for x, y in _vectors(one)
    )
    u = tell(inch(one.drilling_u_in), unit, how="b")
    mark = words("command.measure.apart", u=u) if one.is_apart else u
    return str(one.number), str(one.reading.row), *pairs, mark


def _vectors(one: HoleFit) -> tuple[tuple[float, float], ...]:
    return one.off_in, one.template_in, one.drilling_in


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
