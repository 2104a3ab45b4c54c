"""`hatchwright papers`: write the layout drawing and the work card."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.shop_option import shop_option
from hatchwright.cli.verdict_lines import echo_verdicts
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.papers import papers
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.write_files import write_files


@click.command(name="papers")
@click.argument("job", type=click.Path(path_type=Path))
@paper_options(out="Folder to write to; made when missing.", needs_out=True)
@shop_option
def command(job: Path, out: Path, paper: AnyPaper, shop: Path | None, overwrite: bool) -> None:
    """Write the layout drawing (SVG, DXF, true-size PDF) and the work card (PDF).

    The drawing carries a hole table from two datums and marks every hole that is short. Each file is read back and
    compared before it is offered.

    A printer that is a little off: print once, measure the bars, and give what they measured. All pages of true size
    are corrected for that printer, and their bars must then measure 6.000.

    Exit status: 0 nothing to stop for, 1 written, and every sheet says DO NOT CUT, 2 input refused and nothing written.
    """
    examination = examine_file(job, shop=shop)
    files = papers(examination, stamp=datetime.now().astimezone(), paper=paper, stem=job.stem)
    for path in write_files(files, out, overwrite=overwrite):
        click.echo(path)
    echo_verdicts(examination)
