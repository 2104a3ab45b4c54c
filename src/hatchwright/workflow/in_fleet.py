"""Where a job stands in the fleet files beside it, and what these tell for its records: when it is due next, and what
became of the empty weight. What is not certain is left out, for a record with a blank is better than a wrong one."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from msgspec import Struct

from hatchwright.airworthiness.due.line import DueLine, State
from hatchwright.airworthiness.due.lines import lines_of
from hatchwright.documents.record_facts import NOT_DUE, Next
from hatchwright.errors import HatchwrightError, JobError
from hatchwright.job.fleet.fleet import Fleet, FleetAircraft
from hatchwright.job.fleet.mandates import FleetMandate
from hatchwright.job.fleet.times import Done
from hatchwright.job.job import Job
from hatchwright.said import Amount, Listed, Said, Value, inch, said
from hatchwright.units import Unit
from hatchwright.words.amounts import hundredth_lb
from hatchwright.workflow.balance import balance_file
from hatchwright.workflow.due_said import hours_text
from hatchwright.workflow.fleet_folder import FleetFolder


class InFleet(Struct, frozen=True):
    """A job's aircraft in a fleet file.

    Args:
        path: of that file.
        mandate: that asks for the work, None where the file doesn't tell which.
        done: the last time that it was done on this aircraft, None while it was not.
    """

    path: Path
    fleet: Fleet
    aircraft: FleetAircraft
    mandate: FleetMandate | None
    done: Done | None

    def next_due(self, on: date) -> Next:
        """When the mandate's open action is due next; nothing where there are several, or a limit is not known."""
        lines = [
            one
            for one in lines_of(self.fleet, self.aircraft, on)
            if self.mandate and one.mandate.number == self.mandate.number and one.state is State.OPEN
        ]
        if len(lines) != 1 or lines[0].unknown or lines[0].joint:
            return NOT_DUE
        due = lines[0]
        return Next(_listed(_by_time(due)), due.due_date.isoformat() if due.due_date else "")

    def balance(self) -> Value:
        """Empty weight and arm before and after all openings of the aircraft; "" while a side has no job of its own, or
        the answer holds back."""
        try:
            report = balance_file(self.path, registration=self.aircraft.registration)
        except HatchwrightError:  # the command and the page of the fleet say what is wrong with it
            return ""
        one = report.aircraft[0]
        if one.balance is None or one.planned or one.status.holds_back:
            return ""
        before, after = one.balance.before.total, one.balance.after.total
        return said(
            "record_sign.balance",
            before=_weight(before.weight_lb, report.unit),
            before_arm=inch(before.arm_in),
            after=_weight(after.weight_lb, report.unit),
            after_arm=inch(after.arm_in, beside_in=before.arm_in),
        )


def _by_time(due: DueLine) -> Iterator[Said]:
    if due.due_hours is not None:
        yield said("due.limit.hours", due=hours_text(due.due_hours))
    if due.due_landings is not None:
        yield said("due.limit.landings", due=str(due.due_landings))


def _listed(limits: Iterator[Said]) -> Value:
    found = tuple(limits)
    return Listed(found, "or") if found else ""


def _weight(weight_lb: float, unit: Unit) -> Amount:
    return Amount(hundredth_lb(weight_lb, unit), "lb")


def in_fleet(folder: Path, name: str, job: Job) -> InFleet | None:
    """The aircraft whose line names a job, or whose registration it bears; None where no file or more than one does,
    for then nobody knows, nor where the line's aircraft is another than the job's. A fleet file with faults tells
    nothing."""
    fleets = FleetFolder(folder)
    of_line: list[InFleet] = []
    of_registration: list[InFleet] = []
    for one in fleets.names():
        try:
            fleet = fleets.fleet(one)
        except JobError:
            continue
        for aircraft in fleet.aircraft:
            found = _in(fleets.path(one), fleet, aircraft, job)
            if any(line.job == name for line in aircraft.lines):
                of_line.append(found)
            elif aircraft.registration == job.aircraft.registration:
                of_registration.append(found)
    found_in = of_line or of_registration
    if len(found_in) != 1:
        return None
    is_another = job.aircraft.registration not in ("", found_in[0].aircraft.registration)
    return None if is_another else found_in[0]


def _in(path: Path, fleet: Fleet, aircraft: FleetAircraft, job: Job) -> InFleet:
    named = [one for one in fleet.mandates if one.number == job.mandate.reference]
    mandate = named[0] if len(named) == 1 else None
    done = [one for one in aircraft.done if mandate and one.mandate == mandate.number]
    return InFleet(path, fleet, aircraft, mandate, max(done, key=lambda one: one.date, default=None))
