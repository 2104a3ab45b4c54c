"""One action on one aircraft, by the clock that its limits follow: what was done of it, and where they count from."""

from __future__ import annotations

from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.airworthiness.due.clock import Clock, Stay, stays_of, stays_on
from hatchwright.airworthiness.due.counted import binds_from, counts
from hatchwright.airworthiness.due.terms import Point
from hatchwright.job.fleet.fleet import Fleet, FleetAircraft
from hatchwright.job.fleet.mandates import Action, Alternative, FleetMandate
from hatchwright.job.fleet.times import AircraftTimes, Applies, Done


class Case(Struct, frozen=True):
    """What a line is worked out from.

    Args:
        stay: of the part that keeps its own time, None where the limits follow the aircraft.
        on: day for which it is asked; what is dated later is left out.
    """

    fleet: Fleet
    aircraft: FleetAircraft
    mandate: FleetMandate
    action: Action
    on: date
    stay: Stay | None = None

    @property
    def answer(self) -> Applies | None:
        """Whether the mandate applies to the aircraft, None while nobody has answered."""
        return self._answer_on(self.aircraft)

    def _answer_on(self, times: AircraftTimes) -> Applies | None:
        return next((one for one in times.applies if one.mandate == self.mandate.number), None)

    def history(self, mandate: FleetMandate, paragraph: str) -> list[tuple[Done, Point]]:
        """What was done of a paragraph, on the aircraft or wherever the part then was, with its time on this clock,
        the earliest first."""
        per_hour = self.action.landings_per_hour
        stays = stays_of(self.fleet.aircraft, self.stay.part) if self.stay else [None]
        found = []
        for stay in stays:
            times = stay.times if stay else self.aircraft
            for one in times.done:
                is_it = (one.mandate, one.paragraph) == (mandate.number, paragraph) and one.date <= self.on
                if is_it and (stay is None or stay.is_of(one)):
                    point = Clock(times, self.on, per_hour).at(one)
                    found.append((one, stay.own(point) if stay else point))
        return sorted(found, key=lambda one: (one[0].date, one[0].hours or 0))

    def counted(self, mandate: FleetMandate, paragraph: str) -> list[tuple[Done, Point]]:
        """As much of the history as counts."""
        return [one for one in self.history(mandate, paragraph) if counts(mandate, one[0])]

    def closing(self) -> Done | None:
        """The terminating action that closed this one, for the paragraph it names and no other, None without.

        Source: stored text of AD 98-18-04; that nothing else is closed is common practice, no source.
        """
        for action in self.mandate.actions:
            if self.action.paragraph in action.closes and (done := self._done_throughout(action)):
                return done
        return None

    def _done_throughout(self, action: Action) -> Done | None:
        """What was first done of an action; where it is on parts but this one on the aircraft, on all that are in."""
        on: tuple[Stay | None, ...] = (self.stay,)
        if self.stay is None and action.component:
            on = tuple(stays_on(self.aircraft, action.component, self.on))
        done = [replace(self, stay=stay).counted(self.mandate, action.paragraph) for stay in on]
        return done[0][0][0] if done and all(done) else None

    def alternative(self) -> Alternative | None:
        """The method approved last for this very serial and paragraph, None without. Source: 14 CFR 39.19."""
        approved = [
            one
            for one in self.mandate.alternatives
            if one.approved <= self.on
            and self.aircraft.serial in one.serials
            and one.paragraph == self.action.paragraph
        ]
        return max(approved, key=lambda one: one.approved, default=None)

    def after(self) -> Point:
        """When the action was first done that starts the clock of this one; no date: it was not."""
        starts = self.action.after
        assert starts is not None, "only asked where there is one"
        number = starts.mandate or self.mandate.number
        mandate = next(one for one in self.fleet.mandates if one.number == number)
        points = [point for _, point in self.counted(mandate, starts.paragraph)]
        return points[0] if points else Point()

    def effective(self) -> Point:
        """The day that the limits count from, with the time at its start.

        Source: stored texts of ADs 91-13-08 and 70-25-09.
        """
        day = binds_from(self.mandate, self.answer)
        if day is None:
            return Point()
        there = self.stay
        if there is not None and not there.holds(day):
            stays = stays_of(self.fleet.aircraft, there.part)
            there = next((one for one in stays if one.holds(day)), None)
            if there is None:
                return Point(day)
        times = there.times if there else self.aircraft
        entered = self._answer_on(times)
        point = Clock(times, self.on, self.action.landings_per_hour).at_start_of(day)
        if entered is not None and entered.hours is not None:
            point = replace(point, hours=entered.hours, is_low_hours=False)
        if entered is not None and entered.landings is not None:
            point = replace(point, landings=entered.landings, is_low_landings=False)
        return there.own(point) if there else point
