"""`hatchwright strength`: work out margins of the opened and reinforced skin."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.answer_table import put_table
from hatchwright.cli.frame import PATH, job_command, now, overwrite_option, put, put_json, words
from hatchwright.cli.lines import put_text
from hatchwright.cli.paper_options import paper_option
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.cli.verdict_lines import end_with
from hatchwright.errors import EntryError
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.progress import stretches
from hatchwright.said import Amount, Listed, Value, said
from hatchwright.units import Unit
from hatchwright.words.findings import advice_text
from hatchwright.words.tell import tell, tell_all
from hatchwright.words.verdict import headline, other_side_said
from hatchwright.words.workings import working_text

_MOST_DIGITS = 5
"""No rivet has a longer number [-]."""

if TYPE_CHECKING:
    from hatchwright.search.strength_answer import StrengthAnswer
    from hatchwright.strength.evidence import Evidence
    from hatchwright.strength.margin import Margin


@job_command("strength", words("command.strength.help"), json_help=words("command.strength.json"))
@click.option("--all", "show_all", is_flag=True, help=words("command.strength.all"))
@click.option("--missing", default="", metavar="NUMBERS", help=words("command.strength.missing"))
@click.option("--hand-only", is_flag=True, help=words("command.strength.hand_only"))
@click.option("--cover-carries", is_flag=True, help=words("command.strength.cover_carries"))
@click.option("--other-side", is_flag=True, help=words("command.strength.other_side"))
@click.option("--out", type=PATH, help=words("command.strength.out"))
@paper_option("letter", "a4")
@overwrite_option
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
    """Work out margins of the opened and reinforced skin."""
    from hatchwright.strength.report import Elements
    from hatchwright.workflow.examine import examine_with
    from hatchwright.workflow.report import verdicts_values
    from hatchwright.workflow.strength import analyze_strength, strength_values

    with progress_bar() as progress:
        analyzing, judging = stretches(progress, 1.0, 2.0)
        answer = analyze_strength(
            job,
            other_side=other_side,
            elements=None if hand_only else Elements(progress=analyzing),
            shop=shop,
            cover_carries=cover_carries,
            missing=_numbers(missing),
        )
        examination = examine_with(answer.layout, answer.report, progress=judging)
        other = examination.other
    verdict = examination.verdict
    if as_json:
        put_json({**strength_values(answer), "verdicts": verdicts_values(examination)})
    else:
        put("command.strength.verdict", verdict=headline(verdict), mark=verdict.mark)
        if other:
            click.echo(tell(other_side_said(other.verdict)))
        _print(answer, show_all=show_all)
    if out is not None:
        from hatchwright.workflow.strength_papers import strength_papers
        from hatchwright.workflow.write_files import write_files

        with progress_bar() as progress:
            files = strength_papers(answer, stamp=now(), paper=paper, stem=job.stem, progress=progress)
        for path in write_files(files, out, overwrite=overwrite):
            click.echo(path, err=as_json)
    end_with(examination, shown=False)


def _numbers(text: str) -> tuple[int, ...]:
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if wrong := [
        part for part in parts if not (part.isascii() and part.isdigit() and len(part) <= _MOST_DIGITS)
    ]:
        raise EntryError.saying("command.strength.not_a_number", where="--missing", part=wrong[0][:40])
    return tuple(map(int, parts))


def _print(found: StrengthAnswer, *, show_all: bool) -> None:
    job, report = found.job, found.report

    def put(id: str, **values: Value) -> None:
        put_text(tell(said(id, **values), job.unit))

    craft = job.aircraft
    put_text(job.title)
    where: dict[str, Value] = {"side": craft.side.upper(), "surface": craft.surface, "revision": job.revision}
    id = "command.aircraft" if craft.registration else "command.aircraft_not_named"
    put(id, registration=craft.registration, **where)
    put("screen.gate")
    for answer in report.gate:
        told = f"{tell(answer.subject, job.unit)}. {advice_text(answer, job.unit)}".rstrip()
        put_text(f"{tell(answer.status)} {answer.code} {told}", indent="  ")
    put_text(f"{tell(said('screen.loads', basis=report.basis_said))} {tell_all(report.summary, job.unit)}")
    if report.must_refer:
        put("gate.sends_to_an_engineer")
    for line in report.inputs:
        put_text(tell(line, job.unit), indent="  ")
    _margins(report.margins, show_all=show_all, unit=job.unit)
    _evidence(report.evidence, unit=job.unit)
    _findings(report.findings, show_all=show_all, unit=job.unit)
    for summary in report.summaries:
        put("screen.elements", case=summary.case)
        for heading, line in summary.lines:
            put_text(f"{tell(heading, job.unit)}: {tell(line, job.unit)}", indent="  ")
    last = (
        ("screen.inspection", report.inspection),
        ("screen.assumed", report.assumptions),
        ("screen.not_analyzed", report.not_analyzed),
    )
    for title, lines in last:
        if lines:
            put(title)
            for line in lines:
                put_text(tell(line, job.unit), indent="  ")
    put("strength.aid")


def _margins(margins: tuple[Margin, ...], *, show_all: bool, unit: Unit) -> None:
    from hatchwright.strength.margin import leading, margin_words

    if not margins:
        return
    shown = margins if show_all else leading(margins)
    rows = []
    for margin in shown:
        what = "\n".join(_margin_lines(margin, show_all=show_all, unit=unit))
        rows.append((tell(margin.status), margin.code, margin_words(margin.ratio), what))
    title = tell(said("screen.margins", shown=len(shown), of=len(margins)))
    headings = ("", *(tell(said(id)) for id in ("command.check", "report.margin", "command.margin_what")))
    put_table(headings, rows, title=title)


def _evidence(evidence: Evidence, *, unit: Unit) -> None:
    from hatchwright.strength.evidence_told import HEADINGS, cells

    if not evidence.rows:
        return
    part, *paths, why = HEADINGS
    rows = []
    for one in map(cells, evidence.rows):
        told = zip(paths, (one.circular, one.hand, one.elements, one.bay), strict=True)
        lines = [f"{tell(heading)}: {tell(cell, unit)}" for heading, cell in told]
        lines.append(f"{tell(one.agreement)}: {tell(one.why, unit)}")
        rows.append((tell(one.part, unit), "\n".join(lines)))
    headings = tell(part), tell(why)
    put_table(headings, rows, title=tell(said("evidence.title")))
    for line in evidence.told:
        put_text(tell(line, unit), indent="  ")


def _margin_lines(margin: Margin, *, show_all: bool, unit: Unit) -> Iterator[str]:
    """What is said of a margin, line by line."""
    yield tell(margin.subject, unit)
    yield tell(said("margin.case", case=margin.case, level=margin.level), unit)
    applied, allowable = (
        None if worked is None else Amount(worked.value, worked.unit)
        for worked in (margin.applied, margin.allowable)
    )
    if applied and allowable:
        yield tell(said("margin.applied_and_allowable", applied=applied, allowable=allowable), unit)
    elif applied:
        yield tell(said("margin.applied", applied=applied), unit)
    if margin.what_to_do:
        yield tell_all(margin.what_to_do, unit)
    yield f"[{tell(margin.grade)}]"
    if show_all:
        yield from (working_text(step, unit) for step in margin.working)
    elif margin.from_memory and margin.ratio is not None:
        symbols = Listed(tuple(step.result.symbol for step in margin.from_memory), ",")
        yield tell(said("margin.from_memory", symbols=symbols), unit)


def _findings(findings: tuple[Finding, ...], *, show_all: bool, unit: Unit) -> None:
    shown = [finding for finding in findings if show_all or finding.status is not Status.PASS]
    if not shown:
        return
    rows = (
        (tell(finding.status), finding.code, "\n".join(_finding_lines(finding, show_all=show_all, unit=unit)))
        for finding in sorted(shown, key=lambda finding: finding.status.severity)
    )
    headings = ("", *(tell(said(id)) for id in ("command.check", "command.finding_what")))
    put_table(headings, rows, title=tell(said("screen.compared")))


def _finding_lines(finding: Finding, *, show_all: bool, unit: Unit) -> Iterator[str]:
    yield tell(finding.subject, unit)
    if finding.value is not None:
        value = Amount(finding.value, finding.unit, beside=finding.limit)
        limit = Amount(finding.limit or 0.0, finding.unit, beside=finding.value)
        id = "command.is" if finding.limit is None else "command.is_and_limit"
        yield tell(said(id, value=value, limit=limit), unit)
    if advice := advice_text(finding, unit):
        yield advice
    yield f"[{finding.source}; {tell(finding.grade)}]"
    if show_all:
        yield from (working_text(step, unit) for step in finding.working)
