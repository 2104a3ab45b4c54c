"""The limits of one action, as its text states them: whichever is reached first."""

from typing import Self

from pydantic import model_validator

from hatchwright.job.day import Day
from hatchwright.job.entry import Entered, YesNo, refusal
from hatchwright.job.fleet.hours import HoursMany, Many
from hatchwright.said import said


class Interval(Entered):
    """From one accomplishment to the next, or from a day on: whichever comes first."""

    hours: HoursMany | None = None
    landings: Many | None = None
    days: Many | None = None
    months: Many | None = None
    calendar_months: Many | None = None

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if self == type(self).model_construct():
            raise refusal(said("due.no_limit"), said("due.no_limit.do"))
        if self.months is not None and self.calendar_months is not None:
            raise refusal(said("due.two_months"), said("due.two_months.do"))
        return self


class FirstLimits(Interval):
    """Until when the first action is done: whichever comes first."""

    total_hours: HoursMany | None = None
    total_landings: Many | None = None
    date: Day | None = None
    before_flight: YesNo = False
