"""One line of what is due: an action on an aircraft, its limits, what is left of them and how they were found."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from enum import StrEnum

from msgspec import Struct

from hatchwright.airworthiness.due.terms import Point, Terms
from hatchwright.job.fleet.limits import Interval
from hatchwright.job.fleet.mandates import Action, Alternative, FleetMandate
from hatchwright.job.fleet.times import Applies, Done, FittedPart, Found, Permit
from hatchwright.said import Said


class State(StrEnum):
    """How an action stands, the worst first."""

    OVERDUE = "overdue"
    EN_ROUTE = "en-route"
    """Past a limit that may be overrun, only on the way to where it is done."""
    BEFORE_FLIGHT = "before-flight"
    NOT_SHOWN = "not-shown"
    """It can't be worked out from what is entered: treated as due."""
    OPEN = "open"
    STANDS = "stands"
    """A duty or a ban without a limit."""
    WAITS = "waits"
    """Its clock starts with another action."""
    DONE = "done"
    CLOSED = "closed"
    """By a terminating action."""
    REPLACED = "replaced"
    DOES_NOT_APPLY = "does-not-apply"

    @property
    def holds_back(self) -> bool:
        """Whether the aircraft must not fly as far as this line knows."""
        return self in (State.OVERDUE, State.EN_ROUTE, State.BEFORE_FLIGHT, State.NOT_SHOWN)

    @property
    def is_open(self) -> bool:
        """Whether there is something to keep in mind."""
        return self.holds_back or self in (State.OPEN, State.STANDS, State.WAITS)


class Since(StrEnum):
    """What the limits count from."""

    EFFECTIVE = "effective"
    NOTICE = "notice"
    DONE = "done"
    AFTER = "after"
    FOUND = "found"


class DueLine(Struct, frozen=True):
    """One action of a mandate on one aircraft.

    Args:
        registration: of the aircraft, and serial: its own.
        part: that the limits follow, None for the aircraft.
        limits: as the text, or an approved alternative, states them; None where none counts now.
        terms: the same on this aircraft's time, whichever first; empty where none counts now.
        since: what they count from, and base: that point in the time that the limits follow.
        now: the most that is known to be flown, in the aircraft's time, with the day of that reading.
        unknown: which of "hours", "landings" and "date" have a limit that can't be worked out: there is none only where
            it is not named here.
        other: last day by the other reading of months, None where there is no other.
        last: accomplishment that counts, None without.
        alternative: approved method that gives the limits, None without.
        latest_hours: up to which a limit may be overrun on the way to where it is done [h].
        estimate: day on which the hours run out at the rate that is entered: no limit.
        keeps: whether it is the duty to keep what a terminating action made, not the action itself.
        notes: what else is to be known, whole sentences.
    """

    registration: str
    serial: str
    mandate: FleetMandate
    action: Action
    state: State
    now: Point
    part: FittedPart | None = None
    limits: Interval | None = None
    terms: Terms = ()
    unknown: frozenset[str] = frozenset()
    since: Since | None = None
    base: Point = Point()
    other: date | None = None
    last: Done | None = None
    found: Found | None = None
    answer: Applies | None = None
    alternative: Alternative | None = None
    permits: tuple[Permit, ...] = ()
    latest_hours: Decimal | None = None
    estimate: date | None = None
    keeps: bool = False
    notes: tuple[Said, ...] = ()

    @property
    def due_hours(self) -> Decimal | None:
        """Last hours, where they alone are a limit; None: none [h]."""
        return min(
            (one.hours for one in self.terms if one.hours is not None and one.kinds == 1), default=None
        )

    @property
    def due_landings(self) -> int | None:
        """Last landing, where landings alone are a limit; None: none [-]."""
        alone = (one.landings for one in self.terms if one.landings is not None and one.kinds == 1)
        return min(alone, default=None)

    @property
    def due_date(self) -> date | None:
        """Last day, where a date alone is a limit; None: none."""
        return min((one.date for one in self.terms if one.date is not None and one.kinds == 1), default=None)

    @property
    def joint(self) -> Terms:
        """Limits that are passed only when all that they name is: whichever is later."""
        return tuple(one for one in self.terms if one.kinds > 1)

    @property
    def hours_left(self) -> Decimal | None:
        """Negative: over by so much; None where hours alone are no limit or aren't known [h]."""
        due, now = self.due_hours, self.now.hours
        return None if due is None or now is None else due - now

    @property
    def landings_left(self) -> int | None:
        """Negative: over by so many; None as of hours [-]."""
        due, now = self.due_landings, self.now.landings
        return None if due is None or now is None else due - now

    def days_left(self, on: date) -> int | None:
        """Until the last day; negative: over by so many; None where a date alone is no limit [d]."""
        return None if self.due_date is None else (self.due_date - on).days

    @property
    def soonest(self) -> date | None:
        """The last day or the estimate, whichever comes first, to put lines in order; None without either."""
        return min((day for day in (self.due_date, self.estimate) if day is not None), default=None)

    @property
    def driver(self) -> str:
        """What runs out first: "hours", "landings" or "date"; "" where it can't be said without a rate."""
        kinds = [
            name
            for name, due in (
                ("hours", self.due_hours),
                ("landings", self.due_landings),
                ("date", self.due_date),
            )
            if due is not None
        ]
        if len(kinds) < 2:
            return kinds[0] if kinds else ""
        if self.estimate is None or self.due_date is None or self.due_landings is not None:
            return ""
        return "hours" if self.estimate < self.due_date else "date"

    def over_after(self, leg_hours: Decimal) -> Decimal | None:
        """By how much one more flight passes the hours; zero where it doesn't; None where there is no such limit [h].

        Source of there being no tolerance: 14 CFR 39.7; past the limit only a special flight permit, 14 CFR 39.23.
        """
        left = self.hours_left
        return None if left is None else max(leg_hours - left, Decimal(0))
