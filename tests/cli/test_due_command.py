"""`hatchwright due`: what it prints, its calendar file, its JSON, and what it refuses."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

PAGE = (Path(__file__).parents[2] / "docs" / "due-json.md").read_text(encoding="utf-8")

FLEET = """schema = 1
title = "Lower spar cap, twelve wings"

[[mandates]]
number = "AD 2026-99-01"
effective = 2026-03-15
read_by = "A. Mechanic"
checked_by = "B. Inspector"
permit = "limited"
permit_words = "no passengers; day VFR, one leg"

[[mandates.actions]]
paragraph = "g"
asks = "Inspect the lower spar cap"
first = { hours = 100, months = 12 }
repeat = { hours = "100.0", months = 12 }

[[mandates.actions]]
paragraph = "j"
asks = "No spar cap of the old part number may be put in"
stands = true

[[aircraft]]
registration = "N101HW"
serial = "1001"
hours_per_month = 9.0
readings = [{ date = 2026-11-02, hours = 4398.9 }]
applies = [{ mandate = "AD 2026-99-01", applies = true, reason = "S/N in table 1", hours = 4312.6 }]

[[aircraft]]
registration = "N102HW"
serial = "1002"
readings = [{ date = 2026-10-20, hours = 3306.5 }]
applies = [{ mandate = "AD 2026-99-01", applies = true, reason = "S/N in table 1", hours = 3200.0 }]

