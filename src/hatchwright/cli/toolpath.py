"""`hatchwright toolpath`: write the machine files that make the guide template."""

from __future__ import annotations

import json
import sys
from datetime import datetime
from pathlib import Path

import click

from hatchwright.cli.shop_option import shop_option
from hatchwright.cli.verdict_lines import echo_verdicts
from hatchwright.job.machine import load_machine
from hatchwright.units import length_words
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.template_files import template_stops
from hatchwright.workflow.toolpath import (
    NOT_ENGRAVED,
    deepest_in,
    feed_minutes,
    machine_files,
    toolpath_values,
)
from hatchwright.workflow.write_files import write_files


@click.command(name="toolpath")
@click.argument("job", type=click.Path(path_type=Path))
@click.option(
    "--machine",
    type=click.Path(path_type=Path),
    required=True,
    help="Machine file: travel, tools, clamps (docs/machine-file.md).",
)
@click.option(
    "--out", type=click.Path(path_type=Path), required=True, help="Folder to write to; made when missing."
)
@click.option("--json", "as_json", is_flag=True, help="Print for programs instead of people.")
@shop_option
@click.option("--overwrite", is_flag=True, help="Replace files of the same name.")
def command(job: Path, machine: Path, out: Path, as_json: bool, shop: Path | None, overwrite: bool) -> None:
    """Write the machine files (RS-274/NGC) that make the guide template on the shop's machine.

    One tool a file: holes first, then what is engraved, the window, the outline last. Each file is traced back word by
    word and compared with the template. A path that would leave the blank or the travel, meet a clamp, or go through
    the spoil board is refused, and nothing is written. Run every file once in the air before it cuts.

    What stops the work is printed below the names of the files, and stands at the top of each of them.

    Exit status: 0 nothing to stop for, 1 written with something to stop for, 2 input refused and nothing written.
    """
    used, examination = load_machine(machine), examine_file(job, shop=shop)
    files = machine_files(
        examination, used, stamp=datetime.now().astimezone(), stem=job.stem, name=machine.name
    )
    stops = template_stops(examination)
    written = write_files({file.name: file.text.encode("ascii") for file in files}, out, overwrite=overwrite)
    if as_json:
        click.echo(json.dumps(toolpath_values(used, files, stops), indent=2, ensure_ascii=False))
        sys.exit(1 if any(one.verdict.holds_back for one in examination.sides) else 0)
    for path, file in zip(written, files, strict=True):
        tool = file.run.tool
        click.echo(path)
        click.echo(
            f"    tool {tool.number}, {tool.kind} {length_words(tool.diameter.inch, used.units, fine=True)}: "
            f"{len(file.run.holes)} holes, {len(file.run.marks)} marks, {len(file.run.edges)} edges, "
            f"{length_words(deepest_in(file.trace), used.units)} deep, feeds for {feed_minutes(file.trace):.0f} min"
        )
    if used.engraver is None:
        click.echo(f"{NOT_ENGRAVED}.")
    click.echo("X0 Y0 is the blank's lower left corner, Z0 its top. Run each file in the air first.")
    echo_verdicts(examination)
