"""`hatchwright export`: write a folder of jobs with its records as plain files that a person reads."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.backup import end_with_chain, tell_left
from hatchwright.cli.frame import PATH, now, put, words


@click.command("export", help=words("command.export.help"))
@click.argument("folder", type=PATH, default=".")
@click.option("--out", type=PATH, required=True, help=words("command.export.out"))
def command(folder: Path, out: Path) -> None:
    """Write jobs and records as plain files."""
    from hatchwright.workflow.backup import chain_said, faults_said
    from hatchwright.workflow.plain_files import export

    done = export(folder, out, now=now())
    click.echo(done.place)
    put("command.export.files", n=done.files, jobs=done.jobs)
    tell_left(done.left)
    end_with_chain(chain_said(done.verified), faults_said(done.verified))
