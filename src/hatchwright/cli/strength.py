"""`hatchwright strength`: work out margins of the opened and reinforced skin."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.answer_table import answer_table
from hatchwright.cli.shop_option import shop_option
from hatchwright.errors import EntryError
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.words.amounts import four_figures
from hatchwright.words.findings import advice_text, subject_text
from hatchwright.words.tell import tell

if TYPE_CHECKING:
    from rich.console import Console

    from hatchwright.search.strength_answer import StrengthAnswer
    from hatchwright.strength.margin import Margin


@click.command(name="strength")
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print for programs (docs/strength-json.md).")
@click.option(
    "--all", "show_all", is_flag=True, help="Show every margin and its working, not the lowest only."
)
@click.option("--missing", default="", metavar="NUMBERS", help="Rivets that are left out, such as 4,17.")
@click.option("--hand-only", is_flag=True, help="Hand methods only, without finite elements.")
@click.option(
    "--cover-carries",
    is_flag=True,
    help="Let the cover carry load in the finite elements, as loads.cover.carries.",
)
@shop_option
@click.option("--other-side", is_flag=True, help="Analyse the mirrored job of the other side.")
@click.option(
    "--out", type=click.Path(path_type=Path), help="Folder for the report (PDF) and its pictures (SVG)."
)
@click.option(
    "--paper", type=click.Choice(["letter", "a4"]), default="letter", show_default=True, help="Paper."
)
@click.option("--overwrite", is_flag=True, help="Replace files of the same name.")
def command(
    job: Path,
    as_json: bool,
    show_all: bool,
    missing: str,
    hand_only: bool,
    cover_carries: bool,
    shop: Path | None,
    other_side: bool,
    out: Path | None,
    paper: str,
    overwrite: bool,
) -> None:
    """Work out margins of the opened and reinforced skin.

    The questions that send a job to an engineer come first. Margins stand at ultimate load and at limit load against
    yield, the worst first, each with the source and grade of every number behind it. The loads are chosen in the
    job file: known running loads, the strength of the metal removed, or none; without loads nothing is said about
    strength.

    Exit status: 0 nothing to stop for, 1 something to stop for, 2 input refused.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small blocks: threads only get in each other's way
    from hatchwright.strength.report import Elements
    from hatchwright.workflow.strength import analyze_strength, strength_values

    elements = None if hand_only else Elements(missing=_numbers(missing))
    answer = analyze_strength(
        job, other_side=other_side, elements=elements, shop=shop, cover_carries=cover_carries
    )
    if as_json:
        click.echo(json.dumps(strength_values(answer), indent=2, ensure_ascii=False))
    else:
        _print(answer, show_all=show_all)
    if out is not None:
        from hatchwright.workflow.strength_papers import strength_papers
        from hatchwright.workflow.write_files import write_files

        files = strength_papers(answer, stamp=datetime.now().astimezone(), paper=paper, stem=job.stem)
        for path in write_files(files, out, overwrite=overwrite):
            click.echo(path, err=as_json)
    sys.exit(1 if answer.report.must_stop else 0)


def _numbers(text: str) -> tuple[int, ...]:
    parts = [part.strip() for part in text.split(",") if part.strip()]
    for part in parts:
        if not (part.isascii() and part.isdigit()):
            raise EntryError(
                f"'{part}' is not the number of a rivet", where="--missing", remedy="Write it as 4,17"
            )
    return tuple(int(part) for part in parts)


def _print(found: StrengthAnswer, *, show_all: bool) -> None:
    from rich.console import Console

    console = Console(highlight=False, markup=False)
    job, report = found.job, found.report
    console.print(job.title)
    console.print(
        f"{job.aircraft.registration or 'aircraft not named'}, {job.aircraft.side.upper()} side, "
        f"{job.aircraft.surface} skin, revision {job.revision}"
    )
    console.print("Before anything else:")
    for answer in report.gate:
        console.print(f"  {tell(answer.status)} {answer.code} {answer.subject}. {answer.advice}".rstrip())
    console.print(f"Loads: {report.basis}. {report.summary}")
    if report.must_refer:
        console.print("The gate sends this job to an engineer.")
    for line in report.inputs:
        console.print(f"  {line}")
    _margins(console, report.margins, show_all=show_all)
    _findings(console, "Compared and screened", report.findings, show_all=show_all)
    for summary in report.summaries:
        console.print(f"Finite elements, ultimate load, {summary.case}:")
        for heading, words in summary.lines:
            console.print(f"  {heading}: {words}")
    for title, lines in (("Assumed", report.assumptions), ("Not analysed", report.not_analyzed)):
        if lines:
            console.print(f"{title}: {'; '.join(lines)}.")
    console.print("Calculation aid: not approved data.")


def _margins(console: Console, margins: tuple[Margin, ...], *, show_all: bool) -> None:
    from hatchwright.strength.margin import leading
    from hatchwright.strength.margin_words import margin_words

    if not margins:
        return
    shown = margins if show_all else leading(margins)
    rows = (
        (
            tell(margin.status),
            margin.code,
            margin_words(margin.ratio),
            "\n".join(_margin_lines(margin, show_all=show_all)),
        )
        for margin in shown
    )
    title = f"Margins of safety, the worst first ({len(shown)} of {len(margins)})"
    console.print(
        answer_table(("", "Check", "MS", "What, its load and what it may carry"), rows, title=title)
    )


def _margin_lines(margin: Margin, *, show_all: bool) -> Iterator[str]:
    """What is said of a margin, line by line."""
    yield margin.subject
    yield f"{margin.case}, {margin.level}"
    amounts = [
        f"{word} {four_figures(worked.value, worked.unit)}"
        for word, worked in (("Applied", margin.applied), ("may carry", margin.allowable))
        if worked
    ]
    if amounts:
        yield f"{', '.join(amounts)}."
    if margin.advice:
        yield margin.advice
    yield f"[{margin.grade}]"
    if show_all:
        yield from map(str, margin.working)
    elif margin.from_memory and margin.ratio is not None:
        yield f"From memory: {'; '.join(step.result.symbol for step in margin.from_memory)}."


def _findings(console: Console, title: str, findings: tuple[Finding, ...], *, show_all: bool) -> None:
    shown = [finding for finding in findings if show_all or finding.status is not Status.PASS]
    if not shown:
        return
    rows = (
        (tell(finding.status), finding.code, "\n".join(_finding_lines(finding, show_all=show_all)))
        for finding in sorted(shown, key=lambda finding: finding.status.severity)
    )
    console.print(answer_table(("", "Check", "What, its value and limit, and what to do"), rows, title=title))


def _finding_lines(finding: Finding, *, show_all: bool) -> Iterator[str]:
    yield subject_text(finding, "in")
    amounts = [
        f"{word} {four_figures(value, finding.unit)}"
        for word, value in (("Is", finding.value), ("limit", finding.limit))
        if value is not None
    ]
    if amounts:
        yield f"{', '.join(amounts)}."
    if advice := advice_text(finding, "in"):
        yield advice
    yield f"[{finding.source}; {finding.grade}]"
    if show_all:
        yield from map(str, finding.working)
