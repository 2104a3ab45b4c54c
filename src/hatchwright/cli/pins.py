"""`hatchwright pins`: plan the temporary fasteners that hold the template."""

from __future__ import annotations

import json
import sys
from datetime import datetime
from pathlib import Path

import click

from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.say_findings import say_findings
from hatchwright.cli.shop_option import shop_option
from hatchwright.cli.wording import put, words
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.pins import pin_files, pin_values, plan_pins
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.write_files import write_files


@click.command(name="pins", help=words("command.pins.help"))
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help=words("command.option.json"))
@click.option("--other-side", is_flag=True, help=words("command.pins.other_side"))
@paper_options(out=words("command.pins.out"), is_true_size=False)
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
    """Plan the temporary fasteners that hold the template while the cutter passes them."""
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
        put("command.pins.head", title=report.job.title)
        for note in report.notes:
            click.echo(f"  {note}")
        say_findings(report.findings, report.job.unit)
        for path in written:
            click.echo(path)
        put("command.aid")
    sys.exit(1 if report.must_stop else 0)
