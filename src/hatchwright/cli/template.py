"""`hatchwright template`: write the guide template for the cutter in hand."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.frame import PATH, job_command, now, put_json, words
from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.verdict_lines import end_with, say_findings
from hatchwright.errors import EntryError
from hatchwright.words.tell import tell
from hatchwright.workflow.examine import examine_file
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.report import plain, verdicts_values
from hatchwright.workflow.template_files import SCHEMA, template_files, template_values
from hatchwright.workflow.template_in_hand import in_hand
from hatchwright.workflow.template_said import template_said
from hatchwright.workflow.write_files import write_files


@job_command("template", words("command.template.help"))
@paper_options(out=words("command.option.out"))
@click.option("--in-hand", "held", type=PATH, help=words("command.template.in_hand"))
@click.option("--other-side", is_flag=True, help=words("command.template.other_side"))
@click.option("--printable", is_flag=True, help=words("command.template.printable"))
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
    """Write the guide template for the cutter in hand, and the sheet that goes with it."""
    if held is not None:
        _judge_held(job, held, other_side=other_side, shop=shop, as_json=as_json)
        return
    examination = examine_file(job, shop=shop)
    told = template_said(examination)
    if out is None:
        if told and not as_json:
            click.echo(
                tell(told, examination.job.unit)
            )  # the number that was asked for, above what is missing
        raise EntryError.saying("command.template.no_folder", where="--out")
    files = template_files(examination, stamp=now(), paper=paper, stem=job.stem, printable=printable)
    written = write_files(files, out, overwrite=overwrite)
    if as_json:
        put_json(template_values(examination, [path.name for path in written]))
    else:
        if told:
            click.echo(tell(told, examination.job.unit))
        for path in written:
            click.echo(path)
    end_with(*examination.sides, shown=not as_json)


def _judge_held(job: Path, held: Path, *, other_side: bool, shop: Path | None, as_json: bool) -> None:
    own = examine_file(job, other_side=other_side, shop=shop)
    findings = in_hand(own, held)
    examination = own.adding(findings)
    if as_json:
        told = plain(findings, own.job.unit)
        put_json({"schema": SCHEMA, "verdicts": verdicts_values(examination), "findings": told})
    else:
        say_findings(findings, own.job.unit)
    end_with(examination, shown=not as_json)
