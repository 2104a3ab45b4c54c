"""`hatchwright pins`: plan the temporary fasteners that hold the template."""

from __future__ import annotations

from pathlib import Path
from typing import NoReturn

import click

from hatchwright.cli.frame import job_command, now, put, put_json, words
from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.verdict_lines import end_with, say_findings
from hatchwright.job.file import load_job
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import Examination, examine_file
from hatchwright.workflow.pins import SCHEMA, pin_files, pin_values, plan_pins
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.report import verdicts_values
from hatchwright.workflow.template_said import template_said
from hatchwright.workflow.write_files import write_files


@job_command("pins", words("command.pins.help"))
@click.option("--other-side", is_flag=True, help=words("command.pins.other_side"))
@paper_options(out=words("command.pins.out"), is_true_size=False)
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
    if load_job(job).hand_tool:
        _say_by_hand(examine_file(job, other_side=other_side, shop=shop), as_json=as_json)
    report = plan_pins(job, other_side=other_side, shop=shop)
    sides: tuple[Examination, ...] = (report.examination,)
    written: tuple[Path, ...] = ()
    if out is not None:
        entered = examine_file(job, shop=shop) if other_side else report.examination
        files = pin_files(entered, stamp=now(), paper=paper.plain, stem=job.stem)
        sides, written = entered.sides, write_files(files, out, overwrite=overwrite)
    if as_json:
        files_made = [path.name for path in written]
        put_json({**pin_values(report), "verdicts": verdicts_values(*sides), "files": files_made})
    else:
        put("command.pins.head", title=report.examination.job.title)
        for note in report.notes:
            click.echo(f"  {note}")
        say_findings(report.findings, report.examination.job.unit)
        for path in written:
            click.echo(path)
    end_with(*sides, shown=not as_json)


def _say_by_hand(examination: Examination, *, as_json: bool) -> NoReturn:
    """Nothing is held where no template is: say so, and end as a check does."""
    told = template_said(examination)
    assert told is not None  # a hand tool was entered
    if as_json:
        put_json({"schema": SCHEMA, "verdicts": verdicts_values(examination), "files": []})
    else:
        click.echo(tell(told))
    end_with(examination, shown=not as_json)
