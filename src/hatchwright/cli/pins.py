"""`hatchwright pins`: plan the temporary fasteners that hold the template."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from hatchwright.cli.shop_option import shop_option
from hatchwright.workflow.pins import pin_values, plan_pins


@click.command(name="pins")
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print for programs instead of people.")
@click.option("--other-side", is_flag=True, help="Plan for the mirrored job of the other side.")
@shop_option
def command(job: Path, as_json: bool, other_side: bool, shop: Path | None) -> None:
    """Plan the temporary fasteners that hold the template while the cutter passes them.

    Prints the stages: what to pin, what to cut, and how far the edge can move. Needs the diameter of the tool's body
    (cutter.body) and of a temporary fastener's body (template.pin_body).

    Exit status: 0 there is a plan, 1 there is none, 2 input refused.
    """
    report = plan_pins(job, other_side=other_side, shop=shop)
    if as_json:
        click.echo(json.dumps(pin_values(report), indent=2, ensure_ascii=False))
    else:
        click.echo(f"{report.job.title}, pins")
        for note in report.notes:
            click.echo(f"  {note}")
        for finding in report.findings:
            value = "" if finding.value is None else f": {finding.value:.3g} {finding.unit}"
            click.echo(f"{finding.status.word:>12}  {finding.code}  {finding.subject}{value}")
            if finding.advice:
                click.echo(f"              {finding.advice}")
        click.echo("Calculation aid: not approved data.")
    sys.exit(1 if report.must_stop else 0)
