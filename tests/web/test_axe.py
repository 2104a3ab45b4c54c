"""No page breaks a rule of axe-core: WCAG 2.2 A and AA, best practice, contrast 7:1, sizes of things to press."""

from __future__ import annotations

from importlib.resources import files

import pytest

from web.test_browser import (  # noqa: F401
    chromium,
    expect,
    folder,
    judged,
    page,
    read_findings,
    server,
    unfold,
)

pytestmark = pytest.mark.browser

AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")
ASKED = """() => axe.run(document, {
  resultTypes: ["violations"],
  rules: { "color-contrast-enhanced": { enabled: true }, "target-size": { enabled: true } },
}).then(({ violations }) => violations.map(({ id, nodes }) => `${id}: ${nodes.map((one) => one.target.join(" "))}`))"""


def faults(page) -> list[str]:  # noqa: F811
    """What axe finds on a page as it stands."""
    page.evaluate(AXE)
    return page.evaluate(ASKED)


def test_axe_finds_what_is_broken(page):  # noqa: F811
    """A picture without words, and gray that is paler than 7:1."""
    page.locator("#title").evaluate("(title) => { title.innerHTML = '<img src=x>'; }")
    page.locator("#state").evaluate("(state) => { state.style.color = '#666'; }")
    assert {one.partition(":")[0] for one in faults(page)} >= {"image-alt", "color-contrast-enhanced"}


@pytest.mark.parametrize("width", [1280, 390])
def test_axe_finds_nothing_on_the_page_of_a_job(page, width):  # noqa: F811
    page.set_viewport_size({"width": width, "height": 844})
    judged(page)
    assert faults(page) == []
    for part in ("opening", "rows", "bay-rows", "gate"):
        unfold(page, part)
        assert faults(page) == [], part
    page.locator("#hole-wanted").fill("15")
    page.keyboard.press("Enter")
    expect(page.locator("#hole-tag h2")).to_be_visible()
    assert faults(page) == []
    unfold(page, "opening")
    page.locator("#f-opening-width").fill("wide")
    expect(page.locator(".faults")).to_be_visible()
    assert faults(page) == []


@pytest.mark.parametrize(
    "address",
    ["", "new?kind=flush-cover", "job/alder.toml/text", "job/alder.toml/compare", "job/alder.toml/another",
     "job/alder.toml/steps?side=left", "job/alder.toml/paste?list=as_made.holes", "job/alder.toml/scan",
     "job/dogwood.toml/papers", "job/alder.toml/risk"],
)  # fmt: skip
def test_axe_finds_nothing_on_other_pages(page, server, address):  # noqa: F811
    for width in (1280, 390):
        page.set_viewport_size({"width": width, "height": 844})
        page.goto(f"{server.root}/{address}")
        assert faults(page) == [], width
