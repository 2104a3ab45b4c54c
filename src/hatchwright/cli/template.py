"""`hatchwright template`: write the guide template for the cutter in hand."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from hatchwright.cli.shop_option import shop_option
from hatchwright.errors import EntryError
from hatchwright.units import parse_length
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
@click.option("--bar-across", help="What the 6.000 in bar across this template's full-size page measured.")
@click.option("--bar-up", help="What the 6.000 in bar up that page measured; give both, or neither.")
@click.option(
    "--printable", is_flag=True, help="Write a 3MF file for a 3D printer too; prove its size on the print."
)
@shop_option
@click.option("--overwrite", is_flag=True, help="Replace files of the same name.")
def command(
    job: Path,
    out: Path,
    paper: str,
    bar_across: str | None,
    bar_up: str | None,
    printable: bool,
    shop: Path | None,
    overwrite: bool,
) -> None:
    """Write the guide template for the cutter in hand, as SVG, DXF and true-size PDF.

    The template allows for the cutter's own guide offset and for the metal left to be filed. Prove it on scrap of the
    same alloy and thickness before it is laid on the aircraft. A template that would cut metal beyond the line is
    refused, and nothing is written.

    A printer that is a little off: print once, measure the bars, and give what they measured. The pages are corrected
    for that printer, and their bars must then measure 6.000.
    """
    bars_in = _bars_in(bar_across, bar_up)
    examination = examine_file(job, shop=shop)
    files = template_files(
        examination,
        stamp=datetime.now().astimezone(),
        paper=paper,
        stem=job.stem,
        bars_in=bars_in,
        printable=printable,
    )
    for path in write_files(files, out, overwrite=overwrite):
        click.echo(path)


def _bars_in(across: str | None, up: str | None) -> tuple[float, float] | None:
    if across is None and up is None:
        return None
    measured = []
    for name, text in (("--bar-across", across), ("--bar-up", up)):
        if text is None:
            raise EntryError("only one bar is given", where=name, remedy="Measure both bars and give both")
        try:
            measured.append(parse_length(text).inch)
        except EntryError as error:
            raise EntryError(error.what, where=name, remedy=error.remedy) from None
    return measured[0], measured[1]
