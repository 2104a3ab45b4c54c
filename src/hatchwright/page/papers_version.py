"""A short name for all that the papers of a job are made of, so that none is handed out that says what was."""

from __future__ import annotations

from hatchwright.errors import JobError
from hatchwright.page.files_beside import version_with_files
from hatchwright.page.made_papers import PaperChoice
from hatchwright.page.screen import Asked
from hatchwright.workflow.fleet_folder import FleetFolder
from hatchwright.workflow.in_fleet import in_fleet
from hatchwright.workflow.job_folder import version_of
from hatchwright.workflow.machines import MACHINES, machines_in
from hatchwright.workflow.recorded_now import recorded_mark


def papers_version(asked: Asked, choice: PaperChoice) -> str:
    """Of the job, the files beside it, the machine's, the fleet files, the other jobs of its aircraft, whose weight its
    records tell too, and what the records say of the job."""
    machine = [f"{MACHINES}/{choice.machine}"] if choice.machine in machines_in(asked.folder) else []
    files = version_with_files(asked, [*machine, *FleetFolder(asked.folder).names(), *_of_aircraft(asked)])
    return version_of(f"{files}\0{recorded_mark(asked.folder, asked.name)}")


def _of_aircraft(asked: Asked) -> list[str]:
    try:
        found = in_fleet(asked.folder, asked.name, asked.entered())
    except JobError:  # no papers are made of it
        return []
    return [line.job for line in found.aircraft.lines if line.job] if found else []
