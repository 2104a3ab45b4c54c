"""The facts for a job's records: from the job itself, and from the fleet file beside it that names its aircraft."""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.airworthiness.holds import Initials
from hatchwright.documents.record_facts import Signing
from hatchwright.documents.recorded import Recorded
from hatchwright.errors import JobError
from hatchwright.job.fleet.fleet import Fleet, FleetAircraft
from hatchwright.job.fleet.mandates import FleetMandate
from hatchwright.job.fleet.times import Done
from hatchwright.job.job import Job
from hatchwright.workflow.fleet_folder import FleetFolder
from hatchwright.workflow.hold_points import HoldState

_NOBODY = Signing()


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


def recorded_of(
    folder: Path,
    name: str,
    job: Job,
    state: HoldState | None = None,
    *,
    head: str = "",
    signing: Signing = _NOBODY,
) -> Recorded:
    """What is known of a job beside itself.

    Args:
        folder: of the job and of the fleet files beside it.
        name: of the job file.
        state: of its holds and counts; None where nothing was recorded yet.
        head: of the chain.
    """
    found = in_fleet(folder, name, job)
    sides = state.sides if state else ()
    return Recorded(
        head=head,
        aircraft=found.aircraft if found else None,
        mandate=found.mandate if found else None,
        done=found.done if found else None,
        signing=signing,
        initials=tuple(_shown(one, state, job) for side in sides for one in side.initials) if state else (),
        counted=tuple(one for side in sides for one in side.counted),
    )


def _shown(one: Initials, state: HoldState, job: Job) -> Initials:
    """Initials as papers show them: those for this plan bear the revision of the job, others that of their plan."""
    return replace(one, revision=job.revision) if one.revision == state.called else one


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
