"""A caution that somebody read and lets stand, with the reason and initials."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from hatchwright.job.entry import Entered, matching
from hatchwright.said import said


class Acknowledged(Entered):
    """A caution that may stand; it is open again as soon as its number changes."""

    code: Annotated[str, matching(r"[RTS]\d{3}", said("job.no_code"), said("job.no_code.do"))]
    number: str = Field(min_length=1, max_length=60)
    reason: str = Field(min_length=3, max_length=600)
    initials: str = Field(min_length=1, max_length=12)
