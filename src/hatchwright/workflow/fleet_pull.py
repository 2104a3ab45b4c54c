"""What the store gives out for all lines of a fleet, less what is on hand."""

from __future__ import annotations

from datetime import datetime

from msgspec.structs import replace

from hatchwright.drawings.made_file import MadeFile
from hatchwright.drawings.writers import Paper
from hatchwright.errors import JobError
from hatchwright.job.fleet.fleet import SUFFIX
from hatchwright.progress import Progress, unheard
from hatchwright.tables.table import ShopTables
from hatchwright.workflow.fleet_folder import FleetFolder
from hatchwright.workflow.fleet_lines import fleet_lines, without_job
from hatchwright.workflow.job_folder import JobFolder
from hatchwright.workflow.pull import pull_files


def fleet_pull(
    fleets: FleetFolder,
    jobs: JobFolder,
    name: str,
    *,
    stamp: datetime,
    paper: Paper = Paper.LETTER,
    shop: ShopTables | None = None,
    progress: Progress = unheard,
) -> tuple[MadeFile, ...]:
    """The pull list of a fleet, to print and as a table.

    Raises:
        JobError: a line has no job, or one is refused; a list that lacks a side would be short.
        ExportError: a file did not read back as it was written.
    """
    fleet = fleets.fleet(name)
    lines = fleet_lines(fleet)
    lacking = without_job(jobs, fleet)
    if lacking or not lines:
        raise JobError.about("lines", "fleet.lacks_jobs", lacking[0].called if lacking else "")
    files = pull_files(
        [jobs.path(one.line.job or "") for one in lines],
        stamp=stamp,
        paper=paper,
        shop=shop,
        on_hand={one.number: one.count for one in fleet.stock},
        names=[one.aircraft.registration for one in lines],
        progress=progress,
    )
    stem = name.removesuffix(SUFFIX)
    return tuple(replace(file, name=f"{stem}_{file.name}") for file in files)
