"""`hatchwright template`: write the guide template for the cutter in hand."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.template_files import template_files
from hatchwright.workflow.write_files import write_files


@click.command(name="template")
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
@click.option("--overwrite", is_flag=True, help="Replace files of the same name.")
def command(job: Path, out: Path, paper: str, overwrite: bool) -> None:
    """Write the guide template for the cutter in hand, as SVG, DXF and true-size PDF.

    The template allows for the cutter's own guide offset and for the metal left to be filed. Prove it on scrap of the
    same alloy and thickness before it is laid on the aircraft. A template that would cut metal beyond the line is
    refused, and nothing is written.
    """
    examination = examine_file(job)
    files = template_files(examination, stamp=datetime.now().astimezone(), paper=paper, stem=job.stem)
    for path in write_files(files, out, overwrite=overwrite):
        click.echo(path)