[[aircraft]]
registration = "N103HW"
serial = "1003"
applies = [{ mandate = "AD 2026-99-01", applies = false, reason = "S/N after table 1" }]
"""


@pytest.fixture
def fleet(tmp_path):
    path = tmp_path / "wings.fleet"
    path.write_text(FLEET, encoding="utf-8")
    return path


def test_it_tells_what_is_due_by_which_limit(fleet, shell):
    """C-02 and C-18 of the worked cases, as they are printed."""
    code, printed, _ = shell("due", fleet, "--on", "2026-11-02", "--leg", "14.5")
    out = " ".join(printed.split())  # however wide the window is
    assert code == 1, "one is overdue"
    for told in (
        "N101HW, S/N 1001: 4398.9 h as read 2026-11-02",
        "open AD 2026-99-01 par. g: Inspect the lower spar cap",
        "4412.6 h, 13.7 h left; 2027-03-15, 133 days left",
        "If they were calendar months it would be 2027-03-31.",
        "the hours run out about 2026-12-18: an estimate, not a limit.",
        "A flight of 14.5 h passes 4412.6 h by 0.8 h",
        "OVERDUE AD 2026-99-01 par. g",
        "3300.0 h, over by 6.5 h",
        "as read 2026-10-20, 13 days before",
        "Permit conditions: no passengers; day VFR, one leg.",
    ):
        assert told in out
    assert "N103HW" in out
    assert "does not apply" not in out
    assert "Does not apply: S/N after table 1." in shell("due", fleet, "--on", "2026-11-02", "--all")[1]
    assert not re.search("airworthy|approved|compliant|certified", out, re.IGNORECASE)


def test_a_folder_gives_all_its_fleets_and_one_bad_file_refuses_it(fleet, shell):
    other = fleet.with_name("tails.fleet")
    other.write_text(FLEET.replace("Lower spar cap, twelve wings", "Tails"), encoding="utf-8")
    assert "Tails (tails.fleet)" in shell("due", fleet.parent)[1]
    other.write_text(FLEET.replace("hours = 100,", "hours = 0,"), encoding="utf-8")
    code, out, err = shell("due", fleet.parent)
    assert (code, out) == (2, "")
    assert "tails.fleet" in err


def test_json_names_every_key_and_its_page_does_too(fleet, shell):
    code, out, _ = shell("due", fleet, "--on", "2026-11-02", "--json")
    values = json.loads(out)
    line = values["fleets"][0]["aircraft"][0]["lines"][0]
    assert code == 1
    assert (line["due_hours"], line["due_date"]) == ("4412.6", "2027-03-15")
    assert (line["hours_left"], line["driver"]) == ("13.7", "hours")

    def keys(value):
        inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
        return set(value if isinstance(value, dict) else ()).union(*map(keys, inner))

    assert keys(values) - set(re.findall(r"`(\w+)`", PAGE)) == set()


def read_calendar(raw: bytes) -> list[dict[str, str]]:
    """The events of a calendar file, read by the rules of RFC 5545 (3.1 folding, 3.3.11 text, 3.4 and 3.6 objects)."""
    assert raw.endswith(b"\r\n")
    assert b"\n" not in raw.replace(b"\r\n", b"")
    assert all(len(line) <= 75 for line in raw.split(b"\r\n"))
    lines = raw.decode().replace("\r\n ", "").split("\r\n")[:-1]
    assert (lines[0], lines[-1]) == ("BEGIN:VCALENDAR", "END:VCALENDAR")
    assert "VERSION:2.0" in lines
    assert any(line.startswith("PRODID:") for line in lines)
    events: list[dict[str, str]] = []
    inside = False
    for line in lines[1:-1]:
        name, _, value = line.partition(":")
        assert re.fullmatch(r"[A-Z-]+(;[A-Z-]+=[A-Z]+)*", name)
        if name in ("BEGIN", "END"):
            assert (value, inside) == ("VEVENT", name == "END")
            inside = name == "BEGIN"
            events += [{}] if inside else []
        elif inside:
            assert not re.search(r"(?<!\\)(\\\\)*[;,]", value), "a bare mark would end the text"
            events[-1][name] = re.sub(r"\\(.)", lambda found: {"n": "\n"}.get(found[1], found[1]), value)
    return events


def test_the_calendar_holds_each_last_day_and_leaves_nothing_out(fleet, shell, tmp_path):
    """A one-off reading by the library icalendar found the same events."""
    path = tmp_path / "due.ics"
    assert shell("due", fleet, "--on", "2026-11-02", "--ics", path)[0] == 1
    events = read_calendar(path.read_bytes())
    days = {one["SUMMARY"]: one["DTSTART;VALUE=DATE"] for one in events}
    asks = "AD 2026-99-01 par. g: Inspect the lower spar cap"
    assert days == {
        f"Last day: N101HW, {asks}": "20270315",
        f"Estimate, not a limit: hours run out: N101HW, {asks}": "20261218",
        f"OVERDUE: N102HW, {asks}": "20261102",
    }
    assert "no passengers; day VFR, one leg" in events[-1]["DESCRIPTION"]
    assert len({one["UID"] for one in events}) == len(events)
    assert all(re.fullmatch(r"\d{8}T\d{6}Z", one["DTSTAMP"]) for one in events)
    code, _, err = shell("due", fleet, "--on", "2026-11-03", "--ics", path)
    assert code == 2
    assert "--overwrite" in err
    shell("due", fleet, "--on", "2026-11-03", "--ics", path, "--overwrite")
    assert {one["UID"] for one in read_calendar(path.read_bytes())} == {one["UID"] for one in events}


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("effective = 2026-03-15", "effective = 2026-02-30", "the calendar has no such day"),
        ("date = 2026-11-02", "date = 2026-11-31", "the calendar has no such day (given: 2026-11-31)"),
        ("effective = 2026-03-15", 'effective = "2026-02-30"', "the calendar has no such day"),
        ("hours = 100, months = 12 }\nrepeat", "hours = 0, months = 12 }\nrepeat", "a limit or an interval of zero"),
        ('repeat = { hours = "100.0"', 'repeat = { hours = "0.0"', "a limit or an interval of zero"),
        ("hours = 4398.9", 'hours = "4398:54"', "these are no hours"),
        ("hours = 4398.9", 'hours = "4,398"', "comma"),
        ("hours = 4398.9", "hours = -4398.9", "no aircraft has so many hours"),
        ("hours = 4398.9", "hours = 1e9", "these are no hours"),
        ("hours = 4398.9", "meter = 27.2", "no meter stands in this file"),
        ("hours = 4398.9 }]", "hours = 4398.9 }, { date = 2026-11-03, hours = 4398.8 }]",
         "hours go backwards: 4398.8 h on 2026-11-03, after 4398.9 h"),
        ('paragraph = "j"', 'paragraph = "g"', "paragraph g stands twice"),
        ("stands = true", "stands = false", "a first or repeat limit is missing"),
        ("repeat = {", "overrun = 10\nrepeat = {", "only an inspection may be overrun"),
        ('{ mandate = "AD 2026-99-01", applies = false', '{ mandate = "AD 99", applies = false', "no action with this"),
        ("repeat = { hours", "repeat = { calendar_months = 12, hours", "months and calendar months both stand here"),
        ("repeat = {", 'after = { paragraph = "g" }\nrepeat = {', "this action starts after itself"),
        ("repeat = {", 'after = { paragraph = "x" }\nrepeat = {', "no action with this number and paragraph"),
        ("repeat = {", 'closes = ["j"]\nrepeat = {', "two actions terminate each other"),
        ('"N101HW"', '"../N101HW"', "no registration mark"),
    ],
)  # fmt: skip
def test_bad_input_is_refused_with_the_reason(fleet, shell, old, new, told):
    assert old in FLEET
    text = FLEET.replace(old, new, 1)
    if "terminate each other" in told:
        text = text.replace("stands = true", 'stands = true\ncloses = ["g"]')
    fleet.write_text(text, encoding="utf-8")
    code, out, err = shell("due", fleet)
    assert (code, out) == (2, "")
    assert told in err


@pytest.mark.parametrize(
    "option", [("--on", "2026-02-30"), ("--on", "20260301"), ("--leg", "0"), ("--leg", "soon")]
)
def test_a_day_or_a_leg_that_is_none_is_refused(fleet, shell, option):
    code, out, err = shell("due", fleet, *option)
    assert (code, out) == (2, "")
    assert option[1] in err
