"""`hatchwright backup`: copy a folder of jobs with its records into one file, while others work in it."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path

import click

from hatchwright.cli.frame import PATH, now, put, words
from hatchwright.said import Said
from hatchwright.words.tell import tell


@click.command("backup", help=words("command.backup.help"))
@click.argument("folder", type=PATH, default=".")
@click.option("--out", type=PATH, required=True, help=words("command.backup.out"))
@click.option("--second", type=PATH, multiple=True, help=words("command.backup.second"))
def command(folder: Path, out: Path, second: tuple[Path, ...]) -> None:
    """Back up a folder of jobs."""
    from hatchwright.workflow.backup import HEADS, back_up, chain_said, faults_said

    done = back_up(folder, (out, *second), now=now())
    for file in done.files:
        click.echo(file)
    put("command.backup.jobs", n=done.jobs)
    put("command.backup.sum", digest=done.sha256)
    tell_left(done.left)
    if done.is_on_same_disk:
        put("command.backup.same_disk", to_err=True)
    end_with_chain(chain_said(done.verified, HEADS), faults_said(done.verified))


def tell_left(files: tuple[str, ...]) -> None:
    """Tell which outlines are not in it."""
    if files:
        put("command.backup.left", files=", ".join(files), to_err=True)


def end_with_chain(told: Iterable[Said], faults: Iterable[Said]) -> None:
    """Tell what a copied chain comes to; ends with 1 where something is wrong with it."""
    for sentence in told:
        click.echo(tell(sentence))
    wrong = [tell(fault) for fault in faults]
    for line in wrong:
        click.echo(line, err=True)
    if wrong:
        sys.exit(1)
