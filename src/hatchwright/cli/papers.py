"""`hatchwright papers`: write the layout drawing and the work card."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from hatchwright.cli.shop_option import shop_option
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.papers import papers
from hatchwright.workflow.write_files import write_files


@click.command(name="papers")
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made when missing."
)
@click.option(
    "--paper",
    type=click.Choice(["letter", "a4", "11x17"]),
    default="letter",
    show_default=True,
    help="Paper to tile on.",
)
@shop_option
@click.option("--overwrite", is_flag=True, help="Replace files of the same name.")
def command(job: Path, out: Path, paper: str, shop: Path | None, overwrite: bool) -> None:
    """Write the layout drawing (SVG, DXF, true-size PDF) and the work card (PDF).

    The drawing carries a hole table from two datums and marks every hole that is short. Each file is read back and
    compared before it is offered.
    """
    examination = examine_file(job, shop=shop)
    files = papers(examination, stamp=datetime.now().astimezone(), paper=paper, stem=job.stem)
    for path in write_files(files, out, overwrite=overwrite):
        click.echo(path)
