"""Hours and landings as they are entered: decimals kept as typed, never a float, so that nothing is rounded late."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Any

from pydantic_core import PydanticCustomError

from hatchwright.errors import EntryError
from hatchwright.job.entry import ReadBy, WrittenBy, refusal
from hatchwright.number import Range, decimal
from hatchwright.said import said

TOTAL_HOURS = Range(0.0, 500_000.0)
"""Time in service of an aircraft or a part of it; common practice, no source [h]."""

TOTAL_LANDINGS = Range(0, 1_000_000)
"""Landings or cycles; common practice, no source [-]."""

_MOST_PLACES = 2
"""Behind the point: meters show tenths, some hundredths [-]."""


def _hours(value: Any) -> Decimal:
    if isinstance(value, Decimal):
        return value
    is_number = isinstance(value, str | int) and not isinstance(value, bool)
    text = str(value).strip() if is_number else ""
    try:
        exact = decimal(text, most=TOTAL_HOURS.most)
    except EntryError as error:
        raise refusal(error.what, error.remedy) from None
    if exact is None or len(text.replace(",", ".").partition(".")[2]) > _MOST_PLACES:
        raise refusal(said("due.no_hours"), said("due.no_hours.do"))
    if float(exact) not in TOTAL_HOURS:
        raise refusal(said("due.hours_range"), said("due.hours_range.do"))
    return Decimal(text.replace(",", "."))


def hours_typed(text: str) -> Decimal | None:
    """Hours typed in a box or behind an option, None where they are none [h]."""
    try:
        return _hours(text)
    except PydanticCustomError:
        return None


def _interval(value: Any) -> Decimal:
    hours = _hours(value)
    if hours == 0:
        raise refusal(said("due.zero"), said("due.zero.do"))
    return hours


def _landings(value: Any) -> int:
    text = "" if isinstance(value, bool) else str(value).strip()
    if not (text.isascii() and text.isdigit()) or len(text) > len(str(TOTAL_LANDINGS.most)):
        raise refusal(said("due.no_landings"), said("due.no_landings.do"))
    if int(text) not in TOTAL_LANDINGS:
        raise refusal(said("due.no_landings"), said("due.no_landings.do"))
    return int(text)


def _many(value: Any) -> int:
    many = _landings(value)
    if many == 0:
        raise refusal(said("due.zero"), said("due.zero.do"))
    return many


Hours = Annotated[Decimal, ReadBy(_hours), WrittenBy(str)]
"""A reading or a total [h]."""
HoursMany = Annotated[Decimal, ReadBy(_interval), WrittenBy(str)]
"""A limit or interval, greater than zero [h]."""
Landings = Annotated[int, ReadBy(_landings)]
"""A reading or a total [-]."""
Many = Annotated[int, ReadBy(_many)]
"""A limit or interval, greater than zero: landings, days or months [-]."""
