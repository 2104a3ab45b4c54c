"""Days and months counted on from a day, always from the day itself and never from one that was clipped.

Source: 14 CFR 91.409(a) for calendar months; months that are not called calendar months: common practice, no source.
"""

from __future__ import annotations

from calendar import monthrange
from datetime import date, timedelta

_MONTHS = 12


def days_on(base: date, days: int) -> date:
    """The last day of a limit in days.

    >>> days_on(date(2024, 2, 5), 30).isoformat()
    '2024-03-06'
    """
    return base + timedelta(days) if days <= (date.max - base).days else date.max


def months_on(base: date, months: int) -> date:
    """The same day of a later month, or its last one where it is shorter.

    >>> months_on(date(2026, 1, 31), 1).isoformat(), months_on(date(2026, 1, 31), 2).isoformat()
    ('2026-02-28', '2026-03-31')
    """
    end = calendar_months_on(base, months)
    return end.replace(day=min(base.day, end.day))


def calendar_months_on(base: date, months: int) -> date:
    """The last day of a later month.

    >>> calendar_months_on(date(2023, 2, 3), 12).isoformat()
    '2024-02-29'
    """
    year, month = divmod(base.year * _MONTHS + base.month - 1 + months, _MONTHS)
    if year > date.max.year:
        return date.max
    return date(year, month + 1, monthrange(year, month + 1)[1])
