"""`hatchwright check`: judge a job by every rule, by its making and by its strength."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from hatchwright.cli.frame import job_command, put_json, words
from hatchwright.cli.lines import line_width, put_text, wrapped
from hatchwright.cli.verdict_lines import end_with, verdict_lines
from hatchwright.finding import Finding
from hatchwright.job.schema import older_depths
from hatchwright.job.text_file import load_text
from hatchwright.remedy import told_for
from hatchwright.said import Listed, Said, said
from hatchwright.units import Unit
from hatchwright.words.findings import advice_text, number_said
from hatchwright.words.shortened import shortened
from hatchwright.words.tell import tell
from hatchwright.words.workings import working_text
from hatchwright.workflow.examine import Examination, examine_file
from hatchwright.workflow.template_said import template_said


@job_command("check", words("command.check.help"), json_help=words("command.check.json"))
@click.option("--more", is_flag=True, help=words("command.check.more"))
@click.option("--all", "show_all", is_flag=True, help=words("command.check.all"))
@click.option("--other-side", is_flag=True, help=words("command.check.other_side"))
def command(
    job: Path, as_json: bool, more: bool, show_all: bool, other_side: bool, shop: Path | None
) -> None:
    """Judge a job: rules, making, and strength where loads are entered, in one verdict."""
    examination = examine_file(job, other_side=other_side, shop=shop)
    if as_json:
        from hatchwright.workflow.report import report

        put_json(report(examination))
    else:
        if older := older_depths(load_text(job)):
            put_text(tell(older))
        for line in _lines(examination, more=more, show_all=show_all):
            click.echo(line)
    end_with(examination, shown=False)


def _lines(examination: Examination, *, more: bool, show_all: bool) -> Iterator[str]:
    job, craft, unit = examination.job, examination.job.aircraft, examination.job.unit
    width = line_width()
    head = said(
        "check.head",
        title=job.title,
        registration=craft.registration or said("check.no_registration"),
        side=said(f"side.{craft.side}"),
        surface=craft.surface,
        revision=job.revision,
    )
    yield from wrapped(tell(head), width)
    if examination.layout.shop:
        told = tell(said("check.shop", rows=examination.layout.shop.words))
        yield from wrapped(told, width)
    other = examination.other.verdict if examination.other else None
    tried = examination.remedies if more or show_all else ()  # a second's work, for what is shown alone
    yield from verdict_lines(
        examination.verdict, unit, width=width, more=more or show_all, other=other, tried=tried
    )
    if show_all:
        shown, rest = shortened(examination.worst_first())
        for finding in shown:
            yield from _in_full(finding, told_for(finding, tried), unit)
        if rest:
            yield ""
            yield from wrapped(tell(rest, unit), width)
    if told_of_template := template_said(examination):
        yield from wrapped(tell(told_of_template, unit), width)
    not_checked = said("verdict.not_checked", what=Listed(tuple(examination.not_checked()), ";"))
    yield from wrapped(tell(not_checked, unit), width)
    yield from wrapped(tell(said("check.aid", mark=examination.verdict.mark)), width)


def _in_full(finding: Finding, remedy: Said | None, unit: Unit) -> Iterator[str]:
    """One answer with its number, its limit, its source and its working."""
    yield f"\n{tell(finding.status)}  {finding.code}  {tell(finding.subject, unit)}"
    if told := number_said(finding):
        yield f"    {tell(told, unit)}"
    if advice := advice_text(finding, unit, remedy=remedy):
        yield f"    {advice}"
    yield f"    [{finding.source}; {tell(finding.grade)}]"
    for working in finding.working:
        yield f"    {working_text(working, unit)}"
