"""Tags beside the drawing: a tap opens what lies there, links lead to boxes and back, a tapped hole is written."""

from __future__ import annotations

import re

import pytest

from web.test_browser import (  # noqa: F401
    chromium,
    expect,
    folder,
    judged,
    line_of,
    page,
    read_findings,
    saved,
    server,
    unfold,
)

pytestmark = pytest.mark.browser

ON_LINE = """(css) => {
  const path = document.querySelector(css), to = path.getScreenCTM(), long = path.getTotalLength();
  const seen = document.querySelector(".board").getBoundingClientRect();
  const holes = [...document.querySelectorAll(".sheet circle[data-hole]")].map((one) => one.getBoundingClientRect())
    .map((one) => [(one.left + one.right) / 2, (one.top + one.bottom) / 2]);
  let best = null, most = -1;
  for (let k = 0; k < 400; k += 1) {
    const at = path.getPointAtLength(long * k / 400).matrixTransform(to);
    if (at.x < seen.left + 5 || at.x > seen.right - 5 || at.y < seen.top + 5 || at.y > seen.bottom - 5) continue;
    const off = Math.min(...holes.map(([x, y]) => Math.hypot(at.x - x, at.y - y)));
    if (off > most) { most = off; best = [at.x, at.y]; }
  }
  return best;
}"""


def tap_line(page, css: str) -> None:  # noqa: F811
    """Tap a line of the drawing where it is farthest from any hole."""
    page.mouse.click(*page.evaluate(ON_LINE, css))


def tap_hole(page, number: int) -> None:  # noqa: F811
    """Tap a hole of the drawing."""
    box = page.locator(f".sheet circle[data-hole='{number}']").first.bounding_box()
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)


def test_a_tap_opens_the_tag_of_what_lies_there(page):  # noqa: F811
    judged(page)
    tap_line(page, ".sheet path[data-part^='doubler']")
    title = page.locator(".is-tag .chosen > summary .title")
    expect(title).to_have_text("Doubler")
    expect(page.locator("#f-doubler-thickness")).to_be_visible()
    expect(page.locator("#f-opening-width")).to_be_hidden()
    assert page.locator(".sheet [data-part^='doubler'].marked").count() >= 1
    tap_line(page, ".sheet path[data-part='bay.keep_outs.0']")
    expect(title).to_have_text(re.compile("Keep-outs"))
    tap_hole(page, 15)
    tag = page.locator("#hole-tag")
    expect(tag.locator("h2")).to_have_text("Rivet 15")
    expect(tag).to_contain_text("1.94D of 2D")
    expect(tag).to_contain_text("Room for the next size")
    tag.get_by_role("link", name="Entries of this row").click()
    expect(title).to_have_text("Rivet rows")
    expect(page.locator("#s-rows-1")).to_have_class(re.compile("chosen-line"))
    expect(page.locator("#stops-here")).to_contain_text("Rivet 15 to doubler outer edge")
    page.keyboard.press("Escape")
    expect(page.locator("#s-rows > summary")).to_be_focused()
    assert page.troubles == []


def test_what_stops_is_a_tap_from_its_place_and_from_its_box(page):  # noqa: F811
    judged(page)
    page.locator(".band a", has_text="Rivet 6").click()
    line = page.locator(".finding", has_text="Rivet 6 to opening edge").first
    expect(line.locator("details.cause")).to_have_attribute("open", "")
    assert page.locator(".sheet circle[data-hole='6'].marked").count() >= 1
    line.locator(".places a").first.click()
    expect(page.locator("#s-rows-0")).to_have_class(re.compile("chosen-line"))
    expect(page.locator("#s-rows-0")).to_be_in_viewport()
    page.locator("#stops-here a", has_text="Rivet 4").click()
    expect(page.locator(".finding", has_text="Rivet 4 to opening edge").first).to_be_in_viewport()
    page.locator("#to-enter a", has_text="Four-corner survey").click()
    expect(page.locator("#s-bay-corners")).to_be_visible()
    assert page.troubles == []


def test_a_remedy_that_was_tried_is_entered_by_one_button(page, folder):  # noqa: F811
    line = line_of(page, "Rivet 15 to doubler outer edge")
    remedy = line.locator(".remedy")
    expect(remedy).to_contain_text("7.00 → 7.025")
    with page.expect_navigation():
        remedy.get_by_role("button", name="Make this change").click()
    assert saved(folder)["doubler"]["outer"]["width"] == "7.025"
    judged(page)
    expect(page.locator(".band", has_text="Rivet 15")).to_have_count(0)


def test_a_hole_is_added_by_a_tap_and_then_typed(page, folder):  # noqa: F811
    rows = saved(folder)["rows"]
    page.get_by_role("button", name="Add a hole").click()
    expect(page.locator("#hole-said")).to_contain_text("Tap the drawing")
    box = page.locator(".sheet path[data-part='opening']").first.bounding_box()
    with page.expect_navigation():
        page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    added = saved(folder)["rows"][len(rows)]
    assert added["lay"] == "points"
    x, y = map(float, added["points"][0])
    assert abs(x - 5.504) < 0.06  # the middle of the opening as it was filed: 2.996 to 8.012, 2.497 to 6.508
    assert abs(y - 4.5025) < 0.06
    place = f"f-rows-{len(rows)}-points-0"
    expect(page.locator(f"#{place}-0")).to_be_focused()
    page.keyboard.press("ControlOrMeta+a")
    page.keyboard.type("5.25")
    expect(page.locator(f"#e-rows-{len(rows)}-points-0-0")).to_contain_text("5.250 in")
    assert saved(folder)["rows"][len(rows)]["points"][0] == ["5.25", added["points"][0][1]]
    assert page.troubles == []


def test_a_row_goes_to_the_other_three_sides_and_a_sample_is_confirmed_in_its_box(page, server, folder):  # noqa: F811
    text = (folder / "alder.toml").read_text(encoding="utf-8")
    first = text.index("[[rows]]")
    row = text[first : text.index("[[rows]]", first + 1)]
    alone = text[:first] + row + text[text.index("[cover]") :]
    alone = alone[: alone.index("[as_made]")].replace(
        'revision = "A"\n', 'revision = "A"\nsamples = ["skin.thickness"]\n'
    )
    (folder / "one.toml").write_text(alone, encoding="utf-8")
    page.goto(f"{server.root}/job/one.toml/")
    unfold(page, "rows")
    with page.expect_navigation():
        page.locator("#s-rows-0").get_by_role("button", name="Copy to the other three sides").click()
    assert len(saved(folder, "one.toml")["rows"]) == 4
    unfold(page, "skin")
    with page.expect_navigation():
        page.get_by_role("button", name=re.compile("confirm the sample value")).click()
    assert saved(folder, "one.toml").get("samples", []) == []
    expect(page.locator("#f-skin-thickness")).to_be_visible()
    expect(page.locator(".sample button")).to_have_count(0)
