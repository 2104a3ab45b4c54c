"""What is due in a fleet, or in every fleet of a folder, on a day."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from msgspec import Struct

from hatchwright.airworthiness.due.line import DueLine
from hatchwright.airworthiness.due.lines import lines_of
from hatchwright.errors import JobError
from hatchwright.job.fleet.fleet import Fleet, FleetAircraft
from hatchwright.workflow.fleet_folder import FleetFolder


class AircraftDue(Struct, frozen=True):
    """The lines of one aircraft, the worst first."""

    aircraft: FleetAircraft
    lines: tuple[DueLine, ...]


class FleetDue(Struct, frozen=True):
    """What is due in one fleet.

    Args:
        name: of its file.
    """

    name: str
    fleet: Fleet
    on: date
    aircraft: tuple[AircraftDue, ...]

    @property
    def holds_back(self) -> bool:
        """Whether an aircraft must not fly as far as this file knows."""
        return any(line.state.holds_back for one in self.aircraft for line in one.lines)


def due_in(fleet: Fleet, name: str, on: date) -> FleetDue:
    """What is due in a fleet on a day."""
    each = (AircraftDue(one, lines_of(fleet, one, on)) for one in fleet.aircraft)
    return FleetDue(name, fleet, on, tuple(each))


def due_report(path: Path, on: date) -> tuple[FleetDue, ...]:
    """What is due in a fleet file, or in all fleet files of a folder.

    Raises:
        JobError: there is none, or one is not sound: then nothing is told, for what is left out might be due.
    """
    if not path.is_dir():
        return (due_in(Fleet.load(path), path.name, on),)
    folder = FleetFolder(path)
    found = tuple(due_in(folder.fleet(name), name, on) for name in folder.names())
    if not found:
        raise JobError.about("folder", "due.no_fleet", str(path))
    return found
