"""`hatchwright restore`: put a folder of jobs back as a backup holds it."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.frame import PATH, now, put, words


@click.command("restore", help=words("command.restore.help"))
@click.argument("backup", type=PATH)
@click.argument("folder", type=PATH)
@click.option("--head", "printed", default="", metavar="HEX", help=words("command.restore.head"))
@click.option("--overwrite", is_flag=True, help=words("command.restore.overwrite"))
def command(backup: Path, folder: Path, printed: str, overwrite: bool) -> None:
    """Restore a folder of jobs."""
    from hatchwright.workflow.restore import restore

    done = restore(backup, folder, now=now(), overwrite=overwrite, printed=printed)
    put("command.restore.jobs", n=done.jobs, folder=str(folder))
    if done.head_now:
        put(
            "command.restore.chain",
            n=done.manifest.entries,
            head=done.manifest.head or "-",
            now=done.head_now,
        )
    if done.aside:
        put("command.restore.aside", folder=str(done.aside))
