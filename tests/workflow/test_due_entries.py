"""Mandates and times that are entered on the page, read back from the fleet file."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from hatchwright.airworthiness.due.line import State
from hatchwright.airworthiness.due.lines import lines_of
from hatchwright.errors import JobError
from hatchwright.job.fleet.fleet import Fleet
from hatchwright.workflow.due_entries import with_entry

AD = "AD 2026-99-01"
BARE = """# Wings of the club
schema = 1
title = "Wings"

[[aircraft]]
registration = "N101HW"  # the old one
serial = "1001"
readings = [{ date = 2026-03-01, hours = 4300.0 }]

[[aircraft]]
registration = "N102HW"
serial = "1002"
"""
MANDATE = {
    "number": AD, "kind": "directive", "effective": "2026-03-15", "unless_done": "yes", "paragraph": "g",
    "asks": "Inspect the spar cap", "first.hours": "100", "first.months": "12", "repeat.hours": "100",
}  # fmt: skip
ANSWER = {
    "registration": "N101HW",
    "mandate": AD,
    "applies": "yes",
    "reason": "S/N in table 1",
    "hours": "4312.6",
}


def entered(*steps):
    text = BARE
    for what, sent in steps:
        text = with_entry(text, what, sent)
        Fleet.read(text)
    return text


def state(text, registration="N101HW"):
    fleet = Fleet.read(text)
    aircraft = next(one for one in fleet.aircraft if one.registration == registration)
    return lines_of(fleet, aircraft, date(2026, 11, 2))


def test_from_mandate_to_next_due():
    text = entered(("mandate", MANDATE), ("answer", ANSWER))
    (line,) = state(text)
    assert (line.state, line.due_hours) == (State.OPEN, Decimal("4412.6"))
    reading = {"registration": "N101HW", "date": "2026-11-02", "hours": "4413.0", "landings": " "}
    text = with_entry(text, "reading", reading)
    assert state(text)[0].state is State.OVERDUE
    done = {
        "registration": "N101HW",
        "action": f"{AD}\ng",
        "date": "2026-11-02",
        "hours": "4413.0",
        "by": "A. Mechanic",
    }
    text = with_entry(text, "done", done)
    assert state(text)[0].due_hours == Decimal("4513.0")
    assert state(text, "N102HW")[0].state is State.NOT_SHOWN
    assert text.startswith("# Wings of the club")
    assert "# the old one" in text


def test_a_second_action_goes_to_its_mandate_and_a_new_answer_takes_the_place_of_the_old():
    standing = {"number": AD, "paragraph": "j", "asks": "No old caps", "stands": "yes"}
    no = {**ANSWER, "applies": "no", "reason": "S/N after table 1", "hours": ""}
    other = {"number": "AD 2026-99-02", "asks": "Look", "first.before_flight": "yes"}
    text = entered(
        ("mandate", MANDATE), ("mandate", standing), ("answer", ANSWER), ("answer", no), ("mandate", other)
    )
    fleet = Fleet.read(text)
    assert [[action.paragraph for action in one.actions] for one in fleet.mandates] == [["g", "j"], [""]]
    (answer,) = fleet.aircraft[0].applies
    assert (answer.applies, answer.reason) == (False, "S/N after table 1")


def test_a_new_answer_keeps_the_notice_and_the_hours_that_it_does_not_give():
    """Without them the limit would count from the effective date, and from a later reading."""
    noticed = {**ANSWER, "notice": "2026-03-05"}
    again = {
        "registration": "N101HW",
        "mandate": AD,
        "applies": "yes",
        "reason": "S/N in table 1, read again",
    }
    before, after = (
        entered(("mandate", MANDATE), *(("answer", one) for one in of))
        for of in ([noticed], [noticed, again])
    )
    assert [(one.due_hours, one.due_date) for one in state(after)] == [(Decimal("4412.6"), date(2027, 3, 5))]
    assert state(before)[0].due_date == state(after)[0].due_date


@pytest.mark.parametrize(
    ("what", "sent"),
    [
        ("reading", {"registration": "N109HW", "date": "2026-11-02", "hours": "1"}),
        ("reading", {"registration": "N101HW", "date": "2026-11-02", "hours": "4299.9"}),
        ("reading", {"registration": "N101HW", "date": "2026-02-30", "hours": "4399.9"}),
        ("done", {"registration": "N101HW", "action": f"{AD}\nx", "date": "2026-11-02"}),
        ("mandate", {**MANDATE, "number": "AD 2026-99-03", "repeat.hours": "0"}),
        ("mandate", MANDATE),
        ("mandate", {**MANDATE, "paragraph": "h", "effective": "2026-04-15"}),
    ],
)
def test_what_can_not_be_is_refused(what, sent):
    text = entered(("mandate", MANDATE))
    with pytest.raises(JobError):
        Fleet.read(with_entry(text, what, sent))
