"""`hatchwright fasteners`: what to order, drill and drive."""

from __future__ import annotations

import json
from pathlib import Path

import click

from hatchwright.cli.fastener_lines import fastener_lines
from hatchwright.cli.shop_option import shop_option
from hatchwright.cli.verdict_lines import end_with
from hatchwright.cli.wording import words
from hatchwright.workflow.fasteners import choose_fasteners, fastener_values


@click.command(name="fasteners", help=words("command.fasteners.help"))
@click.argument("job", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help=words("command.option.json"))
@shop_option
def command(job: Path, as_json: bool, shop: Path | None) -> None:
    """Say what to order, drill and drive for each kind of hole, and what the new parts weigh."""
    report = choose_fasteners(job, shop=shop)
    if as_json:
        click.echo(json.dumps(fastener_values(report), indent=2, ensure_ascii=False))
    else:
        click.echo("\n".join(fastener_lines(report)))
    end_with(report.examination, shown=not as_json)
