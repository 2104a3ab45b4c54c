"""How long an aircraft has flown, what was done and found when, and the parts whose time is their own."""

from bisect import bisect_left
from datetime import date
from decimal import Decimal
from functools import cached_property
from itertools import pairwise
from operator import itemgetter
from typing import Self

from pydantic import Field, model_validator

from hatchwright.job.day import Day
from hatchwright.job.entry import Entered, YesNo, refusal
from hatchwright.job.fleet.hours import Hours, HoursMany, Landings
from hatchwright.job.fleet.mandates import Number, Paragraph, Told
from hatchwright.said import said


class Reading(Entered):
    """Time in service and landings as read on a day: in all, or as the meter then shows."""

    date: Day
    hours: Hours | None = None
    meter: Hours | None = None
    landings: Landings | None = None

    @model_validator(mode="after")
    def _one_of_two(self) -> Self:
        if (self.hours is None) == (self.meter is None):
            raise refusal(said("due.hours_or_meter"), said("due.hours_or_meter.do"))
        return self


class MeterChange(Entered):
    """A meter that was put in: the time in service then, and what the new one showed."""

    date: Day
    total: Hours
    old: Hours | None = None
    new: Hours


class FittedPart(Entered):
    """A part with a time of its own, from when it was put in to when it came out."""

    name: Number
    serial: Number
    date: Day
    own_hours: Hours | None = None
    own_landings: Landings | None = None
    aircraft_hours: Hours
    aircraft_landings: Landings | None = None
    removed: Day | None = None
    removed_hours: Hours | None = None

    @property
    def own_hours_removed(self) -> Decimal | None:
        """Its own time when it came out, None where it is not known or it is still in [h]."""
        if self.own_hours is None or self.removed_hours is None:
            return None
        return self.own_hours + self.removed_hours - self.aircraft_hours

    @model_validator(mode="after")
    def _comes_out_later(self) -> Self:
        if (self.removed is None) != (self.removed_hours is None):
            raise refusal(said("due.removed_half"), said("due.removed_half.do"))
        day, hours = self.removed or self.date, self.removed_hours
        if day < self.date or (hours is not None and hours < self.aircraft_hours):
            raise refusal(said("due.removed_before"), said("due.removed_before.do"))
        return self


class Done(Entered):
    """An action of a mandate that was done, where and when it really was."""

    mandate: Number
    paragraph: Paragraph = ""
    date: Day
    hours: Hours | None = None
    landings: Landings | None = None
    part: str = Field(default="", max_length=120)
    revision: str = Field(default="", max_length=80)
    method: str = Field(default="", max_length=200)
    by: str = Field(default="", max_length=120)


class Found(Entered):
    """Something found, such as a crack, that a paragraph wants corrected before further flight."""

    mandate: Number
    paragraph: Paragraph = ""
    date: Day
    hours: Hours
    what: Told
    corrected: Day | None = None
    data: str = Field(default="", max_length=200)

    @model_validator(mode="after")
    def _corrected_by_data(self) -> Self:
        if (self.corrected is None) != (not self.data.strip()):
            raise refusal(said("due.corrected_half"), said("due.corrected_half.do"))
        if self.corrected is not None and self.corrected < self.date:
            raise refusal(said("due.corrected_before"), said("due.corrected_before.do"))
        return self


class Applies(Entered):
    """Whether a mandate applies to this aircraft, why, and its time when the limits began to count."""

    mandate: Number
    applies: YesNo
    reason: Told
    by: str = Field(default="", max_length=120)
    notice: Day | None = None
    hours: Hours | None = None
    landings: Landings | None = None


class Permit(Entered):
    """A special flight permit; the action stays overdue."""

    mandate: Number
    date: Day
    reference: Told


