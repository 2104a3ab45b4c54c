"""`hatchwright template`: write the guide template for the cutter in hand."""

from __future__ import annotations

import json
import sys
from datetime import datetime
from pathlib import Path

import click

from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.say_findings import say_findings
from hatchwright.cli.shop_option import shop_option
from hatchwright.cli.verdict_lines import echo_verdicts
from hatchwright.errors import EntryError
from hatchwright.judged import Status
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.finding_values import finding_values
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.template_files import SCHEMA, template_files, template_values
from hatchwright.workflow.template_in_hand import in_hand
from hatchwright.workflow.write_files import write_files


@click.command(name="template")
@click.argument("job", type=click.Path(path_type=Path))
@paper_options(out="Folder to write to; made when missing.")
@click.option(
    "--in-hand",
    "held",
    type=click.Path(path_type=Path),
    help="DXF file of a template: tell whether it is that of this job and side; nothing is written.",
)
@click.option("--other-side", is_flag=True, help="With --in-hand: judge it for the mirrored job.")
@click.option(
    "--printable", is_flag=True, help="Write a 3MF file for a 3D printer too; prove its size on the print."
)
@click.option("--json", "as_json", is_flag=True, help="Print for programs instead of people.")
@shop_option
def command(
    job: Path,
    out: Path | None,
    held: Path | None,
    other_side: bool,
    paper: AnyPaper,
    printable: bool,
    as_json: bool,
    shop: Path | None,
    overwrite: bool,
) -> None:
    """Write the guide template for the cutter in hand, as SVG, DXF and true-size PDF, and the sheet that goes with it.

    The template allows for the cutter's own guide offset and for the metal left to be filed. Prove it on scrap of the
    same alloy and thickness before it is laid on the aircraft. A template that would cut metal beyond the line is
    refused, and nothing is written.

    A printer that is a little off: print once, measure the bars, and give what they measured. The pages are corrected
    for that printer, and their bars must then measure 6.000; what is not to scale stays as it is.

    What stops the work is printed below the names of the files, and stands in the stop box of each of them.

    Exit status: 0 nothing to stop for, 1 written with something to stop for, or the template in hand is another one, 2
    input refused and nothing written.
    """
    if held is not None:
        _judge_held(job, held, other_side=other_side, shop=shop, as_json=as_json)
        return
    if out is None:
        raise EntryError("no folder is given", where="--out", remedy="Name the folder to write the files to")
    examination = examine_file(job, shop=shop)
    files = template_files(
        examination,
        stamp=datetime.now().astimezone(),
        paper=paper,
        stem=job.stem,
        printable=printable,
    )
    written = write_files(files, out, overwrite=overwrite)
    if as_json:
        told = template_values(examination, [path.name for path in written])
        click.echo(json.dumps(told, indent=2, ensure_ascii=False))
    else:
        for path in written:
            click.echo(path)
        echo_verdicts(examination)
    sys.exit(1 if any(one.verdict.holds_back for one in examination.sides) else 0)


def _judge_held(job: Path, held: Path, *, other_side: bool, shop: Path | None, as_json: bool) -> None:
    examination = examine_file(job, other_side=other_side, shop=shop)
    findings = in_hand(examination, held)
    if as_json:
        told = [finding_values(finding, examination.job.unit) for finding in findings]
        click.echo(json.dumps({"schema": SCHEMA, "findings": told}, indent=2))
    else:
        say_findings(findings, examination.job.unit)
        click.echo("Calculation aid: not approved data.")
    sys.exit(0 if all(finding.status is Status.PASS for finding in findings) else 1)
