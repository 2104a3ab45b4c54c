"""What is due where something is missing, moved, read in two ways or stopped by a permit."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from hatchwright.airworthiness.due.line import State

from .fleets import AD, action, applies, at, done, fleet, line, lines, mandate


@pytest.mark.parametrize("missing", ["answer", "hours", "reading"])
def test_what_can_not_be_worked_out_is_treated_as_due(missing):
    entries = {
        "applies": [applies(hours="4312.6")]
        if missing == "reading"
        else [applies()]
        if missing == "hours"
        else [],
        "readings": [] if missing == "reading" else [at("2026-04-01", "4320.0")],
    }
    ad = mandate(action(first={"hours": "100"}), effective="2026-03-15")
    (found,) = lines(fleet(ad, **entries), "2026-04-02")
    assert found.state is State.NOT_SHOWN
    assert found.state.holds_back
    assert found.notes


def test_a_reading_that_may_have_been_flown_past_is_not_shown():
    ad = mandate(action(first={"hours": "100"}), effective="2026-03-15")
    of_it = fleet(
        ad, applies=[applies(hours="4312.6")], readings=[at("2026-04-01", "4402.6")], hours_per_month="30"
    )
    assert line(of_it, "2026-04-10").state is State.OPEN
    assert line(of_it, "2026-04-11").state is State.NOT_SHOWN


def test_calendar_months_of_a_directive_are_asked_about_between_both_readings():
    ad = mandate(action(first={"calendar_months": 3}), effective="2026-03-15")
    states = [
        line(fleet(ad, applies=[applies()]), on).state for on in ("2026-06-15", "2026-06-16", "2026-07-01")
    ]
    assert states == [State.OPEN, State.NOT_SHOWN, State.OVERDUE]


def test_a_permit_leaves_it_overdue():
    """R-16, 14 CFR 39.23."""
    ad = mandate(action(first={"days": 30}), effective="2026-03-15", permit="allowed")
    permit = {"mandate": AD, "date": "2026-05-01", "reference": "permit 7"}
    found = line(fleet(ad, applies=[applies()], permits=[permit]), "2026-05-02")
    assert (found.state, len(found.permits)) == (State.OVERDUE, 1)


def test_actual_notice_binds_before_the_effective_date():
    """R-03: stored text of AD 70-25-09, separate dates for those who received individual copies."""
    ad = mandate(action(first={"days": 10}), effective="2026-03-15")
    found = line(fleet(ad, applies=[applies(notice="2026-03-01")]), "2026-03-02")
    assert found.due_date == date(2026, 3, 11)


def test_a_part_that_was_elsewhere_keeps_what_was_done_on_it():
    bolt = {"name": "spar bolt", "serial": "B7"}
    out = {
        **bolt,
        "date": "2025-01-01",
        "own_hours": "100.0",
        "aircraft_hours": "6000.0",
        "removed": "2025-06-01",
        "removed_hours": "6080.0",
    }
    then = {**bolt, "date": "2025-07-01", "own_hours": "180.0", "aircraft_hours": "1200.0"}
    ad = mandate(
        action(component="spar bolt", first={"hours": "50"}, repeat={"hours": "50"}), effective="2024-01-01"
    )
    of_it = fleet(
        ad,
        aircraft=(
            {
                "registration": "N101HW",
                "serial": "1",
                "applies": [applies()],
                "components": [out],
                "done": [done("2025-05-01", "6060.0")],
            },
            {
                "registration": "N102HW",
                "serial": "2",
                "applies": [applies()],
                "components": [then],
                "readings": [at("2025-07-01", "1200.0")],
            },
        ),
    )
    # Done at 160 of its own hours, so due at 210: 30 h after it went in at 180, at 1,230.
    assert lines(of_it, "2025-08-01")[1].due_hours == Decimal("1230.0")