class AircraftTimes(Entered):
    """All that is known of the time of one aircraft and of what was done on it."""

    readings: tuple[Reading, ...] = Field(default=(), max_length=1000)
    meters: tuple[MeterChange, ...] = Field(default=(), max_length=100)
    components: tuple[FittedPart, ...] = Field(default=(), max_length=200)
    applies: tuple[Applies, ...] = Field(default=(), max_length=200)
    done: tuple[Done, ...] = Field(default=(), max_length=1000)
    found: tuple[Found, ...] = Field(default=(), max_length=200)
    permits: tuple[Permit, ...] = Field(default=(), max_length=200)
    hours_per_month: HoursMany | None = None

    @cached_property
    def known_hours(self) -> tuple[tuple[date, Decimal], ...]:
        """Every total time that is entered, with its day, the earliest first [h]."""
        known = [(one.date, self.total_hours(one)) for one in self.readings]
        known += [(one.date, one.total) for one in self.meters]
        known += [(one.date, one.hours) for one in self.done if one.hours is not None]
        known += [(one.date, one.hours) for one in self.found]
        for part in self.components:
            known.append((part.date, part.aircraft_hours))
            if part.removed is not None and part.removed_hours is not None:
                known.append((part.removed, part.removed_hours))
        return tuple(sorted(known))

    def hours_before(self, day: date) -> Decimal | None:
        """The least that had been flown when a day began, None where nothing is entered before it [h]."""
        at = bisect_left(self.known_hours, day, key=itemgetter(0))
        return self.known_hours[at - 1][1] if at else None

    @cached_property
    def known_landings(self) -> tuple[tuple[date, int, Decimal], ...]:
        """Every count of landings that is entered, with its day and the least hours flown then, the earliest first."""
        known = [
            (one.date, one.landings, self.total_hours(one))
            for one in self.readings
            if one.landings is not None
        ]
        for one in self.done:
            if one.landings is not None:
                hours = self.hours_before(one.date) if one.hours is None else one.hours
                known.append((one.date, one.landings, hours or Decimal(0)))
        known += [
            (part.date, part.aircraft_landings, part.aircraft_hours)
            for part in self.components
            if part.aircraft_landings is not None
        ]
        return tuple(sorted(known))

    def total_hours(self, reading: Reading) -> Decimal:
        """Time in service of a reading [h]."""
        if reading.hours is not None or reading.meter is None:
            return reading.hours or Decimal(0)
        meter = self._meter(reading.date)
        return reading.meter if meter is None else meter.total + reading.meter - meter.new

    def on_meter(self, hours: Decimal, on: date) -> Decimal | None:
        """What the meter of a day shows at a total time, None where none is entered or it was put in later [h]."""
        meter = self._meter(on)
        return None if meter is None or hours < meter.total else hours - meter.total + meter.new

    def _meter(self, on: date) -> MeterChange | None:
        """The last one that was put in by a day."""
        before = sorted((one for one in self.meters if one.date <= on), key=lambda one: (one.date, one.total))
        return before[-1] if before else None

    @model_validator(mode="after")
    def _time_goes_on(self) -> Self:
        for reading in self.readings:
            meter = self._meter(reading.date)
            if reading.meter is not None and meter is None:
                raise refusal(said("due.no_meter", on=reading.date.isoformat()), said("due.no_meter.do"))
            if reading.meter is not None and meter is not None and reading.meter < meter.new:
                raise refusal(said("due.meter_back", on=reading.date.isoformat()), said("due.meter_back.do"))
        for (_, before), (day, hours) in pairwise(self.known_hours):
            if hours < before:
                raise refusal(
                    said("due.hours_back", on=day.isoformat(), hours=str(hours), before=str(before)),
                    said("due.hours_back.do"),
                )
        for (_, before_many, _), (day, many, _) in pairwise(self.known_landings):
            if many < before_many:
                raise refusal(
                    said("due.landings_back", on=day.isoformat(), landings=many, before=before_many),
                    said("due.landings_back.do"),
                )
        answered = [one.mandate for one in self.applies]
        if twice := next((one for one in answered if answered.count(one) > 1), None):
            raise refusal(said("due.applies_twice", mandate=twice), said("due.applies_twice.do"))
        return self
