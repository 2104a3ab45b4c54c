"""`hatchwright pins`: plan the temporary fasteners that hold the template."""

from __future__ import annotations

import json
import sys
from datetime import datetime
from pathlib import Path

import click

from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.shop_option import shop_option
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.finding_lines import finding_lines
from hatchwright.workflow.pins import pin_files, pin_values, plan_pins
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.write_files import write_files


@click.command(name="pins")
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print for programs instead of people.")
@click.option("--other-side", is_flag=True, help="Plan for the mirrored job of the other side.")
@paper_options(out="Folder to write the pin sheet to; made when missing.", is_true_size=False)
@shop_option
def command(
    job: Path,
    as_json: bool,
    other_side: bool,
    out: Path | None,
    paper: AnyPaper,
    overwrite: bool,
    shop: Path | None,
) -> None:
    """Plan the temporary fasteners that hold the template while the cutter passes them.

    Prints the stages: what to pin, what to cut, and how far the edge can move. Needs the diameter of the tool's body
    (cutter.body) and of a temporary fastener's body (template.pin_body). With --out it writes the pin sheet too, a
    sketch of each stage, for both sides where both get the opening.

    Exit status: 0 there is a plan, 1 there is none, 2 input refused.
    """
    report = plan_pins(job, other_side=other_side, shop=shop)
    written: tuple[Path, ...] = ()
    if out is not None:
        examination = examine_file(job, shop=shop)
        files = pin_files(examination, stamp=datetime.now().astimezone(), paper=paper.plain, stem=job.stem)
        written = write_files(files, out, overwrite=overwrite)
    if as_json:
        told = pin_values(report) | {"files": [path.name for path in written]}
        click.echo(json.dumps(told, indent=2, ensure_ascii=False))
    else:
        click.echo(f"{report.job.title}, pins")
        for note in report.notes:
            click.echo(f"  {note}")
        for finding in report.findings:
            click.echo("\n".join(finding_lines(finding, report.job.unit)))
        for path in written:
            click.echo(path)
        click.echo("Calculation aid: not approved data.")
    sys.exit(1 if report.must_stop else 0)
