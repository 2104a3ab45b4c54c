"""`hatchwright papers`: write the papers of a job, all that is usual or those that are named."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.frame import job_command, now, put, words
from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.cli.verdict_lines import end_with
from hatchwright.progress import stretches
from hatchwright.said import Listed
from hatchwright.words.catalog import HOME, languages
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.paper_kinds import NAMES
from hatchwright.workflow.papers import papers
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.recorded_now import recorded_now
from hatchwright.workflow.write_files import write_files

MANY_SHEETS = 100
"""So many sheets are told before they are drawn, which takes a while. Own choice, no source [-]."""


def _named(context: click.Context, option: click.Parameter, typed: str) -> tuple[str, ...]:
    """The papers that are asked for."""
    names = tuple(name.strip().lower() for name in typed.split(",") if name.strip())
    for name in names:
        if name not in NAMES:
            raise click.BadParameter(words("command.only.unknown", name=name, names=Listed(NAMES, ",")))
    return names


@job_command("papers", words("command.papers.help"), json_help="")
@paper_options(out=words("command.option.out"), needs_out=True)
@click.option(
    "--only", default="", callback=_named, help=words("command.option.only", names=Listed(NAMES, ","))
)
@click.option(
    "--card-language",
    type=click.Choice(languages()),
    default=HOME,
    show_default=True,
    help=words("command.option.card_language"),
)
def command(
    job: Path,
    out: Path,
    paper: AnyPaper,
    shop: Path | None,
    overwrite: bool,
    only: tuple[str, ...],
    card_language: str,
) -> None:
    """Write the papers of a job."""
    stamp = now()

    def told(count: int) -> None:
        if count > MANY_SHEETS:
            put("command.papers.sheets", n=count, paper=paper.plain.words, to_err=True)

    with progress_bar() as progress:
        judging, making = stretches(progress, 1.0, 3.0)
        examination = examine_file(job, shop=shop, progress=judging)
        files = papers(
            examination,
            stamp=stamp,
            paper=paper,
            stem=job.stem,
            only=only,
            card_language=card_language,
            recorded=recorded_now(examination, job.parent, job.name, on=stamp.date()),
            in_one=True,
            told=told,
            progress=making,
        )
    for path in write_files(files, out, overwrite=overwrite):
        click.echo(path)
    end_with(*examination.sides)
