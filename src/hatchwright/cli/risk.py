"""`hatchwright risk`: the chance that holes end short, by the shop's own scatter."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.answer_table import put_table
from hatchwright.cli.frame import PATH, job_command, put, put_json, words
from hatchwright.cli.lines import put_text
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.words.tell import tell

if TYPE_CHECKING:
    from collections.abc import Iterable

    from hatchwright.said import Said, Value
    from hatchwright.search.risk.values import Risk
    from hatchwright.units import Unit
    from hatchwright.workflow.risk import RiskReport

SHOWN = 16
"""Holes that are printed, the likeliest first; `--json` has all."""

_REFUSED = 2


@job_command("risk", words("command.risk.help"), json_help=words("command.risk.json"))
@click.option("--trials", type=int, default=1_000_000, show_default=True, help=words("command.risk.trials"))
@click.option("--no-trials", is_flag=True, help=words("command.risk.no_trials"))
@click.option("--seed", type=int, default=1, show_default=True, help=words("command.risk.seed"))
@click.option("--readings", type=PATH, multiple=True, metavar="FILE", help=words("command.risk.readings"))
@click.option("--enter", "enters", is_flag=True, help=words("command.risk.enter"))
def command(
    job: Path,
    as_json: bool,
    trials: int,
    no_trials: bool,
    seed: int,
    readings: tuple[Path, ...],
    enters: bool,
    shop: Path | None,
) -> None:
    """Find the chance that each hole, each rule and the job ends short."""
    from hatchwright.workflow.risk import enter_scatter, risk_file

    if enters and not readings:
        raise click.UsageError(words("command.risk.nothing_to_enter"))
    with progress_bar() as progress:
        report = risk_file(
            job,
            trials=None if no_trials else trials,
            seed=seed,
            readings=readings,
            shop=shop,
            progress=progress,
        )
    if enters and report.found:
        enter_scatter(job, report)
    if as_json:
        from hatchwright.workflow.risk_values import risk_values

        put_json(risk_values(report))
    else:
        _print(report, is_read=bool(readings))
    if enters and report.found:
        click.echo(words("command.risk.entered", job=str(job)), err=as_json)
    if report.risk is None:
        sys.exit(_REFUSED)


def _print(report: RiskReport, *, is_read: bool) -> None:
    from hatchwright.workflow.risk_said import WHAT_TO_MEASURE, beside_said, found_said, head_said

    unit = report.layout.job.unit
    if is_read:
        put("command.risk.readings_say" if report.found else "risk.found_none")
        for one in report.found:
            put_text(tell(found_said(one), unit), indent="  ")
        for file in report.silent if report.found else ():
            put("risk.silent", file=file)
    if report.risk is None:
        put_text(words("risk.none"))
        for told in WHAT_TO_MEASURE:
            put_text(tell(told, unit), indent="  ")
        return
    for told in head_said(report.risk):
        put_text(tell(told, unit))
    _put_what_to_do(report.risk, unit)
    _put_behind(report.risk, unit)
    put("command.risk.beside")
    for told in beside_said(report):
        put_text(tell(told, unit), indent="  ")
    put("command.aid")


def _put_what_to_do(risk: Risk, unit: Unit) -> None:
    """What to tighten, and which holes to watch."""
    from hatchwright.workflow.risk_said import HOLE_HEADS, gains_said, hole_cells, holes_shown, others_said

    if risk.gains:
        put("command.risk.gains")
    for told in gains_said(risk):
        put_text(tell(told, unit), indent="  ")
    shown = holes_shown(risk)[:SHOWN]
    title = words("command.risk.holes", shown=len(shown), of=len(risk.holes))
    _put_rows(title, HOLE_HEADS, map(hole_cells, shown), others_said(risk), unit)


def _put_behind(risk: Risk, unit: Unit) -> None:
    """The same by who leads, and by rules."""
    from hatchwright.workflow.risk_said import (
        RULE_HEADS,
        orders_said,
        other_rules_said,
        rule_cells,
        rules_shown,
    )

    if risk.orders:
        put("command.risk.orders")
    for told in orders_said(risk):
        put_text(tell(told, unit), indent="  ")
    rows = map(rule_cells, rules_shown(risk))
    _put_rows(words("command.risk.rules"), RULE_HEADS, rows, other_rules_said(risk), unit)


def _put_rows(
    title: str, heads: Iterable[Said], rows: Iterable[Iterable[Value]], others: Said | None, unit: Unit
) -> None:
    """A table, and below it what has no row of its own."""
    cells = [[tell(cell, unit) for cell in row] for row in rows]
    if cells:
        put_table([tell(head, unit) for head in heads], cells, title=title)
    if others:
        put_text(tell(others, unit))
