"""`hatchwright balance`: weight and balance of the aircraft of a fleet file."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.answer_table import put_table
from hatchwright.cli.frame import PATH, now, put, put_json, shop_option, words
from hatchwright.cli.lines import put_text
from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.cli.verdict_lines import say_findings
from hatchwright.said import said
from hatchwright.words.tell import tell

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from hatchwright.airworthiness.aircraft_balance import AircraftBalance
    from hatchwright.said import Value
    from hatchwright.units import Unit
    from hatchwright.workflow.balance import Weighing
    from hatchwright.workflow.printing import AnyPaper


@click.command(name="balance", help=words("command.balance.help"))
@click.argument("fleet", metavar="FLEET", type=PATH)
@click.option("--aircraft", "registration", help=words("command.balance.aircraft"))
@click.option("--json", "as_json", is_flag=True, help=words("command.option.json"))
@paper_options(out=words("command.balance.out"), is_true_size=False)
@shop_option
def command(
    fleet: Path,
    registration: str | None,
    as_json: bool,
    out: Path | None,
    paper: AnyPaper,
    shop: Path | None,
    overwrite: bool,
) -> None:
    """Work out empty weight and CG of each aircraft before and after, and judge them."""
    from hatchwright.workflow.balance import balance_file, balance_papers
    from hatchwright.workflow.balance_values import balance_values
    from hatchwright.workflow.write_files import write_files

    with progress_bar() as progress:
        report = balance_file(fleet, registration=registration, shop=shop, progress=progress)
    if as_json:
        put_json(balance_values(report))
    for one in () if as_json else report.aircraft:
        _tell(one, report.unit)
    if out:
        files = balance_papers(report, stamp=now(), paper=paper.plain)
        for path in write_files(files, out, overwrite=overwrite):
            click.echo(path, err=as_json)
    put("command.aid", to_err=as_json)
    sys.exit(1 if report.status.holds_back else 0)


def _tell(one: Weighing, unit: Unit) -> None:
    put("command.balance.of", registration=one.registration, status=one.status)
    for side in one.planned:
        put("command.balance.planned", side=said(f"side.{side}"))
    if one.balance is None:
        put("command.balance.no_weight")
        return
    _tell_balance(one.balance, unit)


def _tell_balance(balance: AircraftBalance, unit: Unit) -> None:
    from hatchwright.airworthiness.balance_said import (
        HEADS,
        case_heads,
        case_rows,
        empty_rows,
        hinge_rows,
        lateral_said,
        negligible_said,
        part_cells,
        parts_heading,
        shift_said,
    )

    for change in balance.changes:
        _put(tell(parts_heading(change)), HEADS, map(part_cells, change.parts), unit)
    _put(words("balance.heading.aircraft"), HEADS, empty_rows(balance, unit), unit)
    for told in (shift_said(balance), *lateral_said(balance.change), negligible_said(balance)):
        put_text(tell(told, unit))
    say_findings((*balance.negligible, *balance.findings), unit)
    if balance.cases:
        cells = case_rows(balance.cases, unit)
        _put(words("balance.heading.loading"), case_heads(balance.cases), cells, unit)
    for hinge in balance.hinges:
        for what, value in hinge_rows(hinge):
            put(
                "command.balance.hinge",
                unit,
                name=hinge.name,
                side=said(f"side.{hinge.side}"),
                what=what,
                value=value,
            )


def _put(title: str, heads: Iterable[Value], rows: Iterable[Sequence[Value]], unit: Unit) -> None:
    cells = [[tell(cell, unit) for cell in row] for row in rows]
    put_table([tell(head, unit) for head in heads], cells, title=title)
