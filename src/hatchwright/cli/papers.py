"""`hatchwright papers`: write the layout drawing and the work card."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.frame import job_command, now, put, words
from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.cli.verdict_lines import end_with
from hatchwright.progress import stretches
from hatchwright.words.catalog import HOME, languages
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.papers import papers
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.write_files import write_files

MANY_SHEETS = 100
"""So many sheets are told before they are drawn, which takes a while. Own choice, no source [-]."""


@job_command("papers", words("command.papers.help"), json_help="")
@paper_options(out=words("command.option.out"), needs_out=True)
@click.option(
    "--card-language",
    type=click.Choice(languages()),
    default=HOME,
    show_default=True,
    help=words("command.option.card_language"),
)
def command(
    job: Path, out: Path, paper: AnyPaper, shop: Path | None, overwrite: bool, card_language: str
) -> None:
    """Write the layout drawing (SVG, DXF, true-size PDF) and the work card (PDF)."""
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
            card_language=card_language,
            told=told,
            progress=making,
        )
    for path in write_files(files, out, overwrite=overwrite):
        click.echo(path)
    end_with(*examination.sides)
