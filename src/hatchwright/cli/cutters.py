"""`hatchwright cutters`: which of the shop's cutters can make this cut."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from hatchwright.cli.frame import PATH, job_command, put, put_json, words
from hatchwright.cli.verdict_lines import say_findings
from hatchwright.judged import Status
from hatchwright.workflow.cutters import judge_shelf, shelf_values


@job_command("cutters", words("command.cutters.help"))
@click.argument("shelf", type=PATH)
def command(job: Path, shelf: Path, as_json: bool, shop: Path | None) -> None:
    """Judge every cutter and hand tool of the shop's SHELF file for the cut of JOB."""
    answers = judge_shelf(job, shelf, shop=shop)
    if as_json:
        put_json(shelf_values(answers))
    else:
        for answer in answers:
            put("command.cutters.tool", status=answer.worst, tool=answer.tool.name, kind=answer.tool.kind)
            open_points = (finding for finding in answer.findings if finding.status is not Status.PASS)
            say_findings(open_points, answer.unit, indent="    ")
        put("command.aid")
    sys.exit(0 if any(answer.worst in (Status.PASS, Status.CAUTION) for answer in answers) else 1)
