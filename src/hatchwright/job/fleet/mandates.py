"""What asks for an action on the aircraft of a fleet, and by when."""

from typing import Literal

from pydantic import Field

from hatchwright.job.day import Day
from hatchwright.job.entry import Entered


class FleetMandate(Entered):
    """A directive or bulletin as it is read."""

    number: str = Field(min_length=1, max_length=120)
    kind: Literal["directive", "bulletin", "owner"] = "directive"
    amendment: str = Field(default="", max_length=80)
    revision: str = Field(default="", max_length=80)
    effective: Day | None = None
