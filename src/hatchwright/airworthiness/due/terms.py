"""Limits as they fall on one aircraft: the first to be passed is the one that counts.

A term may need several things at once (hours *and* a date): so stands "whichever is later", without being rounded to
either. Hours are exact decimals.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from itertools import product

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.airworthiness.due.days import calendar_months_on, days_on, months_on
from hatchwright.job.fleet.limits import FirstLimits, Interval


class Point(Struct, frozen=True):
    """A day with what had been flown by then.

    Args:
        date: None where nobody entered it.
        hours: None where they aren't known [h].
        landings: None where they aren't known [-].
        is_low_hours: the hours are those of an earlier reading, so that limits counted from here come early.
        is_low_landings: the same of landings, or they are estimated.
    """

    date: date | None = None
    hours: Decimal | None = None
    landings: int | None = None
    is_low_hours: bool = False
    is_low_landings: bool = False


class Term(Struct, frozen=True):
    """A limit that is passed when all that it names is passed; one that names nothing never is.

    Args:
        hours: last ones that may be flown [h].
        landings: last one that may be made [-].
        date: last day.
    """

    hours: Decimal | None = None
    landings: int | None = None
    date: date | None = None

    @property
    def kinds(self) -> int:
        """How many things it names."""
        return sum(one is not None for one in (self.hours, self.landings, self.date))

    def is_passed_before(self, other: Term) -> bool:
        """Whether it is passed whenever the other one is."""
        return (
            _needs_no_more(self.hours, other.hours)
            and _needs_no_more(self.landings, other.landings)
            and (self.date is None or (other.date is not None and self.date <= other.date))
        )

    def moved(self, hours: Decimal, landings: int) -> Term:
        """The same on another clock [h], [-]."""
        return replace(
            self,
            hours=None if self.hours is None else self.hours + hours,
            landings=None if self.landings is None else self.landings + landings,
        )


Terms = tuple[Term, ...]


def _needs_no_more(one: Decimal | int | None, other: Decimal | int | None) -> bool:
    return one is None or (other is not None and one <= other)


def first_of(limits: Interval, base: Point) -> Terms:
    """The limits that count from a point, whichever first; one whose base is not known is left to `lacking`."""
    terms: list[Term] = []
    if limits.hours is not None and base.hours is not None:
        terms.append(Term(hours=base.hours + limits.hours))
    if limits.landings is not None and base.landings is not None:
        terms.append(Term(landings=base.landings + limits.landings))
    if base.date is not None:
        terms += [Term(date=day) for day in _days(limits, base.date)]
    if isinstance(limits, FirstLimits):
        terms += _stated(limits, base)
    return whichever_first(terms)


def _days(limits: Interval, base: date) -> Iterable[date]:
    if limits.days is not None:
        yield days_on(base, limits.days)
    if limits.months is not None:
        yield months_on(base, limits.months)
    if limits.calendar_months is not None:
        yield calendar_months_on(base, limits.calendar_months)


def _stated(limits: FirstLimits, base: Point) -> Iterable[Term]:
    if limits.total_hours is not None:
        yield Term(hours=limits.total_hours)
    if limits.total_landings is not None:
        yield Term(landings=limits.total_landings)
    if limits.date is not None:
        yield Term(date=limits.date)
    if limits.before_flight:
        yield from (Term(hours=base.hours), Term(date=base.date))


def whichever_first(terms: Iterable[Term]) -> Terms:
    """The terms without those that another one comes before."""
    kept: list[Term] = []
    for term in dict.fromkeys(term for term in terms if term.kinds):
        if not any(one.is_passed_before(term) for one in kept):
            kept = [one for one in kept if not term.is_passed_before(one)] + [term]
    return tuple(kept)


def whichever_later(one: Terms, other: Terms) -> Terms:
    """What is passed when a term of each is."""
    return whichever_first(
        Term(_later(a.hours, b.hours), _later_many(a.landings, b.landings), _later_day(a.date, b.date))
        for a, b in product(one, other)
    )


def _later(one: Decimal | None, other: Decimal | None) -> Decimal | None:
    return max((here for here in (one, other) if here is not None), default=None)


def _later_many(one: int | None, other: int | None) -> int | None:
    return max((here for here in (one, other) if here is not None), default=None)


def _later_day(one: date | None, other: date | None) -> date | None:
    return max((here for here in (one, other) if here is not None), default=None)


def lacking(limits: Interval, base: Point) -> frozenset[str]:
    """What of a base is not known although limits count from it: any of "date", "hours", "landings"."""
    of_days = (limits.days, limits.months, limits.calendar_months)
    before_flight = isinstance(limits, FirstLimits) and limits.before_flight
    found = {
        "hours": (before_flight or limits.hours is not None) and base.hours is None,
        "landings": limits.landings is not None and base.landings is None,
        "date": (before_flight or any(one is not None for one in of_days)) and base.date is None,
    }
    return frozenset(name for name, is_lacking in found.items() if is_lacking)
