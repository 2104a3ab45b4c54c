"""What must hold of due dates whatever is entered.

The limits are counted again here by hand: hours added, days stepped one by one, months by counting to the end of one.
"""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hatchwright.airworthiness.due.line import State

from .fleets import action, applies, at, done, fleet, line, mandate

pytestmark = pytest.mark.property

DAYS = st.dates(date(1975, 1, 1), date(2060, 12, 31))
HOURS = st.decimals("0", "20000", places=1)
LIMITS = st.fixed_dictionaries(
    {"hours": st.decimals("0.1", "5000", places=1)},
    optional={
        "landings": st.integers(1, 5000),
        "days": st.integers(1, 4000),
        "months": st.integers(1, 240),
    },
)


def last_day(base: date, limits: dict[str, int]) -> list[date]:
    """The last days that limits allow, counted the slow way; a month at its latest reading, the end of the month."""
    found = []
    if "days" in limits:
        found.append(base + sum((timedelta(1) for _ in range(limits["days"])), timedelta()))
    if "months" in limits:
        day = base.replace(day=1)
        for _ in range(limits["months"] + 1):
            day = (day + timedelta(31)).replace(day=1)
        found.append(day - timedelta(1))
    return found


def of(limits, then, *dones, **entries):
    ad = mandate(action(first=limits, repeat=limits), effective=then.isoformat(), unless_done=True)
    return fleet(ad, done=dones, **entries)


@given(LIMITS, DAYS, HOURS, st.integers(0, 9999))
def test_next_due_is_never_later_than_a_stated_limit(limits, base, hours, landings):
    one = done(base.isoformat(), str(hours), landings=landings)
    found = line(of(limits, base, one, applies=[applies()]), base.isoformat())
    assert found.due_hours == hours + limits["hours"]
    assert found.due_landings == (landings + limits["landings"] if "landings" in limits else None)
    assert all(found.due_date <= day for day in last_day(base, limits))
    assert ("days" in limits or "months" in limits) == (found.due_date is not None)


@given(LIMITS, DAYS, HOURS, st.integers(0, 400), st.decimals("0", "300", places=1))
def test_earlier_work_is_never_due_later(limits, base, hours, days, more):
    def due(day, then):
        found = line(of(limits, base, done(day.isoformat(), str(then)), applies=[applies()]), "2099-01-01")
        return found.due_hours, found.due_date or date.max

    early, late = due(base, hours), due(base + timedelta(days), hours + more)
    assert early[0] <= late[0]
    assert early[1] <= late[1]


@given(LIMITS, DAYS, HOURS, st.decimals("0.1", "100", places=1), st.integers(0, 900))
def test_an_action_never_gets_better_by_flying_or_waiting(limits, base, hours, more, days):
    order = list(State)

    def state(flown, on):
        one = of(
            limits,
            base,
            applies=[applies(hours=str(hours), landings=0)],
            readings=[at(on.isoformat(), str(flown), landings=1)],
        )
        return order.index(line(one, on.isoformat()).state)

    assert state(hours + more, base + timedelta(days)) <= state(hours, base)


@given(st.decimals("0.1", "200", places=1), DAYS, HOURS, st.decimals("0", "90", places=1))
def test_what_is_not_entered_makes_it_due_earlier(interval, base, hours, since):
    """Hours of the accomplishment left out: those of the reading before are taken."""
    before = at((base - timedelta(9)).isoformat(), str(hours))
    limits = {"hours": interval}

    def due(*known):
        return line(
            of(limits, base, done(base.isoformat(), *known), applies=[applies()], readings=[before]),
            base.isoformat(),
        ).due_hours

    assert due() <= due(str(hours + since))


@given(LIMITS, LIMITS, DAYS, HOURS)
def test_whichever_later_never_comes_before_both(one, other, base, hours):
    def passed(first, or_later, flown, day):
        asks = {"first": first, "or_later": or_later} if or_later else {"first": first}
        times = {
            "applies": [applies(hours=str(hours), landings=0)],
            "readings": [at(day.isoformat(), str(flown), landings=0)],
        }
        return (
            line(fleet(mandate(action(**asks), effective=base.isoformat()), **times), day.isoformat()).state
            is State.OVERDUE
        )

    for flown, day in (
        (hours, base),
        (hours + one["hours"] + Decimal("0.1"), base + timedelta(500)),
        (hours + 5000 + 1, base),
    ):
        assert passed(one, other, flown, day) == (
            passed(one, None, flown, day) and passed(other, None, flown, day)
        )
