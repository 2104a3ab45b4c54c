"""`hatchwright backup`: copy a folder of jobs with its records into one file, while others work in it."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.frame import PATH, now, put, words

if TYPE_CHECKING:
    from hatchwright.records.verify import Verified


@click.command("backup", help=words("command.backup.help"))
@click.argument("folder", type=PATH, default=".")
@click.option("--out", type=PATH, required=True, help=words("command.backup.out"))
@click.option("--second", type=PATH, multiple=True, help=words("command.backup.second"))
def command(folder: Path, out: Path, second: tuple[Path, ...]) -> None:
    """Back up a folder of jobs."""
    from hatchwright.workflow.backup import HEADS, back_up

    done = back_up(folder, (out, *second), now=now())
    for file in done.files:
        click.echo(file)
    put("command.backup.jobs", n=done.jobs)
    put("command.backup.sum", digest=done.sha256)
    if done.is_on_same_disk:
        put("command.backup.same_disk", to_err=True)
    end_with_chain(done.verified, HEADS)


def end_with_chain(verified: Verified | None, heads: str = "") -> None:
    """Tell what a copied chain comes to; ends with 1 where it is not sound.

    Args:
        heads: name of the file beside a backup that lists its head, "" for none.
    """
    if verified is None:
        put("command.backup.no_records")
        return
    if verified.head:
        put("command.backup.chain", n=verified.entries, signed=verified.signed, head=verified.head)
        if heads:
            put("command.backup.heads", file=heads)
    for fault in verified.faults:
        put("command.backup.fault", seq=fault.seq, why=fault.what, to_err=True)
    if verified.faults:
        put("command.backup.unsound" if verified.chain else "command.backup.beside", to_err=True)
        sys.exit(1)
