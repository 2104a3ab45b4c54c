"""`hatchwright pull`: what the store gives out for a set of jobs."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.frame import PATH, now, put, shop_option, words
from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.pull import pull_files
from hatchwright.workflow.write_files import write_files


@click.command(name="pull", help=words("command.pull.help"))
@click.argument("jobs", metavar="JOB...", type=PATH, nargs=-1, required=True)
@paper_options(out=words("command.option.out"), needs_out=True, is_true_size=False)
@shop_option
def command(jobs: tuple[Path, ...], out: Path, paper: AnyPaper, shop: Path | None, overwrite: bool) -> None:
    """Add up what a set of jobs takes from the store."""
    with progress_bar() as progress:
        files = pull_files(jobs, stamp=now(), paper=paper.plain, shop=shop, progress=progress)
    for path in write_files(files, out, overwrite=overwrite):
        click.echo(path)
    put("command.aid")
