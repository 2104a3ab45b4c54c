"""What an aircraft weighs empty and where, and within which limits."""

from pydantic import Field

from hatchwright.job.entry import Entered


class AircraftWeight(Entered):
    """Empty weight and arm as last recorded."""

    datum: str = Field(default="", max_length=120)
