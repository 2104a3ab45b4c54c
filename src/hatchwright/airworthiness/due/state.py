"""How a line stands on a day: past a limit, at one, or with something left; never better than what is known."""

from __future__ import annotations

from datetime import date
from decimal import ROUND_CEILING, Decimal

from msgspec.structs import replace

from hatchwright.airworthiness.due.days import days_on
from hatchwright.airworthiness.due.line import DueLine, State
from hatchwright.airworthiness.due.terms import Point, Term
from hatchwright.said import said

_DAYS_A_MONTH = 30
"""Of the rate at which an aircraft is flown, and after so many days a reading is told to be old; own choice, no source
[d]."""


def judged(line: DueLine, per_month: Decimal | None, on: date, *, floor: Point | None) -> DueLine:
    """A line with its state on a day.

    Args:
        per_month: hours flown in 30 days, None where nobody entered it [h].
        floor: where the limits began to bind, on the aircraft's time; None where that is of no account.
    """
    now = line.now
    line = replace(line, estimate=_estimate(line, per_month))
    passed = [one for one in line.terms if _is_passed(one, now, on)]
    if passed:
        if (
            floor is not None
            and _not_flown_since(floor, now)
            and all(_was_passed(one, floor) for one in passed)
        ):
            return replace(line, state=State.BEFORE_FLIGHT)
        return replace(line, state=State.EN_ROUTE if _may_overrun(line, passed) else State.OVERDUE)
    unread = [name for name in ("hours", "landings") if _is_unread(line, name)]
    if unread:
        notes = (said(f"due.unread.{name}") for name in unread)
        return replace(line, state=State.NOT_SHOWN, notes=(*line.notes, *notes))
    if any(_is_used_up(one, now, on) for one in line.terms):
        return replace(line, state=State.BEFORE_FLIGHT)
    if _is_between_readings(line, on):
        return replace(line, state=State.NOT_SHOWN, notes=(*line.notes, said("due.note.between")))
    if line.estimate is not None and now.date is not None and now.date < on and line.estimate <= on:
        note = said("due.note.read_meter", on=now.date.isoformat())
        return replace(line, state=State.NOT_SHOWN, notes=(*line.notes, note))
    if line.hours_left is not None and line.estimate is None and now.date is not None:
        days = (on - now.date).days
        old = (said("due.note.old_reading", n=days),) if days > _DAYS_A_MONTH else ()
        line = replace(line, notes=(*line.notes, *old))
    return replace(line, state=State.OPEN)


def _estimate(line: DueLine, per_month: Decimal | None) -> date | None:
    """The day on which the hours run out at a rate, counted from the last reading; it is no limit."""
    left, read = line.hours_left, line.now.date
    if left is None or left < 0 or read is None or per_month is None:
        return None
    return days_on(read, int((left * _DAYS_A_MONTH / per_month).to_integral_value(ROUND_CEILING)))


def _is_passed(term: Term, now: Point, on: date) -> bool:
    """Whether all that a term names is known to be behind."""
    return (
        (term.hours is None or (now.hours is not None and now.hours > term.hours))
        and (term.landings is None or (now.landings is not None and now.landings > term.landings))
        and (term.date is None or on > term.date)
    )


def _is_used_up(term: Term, now: Point, on: date) -> bool:
    """Whether the next flight would pass it; the last day itself may be flown."""
    return (
        (term.hours is None or now.hours is None or now.hours >= term.hours)
        and (term.landings is None or now.landings is None or now.landings >= term.landings)
        and (term.date is None or on > term.date)
    )


def _was_passed(term: Term, floor: Point) -> bool:
    """Whether it was reached where the limits began to bind."""
    return (
        (term.hours is None or (floor.hours is not None and term.hours <= floor.hours))
        and (term.landings is None or (floor.landings is not None and term.landings <= floor.landings))
        and (term.date is None or (floor.date is not None and term.date <= floor.date))
    )


def _not_flown_since(floor: Point, now: Point) -> bool:
    return floor.hours is not None and now.hours is not None and now.hours <= floor.hours


def _may_overrun(line: DueLine, passed: list[Term]) -> bool:
    latest, now = line.latest_hours, line.now.hours
    is_hours = all(one.hours is not None and one.kinds == 1 for one in passed)
    return latest is not None and now is not None and now <= latest and is_hours


def _is_unread(line: DueLine, name: str) -> bool:
    """Whether a limit asks for what nobody read."""
    return getattr(line.now, name) is None and any(getattr(one, name) is not None for one in line.terms)


def _is_between_readings(line: DueLine, on: date) -> bool:
    """Whether a directive's calendar months would be over if they were months: no ruling was found on them there."""
    is_calendar = line.limits is not None and line.limits.calendar_months is not None
    return is_calendar and line.mandate.kind == "directive" and line.other is not None and on > line.other
