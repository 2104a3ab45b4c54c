"""Twelve aircraft, both sides, from one pattern in the real browser, with keys and clicks counted."""

from __future__ import annotations

import csv
import io
import re
import tomllib
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime

import pytest

from hatchwright.job.file import load_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.records.keys import new_key
from hatchwright.records.kinds import Kind
from hatchwright.records.people import Person, Role
from hatchwright.records.store import Store
from web.test_axe import faults
from web.test_browser import chromium, expect, folder, page, saved, server  # noqa: F401
from web.test_new_job_browser import Hands

pytestmark = pytest.mark.browser

AIRCRAFT = {f"N{101 + at}HW": f"{at + 1:04d}" for at in range(12)}
SIDES = ("left", "right")
MOST_KEYS_AND_CLICKS = 40
"""For 24 jobs: fewer than two for each."""

NOW = datetime(2026, 3, 9, 14, 5, tzinfo=UTC)
SIGNED = ("wing-openings-n101hw-left.toml", "wing-openings-n112hw-right.toml")
ON_HAND = 500


def jobs_of(folder) -> dict[tuple[str, str], str]:  # noqa: F811
    """The job of each registration and side, as their own files say."""
    found = {}
    for path in folder.glob("wing-openings-*.toml"):
        aircraft = saved(folder, path.name)["aircraft"]
        assert AIRCRAFT[aircraft["registration"]] == aircraft["serial"]
        found[aircraft["registration"], aircraft["side"]] = path.name
    return found


def sign(folder, names) -> None:  # noqa: F811
    """Somebody signs for some jobs."""
    phrase = "rivet gauge hangar nine"
    locked = new_key(phrase)
    key = locked.opened(phrase)
    person = Person("A. Inspector", Role.INSPECTOR, "", locked)
    store = Store.opened(folder)
    store.add(Kind.PERSON, "", person.as_body(), author=person.name, now=NOW, key=key)
    for name in names:
        store.add(Kind.SIGNED, name, {"verdict": "OK"}, author=person.name, now=NOW, key=key)
    store.close()


def test_twelve_aircraft_from_one_pattern(page, server, folder, capsys):  # noqa: F811
    hands = Hands(page)
    page.goto(f"{server.root}/")
    hands.tap(page.get_by_role("link", name="Fleets", exact=True))
    hands.tap(page.get_by_label("Title"))
    hands.type("Wing openings")
    hands.press("Tab")
    expect(page.get_by_label("Pattern job")).to_have_value("alder.toml")
    hands.press("Tab")
    page.keyboard.insert_text("\n".join(f"{mark}\t{serial}" for mark, serial in AIRCRAFT.items()))
    hands.keys += 2  # Ctrl and V
    with page.expect_navigation():
        hands.tap(page.get_by_role("button", name="Make the jobs"))
    rows = page.locator("#board-rows tbody tr")
    expect(rows).to_have_count(24)
    made = jobs_of(folder)
    assert set(made) == {(mark, side) for mark in AIRCRAFT for side in SIDES}
    with capsys.disabled():
        print(f"\n24 jobs: {hands.clicks} clicks, {hands.keys} keys", end="")
    assert hands.clicks + hands.keys <= MOST_KEYS_AND_CLICKS
    board = page.url
    expect(page.locator('.board-points[data-awaited="yes"]')).to_have_count(0)
    expect(page.locator(".board-points", has_text="DO NOT CUT, DRILL OR RIVET")).to_have_count(24)
    assert faults(page) == []

    # One change of the pattern, in its own page as any job is changed.
    page.goto(f"{server.root}/job/alder.toml/?at=rows.0.pitch")
    page.locator('[name="job.rows.0.pitch"]').fill(".60")
    page.locator('[name="job.rows.0.pitch"]').press("Tab")
    expect(page.locator("#entries")).not_to_have_class(re.compile("htmx-request"))
    page.goto(board)
    expect(page.get_by_role("link", name="Pattern changed: 24 jobs to update")).to_be_visible()
    with ThreadPoolExecutor(1) as thread:  # the browser's loop runs in this one
        thread.submit(sign, folder, SIGNED).result()
    before = {name: (folder / name).read_bytes() for name in made.values()}
    page.reload()
    expect(page.locator(".board-points .is-signed")).to_have_count(2)
    expect(page.get_by_text("The pattern differs from 2 signed jobs")).to_be_visible()
    page.get_by_role("link", name="Pattern changed: 22 jobs to update").click()
    expect(page.locator('#summary [data-field="rows.0.pitch"] td')).to_have_text([".62", ".60", "22"])
    expect(page.locator(".fleet-line")).to_have_count(24)
    expect(page.locator(".fleet-line.is-signed")).to_have_count(2)
    assert faults(page) == []
    with page.expect_navigation():
        page.get_by_role("button", name="Enter in 22 jobs").click()
    for name, was in before.items():
        now = (folder / name).read_bytes()
        if name in SIGNED:
            assert now == was
        else:
            rows_were, rows_are = (tomllib.loads(one.decode())["rows"] for one in (was, now))
            assert (rows_were[0].pop("pitch"), rows_are[0].pop("pitch")) == (".62", ".60")
            assert rows_are == rows_were
    expect(page.get_by_role("link", name=re.compile("Pattern changed"))).to_have_count(0)

    # What the store gives out, added up job by job from where each rivet goes, less what is on hand.
    layouts = [lay_out(load_job(folder / name)) for name in made.values()]
    rivets = sum(len(layout.holes_of("rivet")) for layout in layouts)
    screws = sum(len(layout.holes_of("screw")) for layout in layouts)
    page.get_by_role("textbox", name="Stock on hand").fill(f"MS20426AD3-3.5\t{ON_HAND}")
    with page.expect_navigation():
        page.get_by_role("button", name="Enter the stock").click()
    table = page.request.get(f"{board}pull/csv").text()
    lines = [one for one in csv.DictReader(io.StringIO(table)) if one["List"] == "Hardware"]
    need = Counter()
    for line in lines:
        need[line["Item"]] += int(line["Need"])
        on_hand = int(line["On hand"] or 0)
        assert int(line["Need"]) + int(line["Spare"]) == int(line["Order"])
        assert int(line["To get"]) == max(0, int(line["Order"]) - on_hand)
    assert need["Rivet"] == rivets
    assert need["Cover screw"] == need["Nut"] == screws
    assert need["Nutplate rivet"] == 2 * screws  # of two-lug nutplates, by their name
    assert [line["On hand"] for line in lines if line["Part number"] == "MS20426AD3-3.5"] == [str(ON_HAND)]
    assert page.troubles == []
