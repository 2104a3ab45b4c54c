"""`hatchwright rules`: list every rule."""

from __future__ import annotations

import click
from msgspec import to_builtins

from hatchwright.cli.frame import put, put_json, words
from hatchwright.workflow.rule_book import whole_book


@click.command(name="rules", help=words("command.rules.help"))
@click.option("--json", "as_json", is_flag=True, help=words("command.option.json"))
def command(as_json: bool) -> None:
    """List every rule by its code, with the numbers it judges by, their source and their grade."""
    entries = whole_book()
    if as_json:
        put_json([to_builtins(entry) for entry in entries])
        return
    family = ""
    for entry in entries:
        if entry.family != family:
            family = entry.family
            click.echo()
            put("command.rules.family", codes=entry.code[:2], family=family)
        click.echo(f"  {entry.code}  {entry.title}")
        for limit in (*entry.limits, *entry.rests_on):
            click.echo(f"          {limit}")
