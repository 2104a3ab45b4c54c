"""The page of the risk in the real browser: any width, by keyboard, letters that can be read, nothing axe finds."""

from __future__ import annotations

import pytest

from search.risk_jobs import OWN
from web.test_axe import faults
from web.test_browser import chromium, expect, folder, page, server  # noqa: F401

pytestmark = pytest.mark.browser


@pytest.fixture
def risk(page, folder, server):  # noqa: F811
    """The page of the example as drawn, with the shop's scatter."""
    file = folder / "alder.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text[: text.index("# What was really made on the left wing")] + OWN, encoding="utf-8")
    page.goto(f"{server.root}/job/alder.toml/risk")
    return page


@pytest.mark.parametrize("width", [1280, 800, 390])
def test_nothing_is_wider_than_the_screen_and_axe_finds_nothing(risk, width):
    risk.set_viewport_size({"width": width, "height": 844})
    risk.goto(f"{risk.url.partition('?')[0]}?seed=7")
    assert risk.evaluate("document.documentElement.scrollWidth") <= width
    assert faults(risk) == []
    sizes = risk.eval_on_selector_all(
        ".risk-drawing svg text", "(all) => all.map((one) => one.getBoundingClientRect().height)"
    )
    assert sizes
    assert min(sizes) >= 12  # px, as on the drawing of the job
    assert risk.troubles == []


def test_by_keyboard_to_the_proof_by_lot(risk):
    for _ in range(20):
        risk.keyboard.press("Tab")
        if risk.evaluate("document.activeElement.id") == "risk-seed":
            break
    risk.keyboard.press("Control+A")
    risk.keyboard.type("12")
    risk.keyboard.press("Enter")
    expect(risk.locator("#risk-beside + ul")).to_contain_text("seed 12")


def test_a_table_and_the_drawing_are_reached_by_keyboard_and_scroll(risk):
    risk.set_viewport_size({"width": 390, "height": 844})
    rooms = risk.locator(".table-room")
    assert rooms.count() == 3
    for at in range(3):
        rooms.nth(at).focus()
        assert rooms.nth(at).evaluate("(one) => document.activeElement === one")
