"""`hatchwright papers`: write the layout drawing and the work card."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.shop_option import shop_option
from hatchwright.cli.verdict_lines import echo_verdicts
from hatchwright.words.catalog import HOME, languages
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.papers import papers
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.write_files import write_files


@click.command(name="papers")
@click.argument("job", type=click.Path(path_type=Path))
@paper_options(out="Folder to write to; made when missing.", needs_out=True)
@click.option(
    "--card-language",
    type=click.Choice(languages()),
    default=HOME,
    show_default=True,
    help="Language of the work card; all else stays as it is.",
)
@shop_option
def command(
    job: Path, out: Path, paper: AnyPaper, shop: Path | None, overwrite: bool, card_language: str
) -> None:
    """Write the layout drawing (SVG, DXF, true-size PDF) and the work card (PDF).

    The drawing carries a hole table from two datums and marks every hole that is short. Each file is read back and
    compared before it is offered.

    A printer that is a little off: print once, measure the bars, and give what they measured. All pages of true size
    are corrected for that printer, and their bars must then measure 6.000.

    Exit status: 0 nothing to stop for, 1 written, and every sheet says DO NOT CUT, 2 input refused and nothing written.
    """
    examination = examine_file(job, shop=shop)
    stamp = datetime.now().astimezone()
    files = papers(examination, stamp=stamp, paper=paper, stem=job.stem, card_language=card_language)
    for path in write_files(files, out, overwrite=overwrite):
        click.echo(path)
    echo_verdicts(examination)
