"""ALDER's survey entered at the page by keyboard: the center beside the boxes, entered into the job, and undone.

Source of the facts: the scenario's own numbers; rib 4 lies 11.00 from rib 3, the stringer row 9.00 from the spar row,
and the opening's center 5.50 and 4.50 from rib 3 and spar, which leaves 5.50 and 4.50 to the others.
"""

from __future__ import annotations

import tomllib

import pytest

from web.test_axe import faults
from web.test_browser import SMALL, TOO_WIDE, chromium, expect, folder, page, server  # noqa: F401

pytestmark = pytest.mark.browser

LINES = {
    "site.rows": (
        {"name": "rib 3", "x": "0"},
        {"name": "rib 4", "x": "11.00"},
        {"name": "spar row", "y": "0"},
        {"name": "stringer row", "y": "9.00"},
    ),
    "site.routes": (
        {"name": "near", "x_from": "rib 3", "x": "5.50", "y_from": "spar row", "y": "4.50"},
        {"name": "far", "x_from": "rib 4", "x": "5 1/2", "y_from": "stringer row", "y": "4.50"},
    ),
}


def tab_to(page, name: str) -> None:  # noqa: F811
    """Go on with Tab until an entry, or a button by its value, has the focus."""
    for _ in range(150):
        if page.evaluate("[document.activeElement.name, document.activeElement.value]").count(name):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"no way by keyboard to {name}")


def test_alders_survey_is_entered_by_keyboard_and_gives_its_center(page, server, folder):  # noqa: F811
    before = (folder / "alder.toml").read_text(encoding="utf-8")
    page.goto(f"{server.root}/job/alder.toml/site")
    expect(page.locator("#begin-u")).to_be_focused()
    page.keyboard.type(".010")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    page.locator("#f-site-seen_from").select_option("outside")
    page.locator("#f-site-up").select_option("FWD")
    for path, lines in LINES.items():
        for number, line in enumerate(lines):
            page.locator(f"button[value='add:{path}']").focus()
            with page.expect_navigation():
                page.keyboard.press("Enter")
            expect(page.locator(f"[name='job.{path}.{number}.name']")).to_be_focused()
            for field, typed in line.items():
                tab_to(page, f"job.{path}.{number}.{field}")
                page.keyboard.type(typed)
    answer = page.locator("#survey-answer")
    expect(answer).to_contain_text("X 5.500 Y 4.500")
    assert faults(page) == []
    for width in (1280, 390):
        page.set_viewport_size({"width": width, "height": 844})
        assert page.evaluate(TOO_WIDE) == []
        assert page.evaluate(SMALL) == []
    surveyed = (folder / "alder.toml").read_text(encoding="utf-8")
    page.get_by_role("button", name="Enter into the job").focus()
    with page.expect_navigation():
        page.keyboard.press("Enter")
    entered = tomllib.loads((folder / "alder.toml").read_text(encoding="utf-8"))
    assert {row["name"] for row in entered["bay"]["rows"]} >= {"spar row", "stringer row"}
    assert entered["opening"]["center"] == tomllib.loads(before)["opening"]["center"]
    with page.expect_navigation():
        page.locator("#undo").click()
    assert (folder / "alder.toml").read_text(encoding="utf-8") == surveyed
    assert page.troubles == []
