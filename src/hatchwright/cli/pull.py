"""`hatchwright pull`: what the store gives out for a set of jobs."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.frame import PATH, now, put, shop_option, words
from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.progress_bar import progress_bar
from hatchwright.errors import JobError
from hatchwright.job.fleet.fleet import SUFFIX
from hatchwright.workflow.fleet_folder import FleetFolder
from hatchwright.workflow.fleet_pull import fleet_pull
from hatchwright.workflow.job_folder import JobFolder
from hatchwright.workflow.open_job import own_tables
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.pull import pull_files
from hatchwright.workflow.write_files import write_files


@click.command(name="pull", help=words("command.pull.help"))
@click.argument("jobs", metavar="JOB...|FLEET", type=PATH, nargs=-1, required=True)
@paper_options(out=words("command.option.out"), needs_out=True, is_true_size=False)
@shop_option
def command(jobs: tuple[Path, ...], out: Path, paper: AnyPaper, shop: Path | None, overwrite: bool) -> None:
    """Add up what a set of jobs takes from the store."""
    with progress_bar() as progress:
        fleets = [one for one in jobs if one.suffix == SUFFIX]
        if fleets and len(jobs) > 1:
            raise JobError.about("jobs", "fleet.pull_alone", fleets[0].name)
        if fleets:
            folder, name = fleets[0].parent, fleets[0].name
            files = fleet_pull(
                FleetFolder(folder), JobFolder(folder), name, stamp=now(), paper=paper.plain,
                shop=own_tables(shop), progress=progress,
            )  # fmt: skip
        else:
            files = pull_files(jobs, stamp=now(), paper=paper.plain, shop=shop, progress=progress)
    for path in write_files(files, out, overwrite=overwrite):
        click.echo(path)
    put("command.aid")
