"""Every line of what is due in a fleet on a day.

Method: docs/theory/due.md. The mandate's own words win; where they are silent the earlier reading counts and the other
is told.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from msgspec.structs import replace

from hatchwright.airworthiness.due.case import Case
from hatchwright.airworthiness.due.clock import Clock, stays_on
from hatchwright.airworthiness.due.counted import notes_on
from hatchwright.airworthiness.due.days import calendar_months_on, months_on
from hatchwright.airworthiness.due.line import DueLine, Since, State
from hatchwright.airworthiness.due.state import judged
from hatchwright.airworthiness.due.terms import (
    Point,
    Term,
    first_of,
    lacking,
    whichever_first,
    whichever_later,
)
from hatchwright.job.fleet.fleet import Fleet, FleetAircraft
from hatchwright.job.fleet.limits import FirstLimits, Interval
from hatchwright.job.fleet.mandates import Action, FleetMandate
from hatchwright.job.fleet.times import Applies, Found
from hatchwright.said import Said, said

_NOT_ENTERED = Action.model_construct(asks="")
"""Stands for what a mandate asks while nobody has entered it, so that no mandate is passed over."""


def lines_of(fleet: Fleet, aircraft: FleetAircraft, on: date) -> tuple[DueLine, ...]:
    """What is due on one aircraft of a fleet on a day, the worst first; what is dated later is left out."""
    order = list(State)
    lines = (
        line
        for mandate in fleet.mandates
        for action in mandate.actions or (_NOT_ENTERED,)
        for line in _lines(Case(fleet, aircraft, mandate, action, on))
    )
    return tuple(sorted(lines, key=lambda line: (order.index(line.state), line.soonest or date.max)))


def _lines(case: Case) -> Iterator[DueLine]:
    mandate, action, aircraft, on = case.mandate, case.action, case.aircraft, case.on
    plain = DueLine(
        aircraft.registration, aircraft.serial, mandate, action, State.OPEN,
        Clock(aircraft, on, action.landings_per_hour).now(),
        answer=case.answer,
        permits=tuple(one for one in aircraft.permits if one.mandate == mandate.number and one.date <= on),
        notes=tuple(_about(mandate, case.answer)),
    )  # fmt: skip
    for found in _open_findings(case):
        base = Point(found.date, found.hours)
        terms = whichever_first((Term(hours=base.hours), Term(date=base.date)))
        line = replace(plain, found=found, since=Since.FOUND, base=base, terms=terms)
        yield judged(line, aircraft.hours_per_month, on, floor=base)
    if case.answer is not None and not case.answer.applies:
        yield replace(plain, state=State.DOES_NOT_APPLY)
    elif _is_replaced(case):
        yield replace(plain, state=State.REPLACED)
    elif action is _NOT_ENTERED:
        yield _not_shown(plain, said("due.note.no_action"))
    elif not action.component:
        yield from _of_clock(case, plain)
    elif stays := stays_on(aircraft, action.component, on):
        for stay in stays:
            with_part = Case(case.fleet, aircraft, mandate, action, on, stay)
            yield from _of_clock(with_part, replace(plain, part=stay.part))
    else:
        yield _not_shown(plain, said("due.note.no_part", part=action.component))


def _about(mandate: FleetMandate, answer: Applies | None) -> Iterator[Said]:
    if answer is None:
        yield said("due.note.applies_open")
    if not mandate.read_by or not mandate.checked_by or mandate.read_by == mandate.checked_by:
        yield said("due.note.unchecked")


def _open_findings(case: Case) -> Iterator[Found]:
    """Before further flight from where it was found. Source: common AD pattern, from memory."""
    for one in case.aircraft.found:
        is_here = (one.mandate, one.paragraph) == (case.mandate.number, case.action.paragraph)
        if is_here and one.date <= case.on and (one.corrected is None or one.corrected > case.on):
            yield one


def _is_replaced(case: Case) -> bool:
    return any(
        one.replaces == case.mandate.number and one.effective is not None and one.effective <= case.on
        for one in case.fleet.mandates
        if one is not case.mandate
    )


def _not_shown(line: DueLine, *notes: Said) -> DueLine:
    unknown = frozenset(("hours", "landings", "date"))
    return replace(line, state=State.NOT_SHOWN, unknown=unknown, notes=(*line.notes, *notes))


def _of_clock(case: Case, plain: DueLine) -> Iterator[DueLine]:
    """The lines of an action by the time of the aircraft, or of a part."""
    action = case.action
    done = [one for one, _ in case.history(case.mandate, action.paragraph)]
    counted = case.counted(case.mandate, action.paragraph)
    alternative = case.alternative()
    repeat = _with_letter(action.repeat, alternative.repeat if alternative else None)
    if action.after is not None and repeat is None and (start := case.after().date):
        counted = [one for one in counted if one[0].date >= start]
    last = counted[-1][0] if counted else None
    notes = (*plain.notes, *notes_on(case.mandate, done), *_of_no_part(case))
    plain = replace(plain, last=last, alternative=alternative, notes=notes)
    if closing := case.closing():
        yield replace(plain, state=State.CLOSED, last=closing)
        return
    if action.closes and last is not None:
        yield replace(plain, state=State.STANDS, keeps=True)
    if action.stands:
        yield replace(plain, state=State.STANDS)
    elif last is None:
        yield _first(case, plain, repeat)
    elif repeat is None:
        yield replace(plain, state=State.DONE)
    else:
        yield _repeated(case, plain, repeat, [point for _, point in counted])


def _with_letter(own: Interval | None, letter: Interval | None) -> Interval | None:
    """The interval of an approved letter; a kind of limit that it does not name stays as the mandate has it."""
    if own is None or letter is None:
        return letter or own
    kinds = (("hours",), ("landings",), ("days", "months", "calendar_months"))
    unnamed = (kind for kind in kinds if all(getattr(letter, name) is None for name in kind))
    return letter.model_copy(update={name: getattr(own, name) for kind in unnamed for name in kind})


def _of_no_part(case: Case) -> Iterator[Said]:
    """Accomplishments that don't tell on which of several parts they were."""
    for one in case.aircraft.done if case.stay else ():
        is_it = (one.mandate, one.paragraph) == (case.mandate.number, case.action.paragraph)
        if is_it and case.stay and case.stay.holds(one.date) and not one.part and not case.stay.is_of(one):
            yield said("due.note.which_part", on=one.date.isoformat())


