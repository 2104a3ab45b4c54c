"""What the page shows of what is due: by aircraft the worst first, in words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from msgspec import Struct

from hatchwright.airworthiness.due.clock import Clock
from hatchwright.airworthiness.due.line import DueLine, State
from hatchwright.job.fleet.fleet import Fleet
from hatchwright.said import Listed, Said, said
from hatchwright.words.tell import tell
from hatchwright.workflow.due import AircraftDue, due_in
from hatchwright.workflow.due_calendar import calendar_of
from hatchwright.workflow.due_said import about_said, head_said, limits_said, state_said, title_said


class DueRow(Struct, frozen=True):
    """One action as it is shown.

    Args:
        state: in a word or two; what holds the aircraft back in capitals.
        symbol: "stop", "unknown" or "" of the page's symbols.
        title: paragraph and what it asks.
        limits: with what is left of each.
        notes: how it was found and what else is to be known, each a sentence.
    """

    state: str
    symbol: str
    holds_back: bool
    is_open: bool
    title: str
    limits: str
    notes: tuple[str, ...]


class AircraftDueView(Struct, frozen=True):
    """What is due on one aircraft.

    Args:
        head: its time, and of when that is.
        rows: the worst first, what is done or closed last.
        n_open: how many of the rows are still open.
        shortest: what comes first, for a cell of a board: state and limits, "" where nothing is asked.
    """

    registration: str
    serial: str
    head: str
    rows: tuple[DueRow, ...]
    n_open: int
    holds_back: bool
    shortest: str


class DueSheet(Struct, frozen=True):
    """What is due in a fleet on a day.

    Args:
        counts: how many aircraft are held back, in words.
    """

    on: str
    counts: str
    aircraft: tuple[AircraftDueView, ...]
    holds_back: bool

    def of(self, registration: str) -> AircraftDueView | None:
        """One aircraft, None where it is not in the fleet."""
        return next((one for one in self.aircraft if one.registration == registration), None)


def due_sheet(fleet: Fleet, on: date) -> DueSheet:
    """What is due in a fleet on a day, in words."""
    report = due_in(fleet, "", on)
    aircraft = tuple(_aircraft(one, on) for one in report.aircraft)
    return DueSheet(on.isoformat(), tell(_counts(report.aircraft, on)), aircraft, report.holds_back)


def due_calendar(fleet: Fleet, name: str, *, now: datetime) -> bytes:
    """The days of a fleet as a calendar file; now: when it is made."""
    return calendar_of((due_in(fleet, name, now.date()),), now=now)


def _counts(aircraft: Sequence[AircraftDue], on: date) -> Said:
    """How many are held back; where none is, of when the oldest reading is that says so."""
    if held := sum(any(line.state.holds_back for line in one.lines) for one in aircraft):
        return said("page.due.counts", n=held, of=len(aircraft))
    read = [day for one in aircraft if (day := Clock(one.aircraft, on).now().date)]
    days = (on - min(read)).days if read else 0
    return said("page.due.none_held_as_read", n=days) if days else said("page.due.none_held")


def _aircraft(one: AircraftDue, on: date) -> AircraftDueView:
    aircraft = one.aircraft
    return AircraftDueView(
        aircraft.registration,
        aircraft.serial,
        tell(head_said(aircraft, Clock(aircraft, on).now(), on)),
        tuple(_row(line, one, on) for line in one.lines),
        sum(line.state.is_open for line in one.lines),
        any(line.state.holds_back for line in one.lines),
        _shortest(one.lines, on),
    )


def _row(line: DueLine, of: AircraftDue, on: date) -> DueRow:
    return DueRow(
        tell(state_said(line)),
        _symbol(line),
        line.state.holds_back,
        line.state.is_open,
        tell(title_said(line)),
        _limits(line, on),
        tuple(map(tell, about_said(line, of.aircraft, on))),
    )


def _symbol(line: DueLine) -> str:
    if not line.state.holds_back:
        return ""
    return "unknown" if line.state is State.NOT_SHOWN else "stop"


def _limits(line: DueLine, on: date) -> str:
    return tell(Listed(tuple(limits_said(line, on)), ";"))


def _shortest(lines: Sequence[DueLine], on: date) -> str:
    open_ = [line for line in lines if line.state.is_open]
    if not open_:
        return ""
    first = open_[0]
    words = said(
        "due.shortest",
        state=state_said(first),
        number=first.mandate.number,
        limits=Listed(tuple(limits_said(first, on)), ","),
    )
    return tell(words)
