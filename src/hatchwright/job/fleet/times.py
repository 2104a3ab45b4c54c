"""How long an aircraft has flown: readings of its meter, and what was done when."""

from pydantic import Field

from hatchwright.job.day import Day
from hatchwright.job.entry import Entered


class Reading(Entered):
    """Total time and landings on a day."""

    date: Day
    hours: str = Field(max_length=20)


class Done(Entered):
    """An action of a mandate that was done."""

    mandate: str = Field(min_length=1, max_length=120)
    date: Day
    hours: str = Field(default="", max_length=20)