def _first(case: Case, plain: DueLine, repeat: Interval | None) -> DueLine:
    """The first time: from the effective date, or from another action."""
    action, alternative = case.action, plain.alternative
    of_alternative = alternative.first if alternative else None
    limits: Interval | None = of_alternative or action.first
    if action.after is not None:
        start, since = case.after(), Since.AFTER
        limits = limits or repeat
        if start.date is None:
            return replace(plain, state=State.WAITS, since=since)
    else:
        start = case.effective()
        since = Since.EFFECTIVE if start.date == case.mandate.effective else Since.NOTICE
    if limits is None:
        return _not_shown(plain, said("due.note.never_done"))
    line = replace(plain, limits=limits, since=since, base=start)
    or_later = None if of_alternative else action.or_later
    return _on_aircraft(case, line, or_later, start, floor=None if since is Since.AFTER else start)


def _repeated(case: Case, plain: DueLine, repeat: Interval, points: Sequence[Point]) -> DueLine:
    """The next time: from where the last was really done, whether that was early or late.

    Source: "thereafter at intervals not to exceed", common practice, no source.
    """
    overrun, base, start = case.action.overrun, points[-1], case.effective()
    if overrun is not None:
        base = _less_overrun(repeat, points)
    line = replace(plain, limits=repeat, since=Since.DONE, base=base)
    if overrun is not None and base.hours is not None and repeat.hours is not None:
        line = replace(line, latest_hours=base.hours + repeat.hours + overrun)
    is_before = start.date is not None and base.date is not None and base.date < start.date
    grace = case.action.grace if is_before else None
    return _on_aircraft(case, line, grace, start, floor=start if is_before else None)


