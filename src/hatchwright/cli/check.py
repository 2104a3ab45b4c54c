"""`hatchwright check`: judge a job by every rule."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from hatchwright.cli.say_findings import IN_INCHES
from hatchwright.cli.shop_option import shop_option
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.units import MM_PER_IN, Unit, decimal_inch, places_to_tell
from hatchwright.words.amounts import four_figures
from hatchwright.words.findings import advice_text, subject_text
from hatchwright.words.tell import tell
from hatchwright.words.workings import working_text
from hatchwright.workflow.examine import NOT_CHECKED, Examination, examine_file
from hatchwright.workflow.report import report

_COLUMNS = ("", "Rule", "Is", "Limit", "What, and what to do")


@click.command(name="check")
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--json", "as_json", is_flag=True, help="Print for programs instead of people (docs/check-json.md)."
)
@click.option(
    "--all", "show_all", is_flag=True, help="Show what passes too, and the working of every answer."
)
@click.option("--other-side", is_flag=True, help="Check the mirrored job of the other side.")
@shop_option
def command(job: Path, as_json: bool, show_all: bool, other_side: bool, shop: Path | None) -> None:
    """Judge a job by every rule.

    Each answer names the hole, the value, the limit, by how much it is short, the document and paragraph of the limit,
    and a remedy. Where documents differ, both readings are shown. A measured value passes only by more than its
    uncertainty.

    Exit status: 0 nothing to stop for, 1 findings to stop for, 2 input refused.
    """
    examination = examine_file(job, other_side=other_side, shop=shop)
    if as_json:
        click.echo(json.dumps(report(examination), indent=2, ensure_ascii=False))
    else:
        _print(examination, show_all=show_all)
    sys.exit(1 if examination.must_stop else 0)


def _print(examination: Examination, *, show_all: bool) -> None:
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    console = Console(highlight=False, markup=False)
    job, craft = examination.job, examination.job.aircraft
    console.print(Text(job.title, style="bold"))
    named = craft.registration or "aircraft not named"
    console.print(f"{named}, {craft.side.upper()} side, {craft.surface} skin, revision {job.revision}")
    if examination.layout.shop:
        console.print(f"The shop's own rows: {examination.layout.shop.words}.")
    table = Table(show_lines=True, expand=True)
    for heading in _COLUMNS:
        is_words = heading == _COLUMNS[-1]
        table.add_column(heading, ratio=1 if is_words else None, no_wrap=not is_words)
    for finding in examination.worst_first():
        if show_all or finding.status is not Status.PASS:
            table.add_row(*(Text(cell) for cell in _cells(finding, show_all=show_all, unit=job.unit)))
    if table.row_count:
        console.print(table)
    counted = examination.count()
    console.print(", ".join(f"{counted[status]} {tell(status)}" for status in Status))
    console.print(f"Not checked: {'; '.join(NOT_CHECKED)}.")
    if job.units == "mm":
        console.print(IN_INCHES)
    console.print("Calculation aid: not approved data.")


def _cells(finding: Finding, *, show_all: bool, unit: Unit) -> tuple[str, ...]:
    said = [subject_text(finding, unit), advice_text(finding, unit), f"[{finding.source}; {finding.grade}]"]
    if finding.readings and finding.status is not Status.PASS:
        said.append(f"Readings: {'; '.join(finding.readings)}")
    if show_all:
        said += [working_text(working, unit) for working in finding.working]
    return (
        tell(finding.status),
        finding.code,
        _number(finding.value, finding.unit, unit, finding.limit),
        _number(finding.limit, finding.unit, unit, finding.value),
        "\n".join(line for line in said if line),
    )


def _number(value: float | None, unit: str, job_unit: str, beside: float | None) -> str:
    """A length in the job's unit, with as many places as tell value and limit apart; what is said in words stays in
    inches, the unit of the documents."""
    if value is None:
        return ""
    if unit != "in":
        return four_figures(value, unit)
    scale, places = (1.0, 3) if job_unit == "in" else (MM_PER_IN, 2)
    shown = value * scale
    places = places_to_tell(shown, None if beside is None else beside * scale, places)
    return f"{decimal_inch(shown, places)} in" if job_unit == "in" else f"{shown:.{places}f} mm"
