"""A proposed layout taken on the page, in the real browser: it becomes the job, the verdict changes, undo takes it
back."""

from __future__ import annotations

import pytest

from web.conftest import EXAMPLES
from web.test_axe import faults
from web.test_browser import TOO_WIDE, chromium, expect, folder, page, server  # noqa: F401

pytestmark = pytest.mark.browser


@pytest.fixture
def job(page, folder, server):  # noqa: F811
    """Alder before anything is drilled, its page shown."""
    text = (EXAMPLES / "alder.toml").read_text(encoding="utf-8")
    file = folder / "drawn.toml"
    file.write_text(text[: text.index("# What was really made")], encoding="utf-8")
    page.goto(f"{server.root}/job/drawn.toml/")
    return file


def test_a_layout_taken_by_keyboard_becomes_the_job_and_is_taken_back(page, job, server):  # noqa: F811
    before = job.read_text(encoding="utf-8")
    headline = page.locator("#headlines .headline").first
    old = headline.inner_text()
    page.locator("#menu summary").focus()
    page.keyboard.press("Enter")
    page.get_by_role("link", name="Propose layouts").focus()
    page.keyboard.press("Enter")
    expect(page.locator(".offers > li")).to_have_count(3)
    page.reload()  # what was searched is there still
    expect(page.locator(".offers > li")).to_have_count(3)
    for width in (1280, 390):
        page.set_viewport_size({"width": width, "height": 844})
        assert page.evaluate(TOO_WIDE) == []
        assert faults(page) == []
    page.get_by_role("button", name="Enter this layout as a request: fewest rivets").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#bench")).to_be_visible()
    assert 'lay = "offset"' in job.read_text(encoding="utf-8")
    expect(headline).not_to_have_text(old)
    page.locator("#undo").click()
    expect(headline).to_have_text(old)
    assert job.read_text(encoding="utf-8") == before
    assert page.troubles == []


def test_the_way_in_is_drawn_on_the_page_of_steps(page, job, server):  # noqa: F811
    page.goto(f"{server.root}/job/drawn.toml/steps?side=left")
    expect(page.locator(".way-in svg")).to_be_visible()
    expect(page.locator(".way-in figcaption li")).to_have_count(3)
    for width in (1280, 390):
        page.set_viewport_size({"width": width, "height": 844})
        assert page.evaluate(TOO_WIDE) == []
        assert faults(page) == []
