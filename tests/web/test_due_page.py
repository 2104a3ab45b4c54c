"""The page of what is due: its lines, what is entered by its forms, what it refuses, and its calendar."""

from __future__ import annotations

import re

import pytest

from hatchwright.job.fleet.fleet import Fleet
from web.job_pages import Document

BARE = """schema = 1
title = "Wings of the club"

[[aircraft]]
registration = "N101HW"
serial = "1001"

[[aircraft]]
registration = "N102HW"
serial = "1002"
"""
PLACE = "/fleet/wings.fleet/due"
AD = "AD 2026-99-01"
MANDATE = {
    "form": "mandate", "number": AD, "kind": "directive", "effective": "2026-03-15", "paragraph": "g",
    "asks": "Inspect the <lower> spar cap", "first.hours": "100", "first.months": "12", "repeat.hours": "100",
    "repeat.months": "12", "stands": "", "read_by": "A. Mechanic", "checked_by": "B. Inspector",
}  # fmt: skip
READING = {"form": "reading", "registration": "N101HW", "date": "2026-11-02", "hours": "4413.0"}
APPLIES = {
    "form": "answer", "registration": "N101HW", "mandate": AD, "applies": "yes", "reason": "table 1", "hours": "4312.6",
}  # fmt: skip
DONE = {**READING, "form": "done", "action": f"{AD}\ng", "by": "A. Mechanic"}


@pytest.fixture
def fleet(folder):
    path = folder / "wings.fleet"
    path.write_text(BARE, encoding="utf-8")
    return path


def text_of(client, query="?on=2026-11-02"):
    return client.get(PLACE + query).content.decode()


def enter(client, base=None, /, **sent):
    known = re.search(r'name="base" value="(\w+)"', text_of(client))
    return client.post(f"{PLACE}/enter", {"base": base or known[1], **sent})


def test_from_a_mandate_to_what_is_due_next_and_back(client, fleet):
    forms = [one.text for one in Document(text_of(client)).elements if one.tag == "summary"]
    assert forms == ["Enter a reading", "Enter a mandate"], "nothing to do or answer yet"
    for step in (MANDATE, APPLIES, READING):
        assert enter(client, **step).status_code == 302
    page = text_of(client)
    assert "2 of 2 aircraft are held back" in page
    assert "4412.6 h, over by 0.4 h; 2027-03-15, 133 days left" in page
    assert "Inspect the &lt;lower&gt; spar cap" in page
    assert enter(client, **DONE).status_code == 302
    page = text_of(client)
    assert "1 of 2 aircraft is held back" in page
    assert "4513.0 h, 100.0 h left; 2027-11-02, 365 days left" in page
    crack = {**DONE, "form": "found", "what": "crack at hole 4"}
    del crack["by"]
    assert enter(client, **crack).status_code == 302
    page = text_of(client)
    assert "BEFORE FURTHER FLIGHT" in page
    assert "crack at hole 4, found on the way" in page
    base = re.search(r'name="base" value="(\w+)"', page)[1]
    assert client.post("/fleet/wings.fleet/enter", {"what": "undo", "base": base}).status_code == 302
    assert "crack at hole 4" not in text_of(client)


def test_what_can_not_be_is_told_at_its_form_and_nothing_is_written(client, fleet):
    assert enter(client, **MANDATE).status_code == 302
    before = fleet.read_text(encoding="utf-8")
    for sent, told in (
        ({**MANDATE, "number": "AD 2", "repeat.hours": "0"}, "A limit or an interval of zero"),
        ({**READING, "date": "2026-02-30"}, "The calendar has no such day"),
        ({**READING, "registration": "../x"}, "No aircraft of this registration"),
        ({**READING, "hours": "<b>"}, "These are no hours"),
        ({**DONE, "action": "x"}, "No action with this number"),
    ):
        answer = enter(client, **sent)
        page = answer.content.decode()
        assert answer.status_code == 400
        assert told in page, re.findall(r"<li>.*?</li>", page)
        assert "<b>" not in page
        assert f'id="{sent["form"]}"' in page[: page.index(told)]
    assert enter(client, "stale", **MANDATE).status_code == 409
    assert enter(client, form="nothing").status_code == 404
    assert fleet.read_text(encoding="utf-8") == before


def test_where_nothing_holds_back_the_age_of_the_oldest_reading_is_told(client, fleet):
    """266 days from 9 March to 30 November 2026, counted by hand: 22 + 30 + 31 + 30 + 31 + 31 + 30 + 31 + 30."""
    enter(client, **{**READING, "date": "2026-03-09", "hours": "3812.4"})
    enter(client, **{**READING, "registration": "N102HW", "date": "2026-11-30", "hours": "99.0"})
    assert "The oldest reading is 266 days old: read the meter" in text_of(client, "?on=2026-11-30")
    assert "reading is" not in text_of(client, "?on=2026-03-09")


def test_the_day_the_calendar_and_what_is_not_there(client, fleet):
    assert "2026-02-30 is no day" in text_of(client, "?on=2026-02-30")
    for step in (MANDATE, APPLIES):
        enter(client, **step)
    made = client.get(f"{PLACE}/calendar")
    assert made["Content-Type"] == "text/calendar; charset=utf-8"
    assert made.content.startswith(b"BEGIN:VCALENDAR\r\n")
    assert made.content.count(b"BEGIN:VEVENT") == len(Fleet.load(fleet).aircraft)
    assert client.get("/fleet/none.fleet/due").status_code == 404
    board = client.get("/fleet/wings.fleet/").content.decode()
    assert re.search(rf'<a href="[^"]*{PLACE}">2 of 2 aircraft are held back</a>', board)


def test_nobody_sees_it_who_did_not_come_through_the_door(outside_client, fleet):
    assert outside_client.get(PLACE).status_code == 403
    assert outside_client.post(f"{PLACE}/enter", MANDATE).status_code == 403
