"""A day as the job file writes it, so that days can be put in order."""

from __future__ import annotations

import re
from datetime import date
from typing import Annotated, Any

from hatchwright.job.entry import ReadBy, WrittenBy, refusal
from hatchwright.said import said

_WRITTEN = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


def _day(value: Any) -> date:
    if type(value) is date:
        return value
    text = value.strip() if isinstance(value, str) else ""
    if not _WRITTEN.fullmatch(text):
        raise refusal(said("job.no_day"), said("job.no_day.do"))
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise refusal(said("job.day_not_there"), said("job.day_not_there.do")) from None


Day = Annotated[date, ReadBy(_day), WrittenBy(date.isoformat)]
"""Year, month and day, such as ``2026-03-09``."""
