"""`hatchwright explain`: show what a finding's code stands for."""

from __future__ import annotations

import click
from msgspec import to_builtins

from hatchwright.cli.frame import put, put_json, words
from hatchwright.cli.lines import put_text
from hatchwright.said import said
from hatchwright.words.readings import to_choose_from
from hatchwright.words.tell import tell
from hatchwright.workflow.rule_book import rule_entry


@click.command(name="explain", help=words("command.explain.help"))
@click.argument("code")
@click.option("--json", "as_json", is_flag=True, help=words("command.option.json"))
def command(code: str, as_json: bool) -> None:
    """Show what one rule says, with the numbers it judges by, their source and their grade."""
    entry = rule_entry(code)
    if as_json:
        put_json(to_builtins(entry))
        return
    put("command.explain.head", code=entry.code, title=entry.title, family=entry.family)
    click.echo()
    put_text(entry.says)
    for limit in (*entry.limits, *entry.rests_on):
        click.echo(f"\n  {limit}")
    for id, line in zip(
        ("explain.passes", "explain.fails", "explain.boundary"), entry.examples, strict=False
    ):
        click.echo(f"\n  {tell(said(id, example=line))}")
    if entry.theory:
        click.echo(f"\n  {tell(said('explain.theory', page=entry.theory))}")
    if entry.forbids_template:
        click.echo(f"\n  {tell(said('explain.template_waits'))}")
    if entry.readings:
        click.echo()
        put("command.explain.readings")
        for reading in entry.readings:
            click.echo(f"  {tell(to_choose_from(reading))}")
