"""What an answer speaks of: each link of the page leads to a box or a section that is there."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from hatchwright.judged import Status
from hatchwright.page.fill_in import fill_in
from hatchwright.page.screen import Asked, screen
from hatchwright.page.shown_lines import band_of, shown_shelves
from hatchwright.page.spoken_of import parts_of, spoken_of

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("alder", "birch", "cypress", "dogwood", "elder", "finch", "heron")


@cache
def shown(name: str):
    """An example with its remedies, and what its answers speak of."""
    path = EXAMPLES / f"{name}.toml"
    asked = Asked(path.read_text(encoding="utf-8"), path.parent, path.name)
    view = screen(asked, drawn=False, with_strength=False, with_remedies=True)
    return view, spoken_of(view.examination, view.tried)


@pytest.mark.parametrize("name", NAMES)
def test_whatever_does_not_pass_leads_to_an_entry_of_the_page(name):
    view, spoken = shown(name)
    for finding in view.findings:
        if finding.status is Status.PASS:
            continue
        entries = spoken.entries(finding)
        assert entries, (finding.code, finding.subject)
        for entry in entries:
            assert view.sheet.name_of(entry) != entry or entry in view.sheet.sections, (finding.code, entry)


def test_a_short_rivet_leads_to_its_row_and_a_screw_to_the_screws():
    """ALDER: rivet 6 is of the first row, 15 of the second (the scenario's numbers); 115 is a screw."""
    view, spoken = shown("alder")
    (six,) = (one for one in view.findings if one.status is Status.STOP and one.holes == (6,))
    (fifteen,) = (one for one in view.findings if one.status is Status.STOP and one.holes == (15,))
    assert "rows.0" in spoken.entries(six)
    assert "rows.1" in spoken.entries(fifteen)
    screws = [one for one in view.findings if one.code == "R103" and one.status is not Status.PASS]
    assert all("cover.screws" in spoken.entries(one) for one in screws)


def test_what_was_tried_is_what_is_to_be_typed():
    """With the entries of its remedy the largest corner of DOGWOOD's opening is no CAUTION any more."""
    view, spoken = shown("dogwood")
    (corner,) = (one for one in view.findings if one.code == "R301" and one.status is not Status.PASS)
    changes = spoken.changes(corner)
    assert [change.field for change in changes] == ["opening.radius"]
    assert "opening.radius" in spoken.entries(corner)
    text = fill_in(view.asked.text, {change.field: change.new for change in changes})
    after = screen(Asked(text, EXAMPLES, "dogwood.toml"), drawn=False, with_strength=False)
    assert [one.status for one in after.findings if one.code == "R301"] == [Status.PASS]


@pytest.mark.parametrize("name", NAMES)
def test_the_band_holds_what_holds_back_and_counts_the_rest(name):
    view, spoken = shown(name)
    shelves = shown_shelves(view.verdict, spoken, view.sheet, ())
    band = band_of(shelves)
    held = [one for one in view.verdict.open_lines if one.status.holds_back]
    assert [one.line for one in band.shown] == held[: len(band.shown)]
    assert len(band.shown) + band.more == len(held)
    names = [one.name for shelf in shelves for one in shelf.lines]
    assert len(set(names)) == len(names)
    for one in (one for shelf in shelves for one in shelf.lines):
        assert all(part in view.sheet.sections for part in one.parts)


def test_the_nearest_part_around_an_entry_is_told_once():
    parts = ("rows", "rows.2", "cutter", "skin", "")
    assert parts_of(("rows.2.start.0", "cutter.reach", "rows.2"), parts) == ("rows.2", "cutter")
    assert parts_of(("mandate.kit",), ("skin",)) == ()
