"""`hatchwright survey`: what was measured at the aircraft, against itself, the job, and the other side."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.answer_table import put_table
from hatchwright.cli.frame import PATH, job_command, now, put, put_json, words
from hatchwright.cli.lines import put_text
from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.verdict_lines import STOP, say_findings
from hatchwright.judged import Status
from hatchwright.words.tell import tell

if TYPE_CHECKING:
    from collections.abc import Iterable

    from hatchwright.said import Value
    from hatchwright.units import Unit
    from hatchwright.workflow.printing import AnyPaper
    from hatchwright.workflow.site import SiteAnswer
    from hatchwright.workflow.survey_papers import MadeFile


@job_command("survey", words("command.survey.help"), needs_job=False)
@click.argument("other", type=PATH, required=False)
@click.option("--enter", "enters", is_flag=True, help=words("command.survey.enter"))
@click.option("--all", "shows_all", is_flag=True, help=words("command.survey.all"))
@click.option("--blank", "is_blank", is_flag=True, help=words("command.survey.blank"))
@paper_options(out=words("command.survey.out"), is_true_size=False)
def command(
    job: Path | None,
    other: Path | None,
    as_json: bool,
    enters: bool,
    shows_all: bool,
    is_blank: bool,
    out: Path | None,
    paper: AnyPaper,
    overwrite: bool,
    shop: Path | None,
) -> None:
    """Check a survey, find the center, and enter it; or set two surveys beside each other; or print the sheet."""
    if job is None or is_blank:
        if job is not None or not is_blank:
            raise click.UsageError(words("command.survey.job_or_blank"))
        from hatchwright.workflow.survey_papers import blank_survey

        _write([blank_survey(stamp=now(), paper=paper.plain)], out or Path(), overwrite=overwrite)
        return
    if other is not None:
        if enters:
            raise click.UsageError(words("command.survey.enter_one"))
        _beside(job, other, shop, as_json=as_json, out=out, paper=paper, overwrite=overwrite)
        return
    from hatchwright.workflow.site import enter_survey, open_survey

    if out is not None:
        from hatchwright.workflow.open_job import open_job
        from hatchwright.workflow.survey_papers import survey_papers

        layout = open_job(job, shop=shop)
        _write(
            survey_papers(layout, stamp=now(), paper=paper.plain), out, overwrite=overwrite, to_err=as_json
        )
        if layout.job.site is None:
            return
    before, text = open_survey(job, shop=shop)
    answer = before
    if enters:
        enter_survey(job, before, text)
        answer, _ = open_survey(job, shop=shop)
    if as_json:
        from hatchwright.workflow.site_values import survey_values

        put_json(
            survey_values(before, is_entered=enters)
            | {"checks": survey_values(answer, is_entered=enters)["checks"]}
        )
    else:
        _print(answer, before, shows_all=shows_all)
        if enters:
            put("command.survey.entered", n=len(before.entries) + len(before.parts), job=str(job))
        put("command.aid")
    if any(one.status.holds_back for one in answer.checks):
        sys.exit(STOP)


def _write(files: Iterable[MadeFile], out: Path, *, overwrite: bool, to_err: bool = False) -> None:
    from hatchwright.workflow.write_files import write_files

    for path in write_files(files, out, overwrite=overwrite):
        click.echo(path, err=to_err)


def _print(answer: SiteAnswer, before: SiteAnswer, *, shows_all: bool) -> None:
    from hatchwright.workflow import site_said
    from hatchwright.workflow.site import AS_SURVEYED

    unit = answer.job.unit
    if answer.asks_bay:
        put_text(words("page_site.asks_bay"))
    open_ = [one for one in answer.checks if one.status is not Status.PASS]
    waiting = [one for one in open_ if one.code == AS_SURVEYED and one.status is Status.UNKNOWN]
    say_findings((one for one in open_ if shows_all or one not in waiting), unit)
    if waiting and not shows_all:  # the table below names each
        put_text(words("survey.waiting", n=len(waiting)))
    passed = [one for one in answer.checks if one.status is Status.PASS]
    if shows_all:
        say_findings(passed, unit)
    elif passed:
        put_text(words("survey.passed", n=len(passed)))
    _table("survey.routes", site_said.ROUTE_HEADS, site_said.route_rows(answer), unit)
    for line in site_said.center_lines(answer):
        put_text(tell(line, unit))
    _table("survey.tapes", site_said.TAPE_HEADS, site_said.tape_rows(answer), unit)
    title = "survey.differences" if answer is before else "survey.differences_entered"
    _table(title, site_said.DIFFERENCE_HEADS, site_said.difference_rows(before), unit)


def _table(title: str, heads: tuple[str, ...], rows: list[tuple[Value, ...]], unit: Unit) -> None:
    if rows:
        cells = [[tell(cell, unit) for cell in row] for row in rows]
        put_table([words(f"survey.head.{head}") for head in heads], cells, title=words(title, unit))


def _beside(
    job: Path,
    other: Path,
    shop: Path | None,
    *,
    as_json: bool,
    out: Path | None,
    paper: AnyPaper,
    overwrite: bool,
) -> None:
    from hatchwright.workflow.site import both_sides, open_survey
    from hatchwright.workflow.site_said import SIDE_HEADS, side_rows

    (one, _), (there, _) = open_survey(job, shop=shop), open_survey(other, shop=shop)
    found = both_sides(one, there)
    if out is not None:
        from hatchwright.workflow.survey_papers import sides_paper

        drawn = sides_paper(one, there, stamp=now(), paper=paper.plain)
        _write([drawn], out, overwrite=overwrite, to_err=as_json)
    if as_json:
        from hatchwright.workflow.site_values import sides_values

        put_json(sides_values(one, there, found))
    elif found:
        unit = one.job.unit
        rows = side_rows(found)
        title = words("survey.sides", one=job.name, other=other.name)
        put_table(
            [words(f"survey.head.{head}") for head in SIDE_HEADS],
            [[tell(cell, unit) for cell in row] for row in rows],
            title=title,
        )
    else:
        put("survey.sides_alike")
    if not as_json:
        put("command.aid")
    if found:
        sys.exit(STOP)
