"""What is due, in sentences: the command, the page and the calendar say the same."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from hatchwright.airworthiness.due.line import DueLine, Since, State
from hatchwright.airworthiness.due.terms import Point, Term
from hatchwright.job.fleet.times import AircraftTimes
from hatchwright.said import Listed, Said, Value, said


def hours_text(hours: Decimal) -> str:
    """Hours as they are written, every place that was typed [h]."""
    return f"{hours:f}"


def state_said(line: DueLine) -> Said:
    """How a line stands, in a word or two."""
    return said(f"due.state.{line.state.name.lower()}")


def head_said(aircraft: AircraftTimes, now: Point, on: date) -> Said:
    """The time of an aircraft, and of when that is."""
    if now.hours is None or now.date is None:
        return said("due.head_unread")
    days = (on - now.date).days
    id = "due.head_old" if days else "due.head"
    return said(id, hours=hours_text(now.hours), on=now.date.isoformat(), n=days)


def title_said(line: DueLine) -> Said:
    """What is asked by which paragraph, of which part."""
    action, number = line.action, line.mandate.number
    if not action.asks:
        return said("due.title_no_action", number=number)
    if line.found is not None:
        asks: Value = said("due.title_found", what=line.found.what, asks=action.asks)
    else:
        asks = said("due.title_keeps", asks=action.asks) if line.keeps else action.asks
    if line.part is not None:
        asks = said("due.title_part", asks=asks, part=line.part.name, serial=line.part.serial)
    if action.paragraph:
        return said("due.title_paragraph", number=number, paragraph=action.paragraph, asks=asks)
    return said("due.title", number=number, asks=asks)


def limits_said(line: DueLine, on: date) -> Iterator[Said]:
    """Every limit with what is left; where hours or a date are none, that is said."""
    if not line.terms and not line.state.holds_back:
        yield said("due.stands" if line.state is State.STANDS else "due.next_none")
        return
    yield _hours_said(line)
    if line.due_landings is not None:
        yield _landings_said(line.due_landings, line.landings_left)
    elif "landings" in line.unknown and line.limits is not None:
        yield said("due.limit.unknown_landings")
    yield _date_said(line, on)
    for term in line.joint:
        yield said("due.limit.joint", limits=Listed(tuple(_parts(term))))


def _hours_said(line: DueLine) -> Said:
    due, left = line.due_hours, line.hours_left
    if due is None:
        return said("due.limit.unknown_hours" if "hours" in line.unknown else "due.limit.no_hours")
    if left is None:
        return said("due.limit.hours", due=hours_text(due))
    if left < 0:
        return said("due.limit.hours_over", due=hours_text(due), over=hours_text(-left))
    return said("due.limit.hours_left", due=hours_text(due), left=hours_text(left))


def _landings_said(due: int, left: int | None) -> Said:
    if left is None:
        return said("due.limit.landings", due=str(due))
    return said(
        "due.limit.landings_over" if left < 0 else "due.limit.landings_left", due=str(due), n=abs(left)
    )


def _date_said(line: DueLine, on: date) -> Said:
    left = line.days_left(on)
    if line.due_date is None or left is None:
        return said("due.limit.unknown_date" if "date" in line.unknown else "due.limit.no_date")
    return said(
        "due.limit.date_over" if left < 0 else "due.limit.date_left",
        due=line.due_date.isoformat(),
        n=abs(left),
    )


def _parts(term: Term) -> Iterator[Said]:
    if term.hours is not None:
        yield said("due.limit.hours", due=hours_text(term.hours))
    if term.landings is not None:
        yield said("due.limit.landings", due=str(term.landings))
    if term.date is not None:
        yield said("due.limit.date", due=term.date.isoformat())


def about_said(line: DueLine, aircraft: AircraftTimes, on: date) -> Iterator[Said]:
    """How a line was found, and what else is to be known of it."""
    yield from _counted(line)
    if line.due_hours is not None and (shown := aircraft.on_meter(line.due_hours, on)) is not None:
        yield said("due.on_meter", hours=hours_text(shown))
    if line.latest_hours is not None:
        yield said("due.overrun", hours=hours_text(line.latest_hours))
    if line.alternative is not None:
        one = line.alternative
        yield said(
            "due.alternative",
            letter=one.letter,
            on=one.approved.isoformat(),
            by=one.by,
            paragraph=one.paragraph,
        )
        if one.conditions:
            yield said("due.alternative_conditions", conditions=one.conditions)
    if line.other is not None and line.limits is not None:
        id = "due.other_month" if line.limits.months is not None else "due.other_calendar"
        yield said(id, on=line.other.isoformat())
    if line.estimate is not None and aircraft.hours_per_month is not None:
        yield said("due.estimate", rate=hours_text(aircraft.hours_per_month), on=line.estimate.isoformat())
    if line.driver and sum(one is not None for one in (line.due_hours, line.due_landings, line.due_date)) > 1:
        yield said(f"due.driver.{line.driver}")
    yield from line.notes
    yield from _permit(line)


def _counted(line: DueLine) -> Iterator[Said]:
    if line.answer is not None and not line.answer.applies:
        yield said("due.does_not_apply", reason=line.answer.reason)
    if line.since is not None and line.base.date is not None:
        yield said(f"due.since.{line.since.value}", at=_point(line))
    elif line.since is Since.AFTER and line.action.after is not None:
        after = line.action.after
        yield said("due.waits_for", number=after.mandate or line.mandate.number, paragraph=after.paragraph)
    if line.last is not None and line.since is not Since.DONE and line.found is None:
        yield said("due.last_done", on=line.last.date.isoformat(), paragraph=line.last.paragraph)


def _point(line: DueLine) -> Said:
    on, hours = line.base.date, line.base.hours
    assert on is not None, "asked only where it is known"
    if hours is None:
        return said("due.at_day", on=on.isoformat())
    id = "due.at_hours" if line.part is None or line.found is not None else "due.at_own_hours"
    return said(id, on=on.isoformat(), hours=hours_text(hours))


def _permit(line: DueLine) -> Iterator[Said]:
    """What the text says of a special flight permit, where one would be needed. Source: 14 CFR 39.23."""
    if not line.state.holds_back:
        return
    if line.mandate.kind == "directive":
        yield said(f"due.permit.{line.mandate.permit or 'unread'}")
        if line.mandate.permit_words:
            yield said("due.permit_words", words=line.mandate.permit_words)
    for one in line.permits:
        yield said("due.permit_issued", reference=one.reference, on=one.date.isoformat())


def leg_said(line: DueLine, leg_hours: Decimal) -> Said | None:
    """What one more flight does to a line, None where it stays within."""
    over = line.over_after(leg_hours)
    if not over:
        return None
    return said(
        "due.leg",
        leg=hours_text(leg_hours),
        over=hours_text(over),
        due=hours_text(line.due_hours or Decimal(0)),
    )
