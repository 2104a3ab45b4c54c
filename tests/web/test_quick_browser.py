"""A quick answer in the browser by keyboard alone, without any other network: boxes, answer as one types, print."""

from __future__ import annotations

import pytest

from web.test_axe import faults
from web.test_browser import chromium, expect, folder, page, server  # noqa: F401

pytestmark = pytest.mark.browser


def tab_to(page, words: str) -> None:  # noqa: F811
    """Go on with Tab until a link with these words has the focus."""
    for _ in range(60):
        at = page.evaluate("[document.activeElement.tagName, document.activeElement.textContent]")
        if at[0] == "A" and words in at[1]:
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"no way by keyboard to {words}")


def test_a_question_is_asked_answered_and_printed_by_keyboard_alone(page, server):  # noqa: F811
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{server.root}/")
    page.get_by_role("link", name="Quick answers").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", name="Quick answers")).to_be_visible()
    assert faults(page) == []
    tab_to(page, "1.9D")
    page.keyboard.press("Enter")
    expect(page.locator("#f-fastener")).to_be_focused()
    assert faults(page) == []
    page.keyboard.type("MS20470AD4")
    page.keyboard.press("Tab")
    page.keyboard.type(".2375")
    expect(page.locator("#quick-answer")).to_contain_text("1.90D of 2D, .013 short.")
    expect(page.locator("#e-distance")).to_contain_text("6.032 mm")
    assert faults(page) == []
    page.keyboard.press("Enter")  # answers again, and leaves what has the focus
    expect(page.locator("#f-distance")).to_be_focused()
    page.keyboard.press("ControlOrMeta+a")
    page.keyboard.type("30 deg")
    expect(page.locator("#f-distance")).to_have_attribute("aria-invalid", "true")
    expect(page.locator(".numbers")).to_have_count(0)
    assert faults(page) == []
    page.keyboard.press("ControlOrMeta+a")
    page.keyboard.type(".30")
    expect(page.locator("#quick-answer .headline")).to_contain_text("OK")
    expect(page.locator("#quick-answer .numbers")).to_contain_text("short by .013 in")  # for the next size
    page.reload()
    expect(page.locator("#f-distance")).to_have_value(".30")
    expect(page.locator("#quick-answer .headline")).to_contain_text("OK")
    expect(page.locator("#quick-answer .numbers")).to_contain_text("short by .013 in")
    tab_to(page, "Print on Letter")
    with page.expect_download() as download:
        page.keyboard.press("Enter")
    assert download.value.suggested_filename == "QUICK_EDGE_LETTER.pdf"
    assert [url for url in asked if not url.startswith(server.root)] == []


def test_no_old_answer_stands_beside_new_entries_once_the_program_is_gone(page, server):  # noqa: F811
    page.goto(f"{server.root}/quick/radius/?job.chord=8&job.rise=.583")
    expect(page.locator("#quick-answer")).to_contain_text("14.014")
    page.context.set_offline(True)
    page.locator("#f-rise").fill(".6")
    expect(page.locator("#quick-trouble")).to_contain_text("Nothing you typed is lost")
    expect(page.locator("#quick-answer")).to_have_text("")
    page.context.set_offline(False)
    page.locator("#f-rise").fill(".583 in")
    expect(page.locator("#quick-answer")).to_contain_text("14.014")
    expect(page.locator("#quick-trouble")).to_have_text("")
