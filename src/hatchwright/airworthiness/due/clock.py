"""The time that limits follow: that of the aircraft, or of a part that keeps its own when it moves.

What is not read on a day is taken from before it, so that limits counted from there come early. Source: 14 CFR 1.1 for
time in service, from memory; the rest common practice, no source.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from datetime import date, timedelta
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from operator import itemgetter

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.airworthiness.due.terms import Point, Terms
from hatchwright.job.fleet.times import AircraftTimes, Done, FittedPart


class Clock(Struct, frozen=True):
    """The time of one aircraft.

    Args:
        on: what is dated later is left out.
        per_hour: landings that the mandate lets an hour count for where none are recorded, None where it doesn't [1/h].
    """

    times: AircraftTimes
    on: date
    per_hour: Decimal | None = None

    def now(self) -> Point:
        """The most that is known to have been flown by the end of the day, with the day of that reading; landings that
        are not recorded are estimated high."""
        known, many = self._hours(self.on), self._landings(self.on)
        if known is None:
            return Point(None, None, many[1] if many else None)
        landings = many[1] if many else None
        if self.per_hour is not None:
            hours, from_landings = (known[1], 0) if many is None else (known[1] - many[2], many[1])
            landings = from_landings + estimated(hours, self.per_hour, up=True)
        return Point(known[0], known[1], landings)

    def at_start_of(self, day: date) -> Point:
        """The least that had been flown when a day began."""
        known = self._hours(min(_eve(day), self.on))
        hours = known[1] if known else None
        return self._low(Point(day, hours, None, is_low_hours=hours is not None))

    def at(self, one: Done) -> Point:
        """The time of something that was done; without its hours, the least that had been flown that day."""
        start = self.at_start_of(one.date)
        point = start if one.hours is None else self._low(Point(one.date, one.hours))
        if one.landings is None:
            return point
        return replace(point, landings=one.landings, is_low_landings=False)

    def _low(self, point: Point) -> Point:
        """A point with the landings that were recorded before its day, or the fewest that its hours stand for."""
        many = self._landings(min(_eve(point.date), self.on)) if point.date else None
        if many is not None:
            return replace(point, landings=many[1], is_low_landings=True)
        if self.per_hour is not None and point.hours is not None:
            return replace(
                point, landings=estimated(point.hours, self.per_hour, up=False), is_low_landings=True
            )
        return point

    def _hours(self, until: date) -> tuple[date, Decimal] | None:
        """The last total time that is entered by the end of a day."""
        known = self.times.known_hours
        at = bisect_right(known, until, key=itemgetter(0))
        return known[at - 1] if at else None

    def _landings(self, until: date) -> tuple[date, int, Decimal] | None:
        """The last count of landings that is entered by the end of a day, with the least hours then [h]."""
        known = self.times.known_landings
        at = bisect_right(known, until, key=itemgetter(0))
        return known[at - 1] if at else None


def estimated(hours: Decimal, per_hour: Decimal, *, up: bool) -> int:
    """Landings that hours stand for, by the factor that a mandate gives.

    Args:
        hours: flown [h].
        per_hour: landings [1/h].
        up: what was made so far is rounded up, what a limit counts from is rounded down.

    >>> estimated(Decimal("3010.4"), Decimal("1.5"), up=True)
    4516
    """
    return int((hours * per_hour).to_integral_value(ROUND_CEILING if up else ROUND_FLOOR))


class Stay(Struct, frozen=True):
    """A part in one aircraft, from when it was put in to when it came out."""

    times: AircraftTimes
    part: FittedPart

    def holds(self, day: date) -> bool:
        """Whether the part was in that day."""
        return self.part.date <= day and (self.part.removed is None or day <= self.part.removed)

    def is_of(self, one: Done) -> bool:
        """Whether something was done on this part: it is named, or no other of its name was in that day."""
        if one.part or not self.holds(one.date):
            return one.part == self.part.serial and self.holds(one.date)
        return not any(
            other.serial != self.part.serial
            and other.name == self.part.name
            and Stay(self.times, other).holds(one.date)
            for other in self.times.components
        )

    def own(self, point: Point) -> Point:
        """A time of the aircraft as time of the part."""
        part = self.part
        hours = landings = None
        if point.hours is not None and part.own_hours is not None:
            # A bound from before it was put in is no time of its own.
            hours = max(part.own_hours + point.hours - part.aircraft_hours, part.own_hours)
        if (
            point.landings is not None
            and part.own_landings is not None
            and part.aircraft_landings is not None
        ):
            landings = max(part.own_landings + point.landings - part.aircraft_landings, part.own_landings)
        return replace(point, hours=hours, landings=landings)

    @property
    def _ahead(self) -> tuple[Decimal, int]:
        """By how much the aircraft's time is ahead of the part's own; what is not known counts as none [h], [-]."""
        part = self.part
        hours = Decimal(0) if part.own_hours is None else part.aircraft_hours - part.own_hours
        return hours, (part.aircraft_landings or 0) - (part.own_landings or 0)

    def on_aircraft(self, terms: Terms) -> Terms:
        """Limits in the part's own time as time of the aircraft; what counts in time that isn't known is left out."""
        part, (hours, landings) = self.part, self._ahead
        known = (part.own_hours is not None, None not in (part.own_landings, part.aircraft_landings))
        return tuple(
            term.moved(hours, landings)
            for term in terms
            if (term.hours is None or known[0]) and (term.landings is None or known[1])
        )

    def aircraft_point(self, own: Point) -> Point:
        """A point in the part's own time as one in the aircraft's."""
        hours, landings = self._ahead
        return replace(
            own,
            hours=None if own.hours is None else own.hours + hours,
            landings=None if own.landings is None else own.landings + landings,
        )


def _eve(day: date) -> date:
    return day - timedelta(1) if day > date.min else day


def stays_on(times: AircraftTimes, name: str, on: date) -> list[Stay]:
    """The parts of a name that are in an aircraft at the end of a day."""
    stays = (Stay(times, one) for one in times.components if one.name == name)
    return [one for one in stays if one.holds(on) and one.part.removed != on]


def stays_of(fleet: Sequence[AircraftTimes], part: FittedPart) -> list[Stay]:
    """Everywhere that a part was, the earliest first."""
    all_stays = (Stay(times, one) for times in fleet for one in times.components)
    found = [one for one in all_stays if (one.part.name, one.part.serial) == (part.name, part.serial)]
    return sorted(found, key=lambda one: one.part.date)
