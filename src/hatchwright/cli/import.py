"""`hatchwright import`: make a folder of jobs of the plain files that `export` wrote."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.frame import PATH, put, words


@click.command("import", help=words("command.import.help"))
@click.argument("export", type=PATH)
@click.argument("folder", type=PATH)
@click.option("--head", "printed", default="", metavar="HEX", help=words("command.restore.head"))
def command(export: Path, folder: Path, printed: str) -> None:
    """Take in plain files."""
    from hatchwright.workflow.plain_files import take_in

    done = take_in(export, folder, printed=printed)
    put("command.restore.jobs", n=done.jobs, folder=str(folder))
    if done.head:
        put("command.import.chain", n=done.entries, head=done.head)
