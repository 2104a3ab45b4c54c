"""A caution that somebody read and lets stand, with the reason and initials."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from hatchwright.job.entry import Entered, matching
from hatchwright.said import said


class Acknowledged(Entered):
    """A caution that may stand; it is open again as soon as its number changes."""

    code: Annotated[str, matching(r"[RTS]\d{3}", said("job.no_code"), said("job.no_code.do"))] = Field(
        description="Code of the caution"
    )
    number: str = Field(
        min_length=1, max_length=60, description="The number that 'hatchwright check --more' prints for it"
    )
    reason: str = Field(min_length=3, max_length=600, description="Why it may stand")
    initials: str = Field(min_length=1, max_length=12, description="Initials of the person who decided")
