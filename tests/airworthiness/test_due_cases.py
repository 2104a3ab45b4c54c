"""Twenty-four worked cases of due dates, by their numbers (C-01 ...).

Each was worked out by hand from the rules of docs/theory/due.md (R-01 ...) and checked by a second count; C-16 has
number, date and limit of AD 91-13-08, C-17 the limits of AD 83-23-01. C-03, C-04, C-21 and C-22 agree with
relativedelta of the library python-dateutil.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from hatchwright.airworthiness.due.clock import estimated
from hatchwright.airworthiness.due.days import calendar_months_on, days_on, months_on
from hatchwright.airworthiness.due.line import Since, State

from .fleets import AD, action, applies, at, done, fleet, line, lines, mandate

EFFECTIVE = "2026-03-15"
YEARLY = {"hours": "100", "months": 12}
ON_REPEAT = {"first": YEARLY, "repeat": YEARLY}
AT_EFFECTIVE = applies(hours="4312.6")
DONE = done("2026-09-20", "4377.2")


def day(text: str) -> date:
    return date.fromisoformat(text)


def test_c01_both_limits_whichever_first():
    of = fleet(
        mandate(action(first=YEARLY), effective=EFFECTIVE),
        applies=[AT_EFFECTIVE],
        readings=[at("2026-04-01", "4315.0")],
    )
    found = line(of, "2026-04-02")
    assert (found.due_hours, found.due_date, found.due_landings) == (
        Decimal("4412.6"),
        day("2027-03-15"),
        None,
    )
    assert found.since is Since.EFFECTIVE
    assert found.state is State.OPEN


def test_c02_what_is_left_and_the_estimate():
    of = fleet(
        mandate(action(first=YEARLY), effective=EFFECTIVE),
        applies=[AT_EFFECTIVE],
        readings=[at("2026-11-02", "4398.9")],
        hours_per_month="9.0",
    )
    found = line(of, "2026-11-02")
    assert (found.hours_left, found.days_left(day("2026-11-02"))) == (Decimal("13.7"), 133)
    assert (found.estimate, found.driver) == (day("2026-12-18"), "hours")
    assert found.due_date == day("2027-03-15"), "the estimate is no limit"


def test_c03_month_end():
    found = line(fleet(mandate(action(first={"months": 6}), effective="2025-08-31")), "2025-09-01")
    assert found.due_date == day("2026-02-28")
    assert "due.note.clipped" in [note.id for note in found.notes]


def test_c04_leap_day():
    base = day("2024-02-29")
    assert [months_on(base, n).isoformat() for n in (12, 24, 48)] == [
        "2025-02-28",
        "2026-02-28",
        "2028-02-29",
    ]
    assert calendar_months_on(base, 12) == day("2025-02-28")


@pytest.mark.parametrize(
    ("approved", "last"),
    [
        ("2026-11-25", "2027-11-30"),
        ("2024-02-10", "2025-02-28"),
        ("2023-02-03", "2024-02-29"),
        ("2025-12-01", "2026-12-31"),
    ],
)
def test_c05_annual_inspection(approved, last):
    """14 CFR 91.409(a)."""
    annual = mandate(action(repeat={"calendar_months": 12}), kind="inspection")
    of = fleet(annual, applies=[applies()], done=[done(approved)])
    assert line(of, approved).due_date == day(last)
    assert line(of, last).state is State.OPEN, "through the last day"
    assert line(of, (days_on(day(last), 1)).isoformat()).state is State.OVERDUE


def test_c06_overrun_of_the_100_hour_and_none_of_a_directive():
    """14 CFR 91.409(b)."""
    hundred = mandate(
        action("100", repeat={"hours": "100"}, overrun="10"), number="100-hour", kind="inspection"
    )
    ad = mandate(action(repeat={"hours": "100"}), effective="2020-01-01")
    before = {"mandate": "100-hour", "paragraph": "100", "date": "2026-01-10", "hours": "3200.0"}
    times = {"applies": [applies(), applies("100-hour")], "readings": [at("2026-05-01", "3306.5")]}
    of = fleet(hundred, ad, done=[before, done("2026-01-10", "3200.0")], **times)
    inspection, directive = line(of, "2026-05-01", "100"), line(of, "2026-05-01")
    assert (inspection.due_hours, inspection.latest_hours) == (Decimal("3300.0"), Decimal("3310.0"))
    assert inspection.state is State.EN_ROUTE
    assert (directive.due_hours, directive.hours_left, directive.state) == (
        Decimal("3300.0"),
        Decimal("-6.5"),
        State.OVERDUE,
    )
    then = {**before, "date": "2026-05-01", "hours": "3306.5"}
    again = line(fleet(hundred, done=[before, then], applies=[applies("100-hour")]), "2026-05-02", "100")
    assert again.due_hours == Decimal("3400.0"), "what was flown past comes off"


def test_c07_100_hour_done_early():
    hundred = mandate(action(repeat={"hours": "100"}, overrun="10"), kind="inspection")
    of = fleet(
        hundred, done=[done("2026-01-10", "3200.0"), done("2026-05-01", "3290.0")], applies=[applies()]
    )
    assert line(of, "2026-05-01").due_hours == Decimal("3390.0")


@pytest.mark.parametrize(("then", "due"), [("4700.0", "5000.0"), ("4990.3", "5040.3"), ("6100.0", "6150.0")])
def test_c08_whichever_later(then, due):
    either = action(first={"total_hours": "5000"}, or_later={"hours": "50"})
    of = fleet(
        mandate(either, effective=EFFECTIVE), applies=[applies(hours=then)], readings=[at("2026-03-16", then)]
    )
    found = line(of, "2026-03-16")
    assert (found.due_hours, found.joint) == (Decimal(due), ())


def test_c09_done_early():
    of = fleet(mandate(action(**ON_REPEAT), effective=EFFECTIVE), applies=[AT_EFFECTIVE])
    first = line(of, "2026-09-19")
    found = line(
        fleet(mandate(action(**ON_REPEAT), effective=EFFECTIVE), applies=[AT_EFFECTIVE], done=[DONE]),
        "2026-09-20",
    )
    assert (found.due_hours, found.due_date) == (Decimal("4477.2"), day("2027-09-20"))
    assert first.due_hours is not None
    assert first.due_hours - found.base.hours == Decimal("35.4"), "given up, not banked"


def test_c10_interval_shortened_with_grace():
    entries = {"applies": [applies(hours="5398.4")], "readings": [at(EFFECTIVE, "5398.4")]}
    late = done("2025-11-01", "5120.0")

    def of(*dones, **more):
        new = mandate(action(repeat={"hours": "200"}, **more), effective=EFFECTIVE, unless_done=True)
        return fleet(new, done=[late, *dones], **entries)

    grace = {"grace": {"hours": "25"}}
    assert line(of(**grace), EFFECTIVE).due_hours == Decimal("5423.4")
    bare = line(of(), EFFECTIVE)
    assert (bare.due_hours, bare.state) == (Decimal("5320.0"), State.BEFORE_FLIGHT)
    assert line(of(done("2026-04-01", "5410.0"), **grace), "2026-04-01").due_hours == Decimal("5610.0")


def ica(after: str = "h"):
    check = action("check", repeat={"calendar_months": 12}, after={"mandate": AD, "paragraph": after})
    return mandate(check, number="ICA doubler", kind="instructions")


def test_c11_an_opening_is_not_the_inspection():
    opening = action("h", first={"hours": "100"})
    of = fleet(
        mandate(action(**ON_REPEAT), opening, effective=EFFECTIVE),
        ica(),
        applies=[AT_EFFECTIVE, applies("ICA doubler")],
        done=[DONE, done("2026-09-20", "4377.2", "h")],
    )
    spar, check = line(of, "2026-09-20"), line(of, "2026-09-20", "check")
    assert (spar.due_hours, spar.due_date) == (Decimal("4477.2"), day("2027-09-20"))
    assert (check.due_date, check.due_hours) == (day("2027-09-30"), None)
    assert [one.state for one in lines(of, "2026-09-20") if one.state.is_open] == [State.OPEN, State.OPEN]


def test_c12_a_modification_closes_what_it_names():
    asks = (
        action(**ON_REPEAT),
        action("h", first={"hours": "100"}, closes=["g"]),
        action("j", stands=True),
    )
    both = [AT_EFFECTIVE, applies("ICA doubler")]
    of = fleet(
        mandate(*asks, effective=EFFECTIVE),
        ica(),
        applies=both,
        done=[DONE, done("2026-09-20", "4377.2", "h")],
    )
    closed = line(of, "2026-09-20")
    assert (closed.state, closed.due_hours, closed.due_date) == (State.CLOSED, None, None)
    still = {
        (one.mandate.number, one.action.paragraph, one.keeps, one.due_date)
        for one in lines(of, "2026-09-20")
        if one.state.is_open
    }
    assert still == {
        (AD, "j", False, None),
        (AD, "h", True, None),
        ("ICA doubler", "check", False, day("2027-09-30")),
    }


def test_c13_a_part_takes_its_time_along():
    part = {"name": "spar bolt", "serial": "B7"}
    first = {**part, "date": "2025-01-01", "own_hours": "2950.0", "aircraft_hours": "6010.0"}
    out = {**first, "removed": "2025-06-01", "removed_hours": "6040.0"}
    then = {**part, "date": "2025-07-01", "own_hours": "2980.0", "aircraft_hours": "1200.0"}
    limit = mandate(action(component="spar bolt", first={"total_hours": "3000"}), kind="owner")

    def of(*components):
        return fleet(
            limit,
            aircraft=tuple(
                {
                    "registration": f"N10{at}HW",
                    "serial": str(at),
                    "applies": [applies()],
                    "components": [one],
                    "readings": [
                        {"date": "2025-07-01", "hours": one.get("removed_hours", one["aircraft_hours"])}
                    ],
                }
                for at, one in enumerate(components, start=1)
            ),
        )

    assert line(of(first), "2025-03-01").due_hours == Decimal("6060.0")
    moved = of(out, then)
    assert moved.aircraft[0].components[0].own_hours_removed == Decimal("2980.0")
    without, found = lines(moved, "2025-08-01")
    assert found.due_hours == Decimal("1220.0")
    assert without.state is State.NOT_SHOWN


def test_c14_hours_landings_and_date():
    limits = {"hours": "250", "landings": 500, "months": 6}
    of = fleet(
        mandate(action(repeat=limits), effective="2025-01-01"),
        applies=[applies()],
        done=[done("2026-01-31", "3010.4", landings=8140)],
    )
    found = line(of, "2026-01-31")
    assert (found.due_hours, found.due_landings, found.due_date) == (
        Decimal("3260.4"),
        8640,
        day("2026-07-31"),
    )
    assert estimated(Decimal("3010.4"), Decimal("1.5"), up=True) == 4516


@pytest.mark.parametrize(
    ("revision", "hours", "on"), [("B", "4390.0", "2027-01-10"), ("A", "4412.6", "2027-03-15")]
)
def test_c15_credit_for_earlier_work(revision, hours, on):
    early = done("2026-01-10", "4290.0", revision=revision)
    ad = mandate(action(**ON_REPEAT), effective=EFFECTIVE, unless_done=True, data_revision="C", credit=["B"])
    found = line(fleet(ad, applies=[AT_EFFECTIVE], done=[early]), "2026-03-15")
    assert (found.due_hours, found.due_date) == (Decimal(hours), day(on))


def test_c16_days_of_ad_91_13_08():
    found = line(fleet(mandate(action(first={"days": 60}), effective="1991-07-22")), "1991-08-01")
    assert found.due_date == day("1991-09-20")


def test_c17_fixed_date_of_ad_83_23_01():
    ad = mandate(action(first={"hours": "100", "date": "1983-12-31"}), effective="1983-11-01")
    of = fleet(ad, applies=[applies(hours="2210.0")], readings=[at("1983-12-31", "2255.0")])
    found = line(of, "1983-12-31")
    assert (found.due_hours, found.due_date, found.state) == (
        Decimal("2310.0"),
        day("1983-12-31"),
        State.OPEN,
    )
    assert line(of, "1984-01-01").state is State.OVERDUE


def test_c18_ferry_past_the_limit():
    of = fleet(
        mandate(action(first={"hours": "100"}), effective=EFFECTIVE),
        applies=[AT_EFFECTIVE],
        readings=[at("2026-11-02", "4411.8")],
    )
    found = line(of, "2026-11-02")
    assert found.over_after(Decimal("1.6")) == Decimal("0.8")
    assert found.over_after(Decimal("0.8")) == 0


@pytest.mark.parametrize(("serials", "hours"), [(["1001"], "4527.2"), (["1002"], "4477.2")])
def test_c19_approved_alternative(serials, hours):
    letter = {
        "letter": "AMOC letter 2026-10-01",
        "approved": "2026-10-01",
        "by": "the manager named",
        "serials": serials,
        "paragraph": "g",
        "repeat": {"hours": "150", "months": 12},
    }
    of = fleet(
        mandate(action(**ON_REPEAT), effective=EFFECTIVE, alternatives=[letter]),
        applies=[AT_EFFECTIVE],
        done=[DONE],
    )
    assert line(of, "2026-09-30").due_hours == Decimal("4477.2"), "not before it is approved"
    found = line(of, "2026-10-01")
    assert (found.due_hours, found.due_date) == (Decimal(hours), day("2027-09-20"))
    assert (found.alternative is not None) == (serials == ["1001"])


@pytest.mark.parametrize(("base", "due"), [("2024-02-05", "2024-03-06"), ("2025-02-05", "2025-03-07")])
def test_c20_thirty_days_across_february(base, due):
    assert line(fleet(mandate(action(first={"days": 30}), effective=base)), base).due_date == day(due)


@pytest.mark.parametrize(
    ("key", "due", "other"),
    [("months", "2026-06-15", "2026-06-30"), ("calendar_months", "2026-06-30", "2026-06-15")],
)
def test_c21_months_and_calendar_months(key, due, other):
    found = line(fleet(mandate(action(first={key: 3}), effective=EFFECTIVE)), "2026-04-01")
    assert (found.due_date, found.other) == (day(due), day(other))


def test_c22_never_from_a_clipped_day():
    found = [months_on(day("2026-01-31"), n).isoformat() for n in (1, 2, 3)]
    assert found == ["2026-02-28", "2026-03-31", "2026-04-30"]


def test_c23_a_crack():
    crack = {
        "mandate": AD,
        "paragraph": "g",
        "date": "2026-09-19",
        "hours": "4377.2",
        "what": "crack at hole 4",
    }
    of = fleet(mandate(action(first=YEARLY), effective=EFFECTIVE), applies=[AT_EFFECTIVE], found=[crack])
    found = lines(of, "2026-09-19")[0]
    assert (found.due_hours, found.due_date, found.hours_left) == (Decimal("4377.2"), day("2026-09-19"), 0)
    assert found.state is State.BEFORE_FLIGHT


def test_c24_meter_replaced():
    meter = {"date": "2026-06-01", "total": "4350.0", "old": "1850.0", "new": "0.0"}
    of = fleet(
        mandate(action(first=YEARLY), effective=EFFECTIVE),
        applies=[AT_EFFECTIVE],
        meters=[meter],
        readings=[at("2026-09-20", meter="27.2")],
    )
    found = line(of, "2026-09-20")
    assert (found.now.hours, found.due_hours) == (Decimal("4377.2"), Decimal("4412.6"))
    assert of.aircraft[0].on_meter(found.due_hours, day("2026-09-20")) == Decimal("62.6")
