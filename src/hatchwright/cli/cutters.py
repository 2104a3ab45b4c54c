"""`hatchwright cutters`: which of the shop's cutters can make this cut."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from hatchwright.cli.shop_option import shop_option
from hatchwright.cli.wording import put, words
from hatchwright.judged import Status
from hatchwright.workflow.cutters import judge_shelf, shelf_values
from hatchwright.workflow.finding_lines import finding_lines


@click.command(name="cutters", help=words("command.cutters.help"))
@click.argument("job", type=click.Path(path_type=Path))
@click.argument("shelf", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help=words("command.option.json"))
@shop_option
def command(job: Path, shelf: Path, as_json: bool, shop: Path | None) -> None:
    """Judge every cutter and hand tool of the shop's SHELF file for the cut of JOB."""
    answers = judge_shelf(job, shelf, shop=shop)
    if as_json:
        click.echo(json.dumps(shelf_values(answers), indent=2, ensure_ascii=False))
    else:
        for answer in answers:
            put("command.cutters.tool", status=answer.worst, tool=answer.tool.name, kind=answer.tool.kind)
            for finding in answer.findings:
                if finding.status is not Status.PASS:
                    for line in finding_lines(finding, answer.unit):
                        click.echo(f"    {line}")
        put("command.aid")
    sys.exit(0 if any(answer.worst in (Status.PASS, Status.CAUTION) for answer in answers) else 1)
