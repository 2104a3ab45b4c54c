"""The facts for a job's records: from the job itself, and from the fleet file beside it that names its aircraft."""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct

from hatchwright.airworthiness.record_facts import RecordFacts
from hatchwright.documents.record_facts import Signing, facts_of
from hatchwright.errors import JobError
from hatchwright.job.fleet.fleet import Fleet, FleetAircraft
from hatchwright.job.fleet.mandates import FleetMandate
from hatchwright.job.fleet.times import Done
from hatchwright.job.job import Job
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.fleet_folder import FleetFolder


class InFleet(Struct, frozen=True):
    """Where a job stands in a fleet.

    Args:
        mandate: that asks for the work, None where the fleet file doesn't tell which.
        done: the last time that it was done on this aircraft, None while it was not.
    """

    fleet: Fleet
    aircraft: FleetAircraft
    mandate: FleetMandate | None
    done: Done | None


def facts_for(examination: Examination, folder: Path, name: str, signing: Signing = Signing()) -> RecordFacts:
    """What is known of one side of a job.

    Args:
        folder: of the job and of the fleet files beside it.
        name: of the job file.
    """
    found = in_fleet(folder, name, examination.job)
    if found is None:
        return facts_of(examination.layout, signing=signing)
    return facts_of(
        examination.layout,
        aircraft=found.aircraft,
        mandate=found.mandate,
        done=found.done,
        signing=signing,
    )


def in_fleet(folder: Path, name: str, job: Job) -> InFleet | None:
    """The aircraft whose line names a job, or whose registration it bears; None where no file or more than one does,
    for then nobody knows. A fleet file with faults tells nothing."""
    fleets = FleetFolder(folder)
    of_line: list[InFleet] = []
    of_registration: list[InFleet] = []
    for one in fleets.names():
        try:
            fleet = fleets.fleet(one)
        except JobError:
            continue
        for aircraft in fleet.aircraft:
            found = _in(fleet, aircraft, job)
            if any(line.job == name for line in aircraft.lines):
                of_line.append(found)
            elif aircraft.registration == job.aircraft.registration:
                of_registration.append(found)
    found_in = of_line or of_registration
    return found_in[0] if len(found_in) == 1 else None


def _in(fleet: Fleet, aircraft: FleetAircraft, job: Job) -> InFleet:
    named = [one for one in fleet.mandates if one.number == job.mandate.reference]
    only = named or (list(fleet.mandates) if len(fleet.mandates) == 1 else [])
    mandate = only[0] if len(only) == 1 else None
    done = [one for one in aircraft.done if mandate and one.mandate == mandate.number]
    return InFleet(fleet, aircraft, mandate, max(done, key=lambda one: one.date, default=None))