def _less_overrun(repeat: Interval, points: Sequence[Point]) -> Point:
    """The point that the next hours count from: what was flown past a limit comes off them.

    Source: 14 CFR 91.409(b).
    """
    base = points[0]
    for point in points[1:]:
        due = None if base.hours is None or repeat.hours is None else base.hours + repeat.hours
        is_over = due is not None and point.hours is not None and point.hours > due
        base = replace(point, hours=due) if is_over else point
    return base


def _on_aircraft(
    case: Case, line: DueLine, or_later: Interval | None, start: Point, *, floor: Point | None
) -> DueLine:
    """A line with its limits on the aircraft's time, judged.

    Args:
        or_later: limits from `start` that the text lets come later than its others, None without.
        floor: where the limits began to bind; what was passed by then is due before further flight.
    """
    limits, stay = line.limits, case.stay
    assert limits is not None, "a line that counts has limits"
    terms, lacks = first_of(limits, line.base), set(lacking(limits, line.base))
    if (eve := _eve_of_flight(limits, line.base, case.on)) is not None:
        terms = whichever_first((*(one for one in terms if one != Term(line.base.hours)), eve))
        lacks -= set() if limits.hours else {"hours"}  # it counts from them once it is in effect
    if or_later is not None:
        lacks |= lacking(or_later, start)
        terms = () if lacks else whichever_later(terms, first_of(or_later, start))
    if stay is not None:
        terms, floor = stay.on_aircraft(terms), stay.aircraft_point(floor) if floor else None
        if stay.part.own_hours is None and _counts("hours", limits, or_later):
            lacks.add("own_hours")
        if None in (stay.part.own_landings, stay.part.aircraft_landings) and _counts(
            "landings", limits, or_later
        ):
            lacks.add("own_landings")
    notes = (*_how_read(line.base, limits), *(said(f"due.lacks.{name}") for name in sorted(lacks)))
    line = replace(line, terms=terms, notes=(*line.notes, *notes), other=_other_reading(line, limits))
    if lacks:
        unknown = lacks if or_later is None else {"hours", "landings", "date"}
        kinds = frozenset(name.removeprefix("own_") for name in unknown)
        return replace(line, state=State.NOT_SHOWN, unknown=kinds)
    return judged(line, case.aircraft.hours_per_month, case.on, floor=floor)


def _eve_of_flight(limits: Interval, base: Point, on: date) -> Term | None:
    """Until "before further flight" takes effect the aircraft may fly: through the day before; None where it has."""
    is_asked = isinstance(limits, FirstLimits) and limits.before_flight
    later = base.date if is_asked and base.date is not None and base.date > on else None
    return Term(date=later - timedelta(1)) if later else None


def _counts(kind: str, *limits: Interval | None) -> bool:
    names = (kind, f"total_{kind}", *(("before_flight",) if kind == "hours" else ()))
    return any(getattr(one, name, None) for one in limits for name in names)


def _how_read(base: Point, limits: Interval) -> Iterator[Said]:
    """Where a limit counts from less than it might, or a month was too short."""
    on = base.date.isoformat() if base.date else ""
    if base.is_low_hours and limits.hours is not None:
        yield said("due.note.low_hours", on=on, hours=str(base.hours))
    if base.is_low_landings and limits.landings is not None:
        yield said("due.note.low_landings", on=on, landings=str(base.landings))
    if base.date and limits.months is not None and months_on(base.date, limits.months).day != base.date.day:
        yield said("due.note.clipped", on=on)


def _other_reading(line: DueLine, limits: Interval) -> date | None:
    """The last day if months were calendar months, or the other way round; None where the law says which they are."""
    day, is_law = line.base.date, line.mandate.kind == "inspection"
    if day is None:
        return None
    if limits.months is not None:
        return calendar_months_on(day, limits.months)
    of_calendar = None if is_law else limits.calendar_months
    return None if of_calendar is None else months_on(day, of_calendar)
