"""Strength beside the drawing, in the real browser: asked for after a rest, never of another entry, any width."""

from __future__ import annotations

import contextlib
import os
import signal
from pathlib import Path

import pytest

from web.test_browser import (  # noqa: F401
    SMALL,
    TOO_WIDE,
    chromium,
    entered,
    expect,
    folder,
    page,
    read_findings,
    saved,
    server,
    unfold,
)

pytestmark = pytest.mark.browser

LOADS = """
[loads]
basis = "running loads"
source = "stress note 7, page 3"
[[loads.cases]]
name = "gust up"
nx = "120"
q = "60"
"""


@pytest.fixture
def loaded(page, folder, server):  # noqa: F811
    """The example with known loads, its strength worked out."""
    file = folder / "alder.toml"
    file.write_text(file.read_text(encoding="utf-8") + LOADS, encoding="utf-8")
    page.asked.clear()
    page.goto(f"{server.root}/job/alder.toml/")
    expect(page.locator("#strength .margins")).to_be_visible()
    return page


def asked_strength(page):  # noqa: F811
    return [url for url in page.asked if "/strength?" in url]


def test_without_loads_no_claim_is_made(page):  # noqa: F811
    expect(page.locator("#strength .basis")).to_contain_text("No loads entered, so no strength result.")
    assert page.locator("#strength .gate li").count() >= 7
    assert page.locator("#strength :is(table, svg.stress, .compared, .stress)").count() == 0
    assert page.locator(".not-checked").inner_text().startswith("NOT CHECKED: strength (no loads entered);")
    assert page.troubles == []


def test_the_gate_comes_first_then_margins_and_picture(loaded, server):  # noqa: F811
    parts = "#strength :is(.gate, .basis, .margins, .stress, .reports)"
    order = loaded.evaluate(f"[...document.querySelectorAll('{parts}')].map(e => e.className)")
    assert order == ["gate", "basis", "margins", "stress", "reports"]
    assert loaded.locator(".stress svg").count() == 1
    expect(loaded.locator(".not-checked")).to_contain_text("fatigue and damage tolerance")
    expect(loaded.locator(".not-checked")).not_to_contain_text(
        "strength ("
    )  # it comes after the page, and is run then
    known = [text for text in loaded.locator(".margins tbody .figure").all_text_contents() if text]
    assert len(known) > 5
    assert [float(text) for text in known] == sorted(float(text) for text in known)
    assert all(url.startswith(f"{server.root}/") for url in loaded.asked)
    assert loaded.troubles == []


def test_strength_follows_the_entry_but_only_after_a_rest(loaded):
    """By a clock of its own: the page's time passes only where the test lets it pass."""
    unfold(loaded, "doubler")
    before = loaded.locator("#strength .margins").text_content()
    loaded.clock.install()
    loaded.clock.pause_at(loaded.evaluate("Date.now()") + 60_000)
    loaded.asked.clear()
    box = loaded.locator("#f-doubler-thickness")
    answer = loaded.locator("#answer-data")
    for text in (".03", ".032", ".04", ".040", ".05", ".050", ".06", ".063"):
        earlier = answer.get_attribute("data-version")
        box.fill(text)
        expect(answer).not_to_have_attribute("data-version", earlier)
        loaded.clock.run_for(120)
    expect(loaded.locator("#strength")).to_have_attribute("data-state", "old")
    assert asked_strength(loaded) == []
    loaded.clock.run_for(5_000)
    loaded.clock.resume()
    expect(loaded.locator("#strength")).to_have_attribute("data-state", "fresh")
    assert len(set(asked_strength(loaded))) == 1
    version = loaded.locator("#answer-data").get_attribute("data-version")
    assert asked_strength(loaded)[0].endswith(f"version={version}")
    assert loaded.locator("#strength .margins").text_content() != before
    assert loaded.locator("#state").inner_text().startswith("Saved")
    assert loaded.troubles == []


@contextlib.contextmanager
def workers_at_rest(server):  # noqa: F811
    """The processes beside the page do nothing meanwhile, so that no strength can be worked out."""
    tasks = Path(f"/proc/{server.process.pid}/task").glob("*/children")
    workers = [int(number) for task in tasks for number in task.read_text(encoding="ascii").split()]
    assert workers
    for worker in workers:
        os.kill(worker, signal.SIGSTOP)
    try:
        yield
    finally:
        for worker in workers:
            with contextlib.suppress(ProcessLookupError):  # one that was ended meanwhile
                os.kill(worker, signal.SIGCONT)


def test_a_drawing_asked_for_meanwhile_does_not_wait(loaded, server):  # noqa: F811
    """While strength is being worked out an entry is answered as ever, and the overtaken answer is not shown."""
    unfold(loaded, "doubler")
    box = loaded.locator("#f-doubler-thickness")
    with workers_at_rest(server):
        with loaded.expect_request(lambda request: "/strength?" in request.url):
            box.fill(".057")
        overtaken = loaded.locator("#answer-data").get_attribute("data-version")
        box.fill(".071")
        expect(loaded.locator("#answer-data")).not_to_have_attribute("data-version", overtaken)
        expect(loaded.locator("#strength")).to_have_attribute("data-state", "old")
    expect(loaded.locator("#strength")).to_have_attribute("data-state", "fresh")
    assert asked_strength(loaded)[-1].endswith(loaded.locator("#answer-data").get_attribute("data-version"))
    assert loaded.troubles == []


def test_strength_shows_how_far_it_is_and_can_be_canceled(loaded, server):  # noqa: F811
    """Also after a reload, which finds the work that goes on."""
    unfold(loaded, "doubler")
    with workers_at_rest(server):
        loaded.locator("#f-doubler-thickness").fill(".090")  # of which nothing is kept yet
        entered(loaded)
        read_findings(loaded)
        expect(loaded.locator("#strength progress")).to_be_visible()
        loaded.reload()
        expect(loaded.locator("#strength progress")).to_be_visible()
        cancel = loaded.locator("#strength").get_by_role("button", name="Cancel")
        answered: list[str] = []
        loaded.on("response", lambda answer: answered.append(answer.url))
        cancel.press("Enter")
        expect(loaded.locator("#strength-shown")).to_contain_text("Canceled: strength was not computed.")
        expect(cancel).not_to_be_visible()
    loaded.locator("#strength").get_by_role("button", name="Compute strength").click()
    expect(loaded.locator("#strength .margins")).to_be_visible()
    assert f"{server.root}/job/alder.toml/" not in answered  # the page is not made anew for nobody
    assert loaded.troubles == []


def test_a_faulty_entry_grays_strength_and_says_so(loaded):
    unfold(loaded, "opening")
    loaded.locator("#f-opening-radius").fill("nine")
    expect(loaded.locator("#strength-said")).to_contain_text("waits until the entries are fixed")
    expect(loaded.locator("#strength")).to_have_attribute("data-state", "old")
    loaded.locator("#f-opening-radius").fill(".75")
    expect(loaded.locator("#strength")).to_have_attribute("data-state", "fresh")


def test_nothing_of_it_is_cut_off(loaded):
    for width, height in ((1280, 800), (800, 1100), (480, 900)):
        loaded.set_viewport_size({"width": width, "height": height})
        assert loaded.evaluate(TOO_WIDE) == []
        assert loaded.evaluate(SMALL) == []
        for part in (".gate", ".margins", ".stress", ".reports a"):
            box = loaded.locator(f"#strength {part}").first
            box.scroll_into_view_if_needed()
            assert box.is_visible()
            assert box.bounding_box()["width"] > 200


def test_the_report_can_be_taken(loaded, tmp_path):
    with loaded.expect_download() as taken:
        loaded.locator(".reports a", has_text="A4").click()
    assert taken.value.suggested_filename == "alder_STRENGTH_LEFT_A4.pdf"
    taken.value.save_as(tmp_path / "report.pdf")
    assert (tmp_path / "report.pdf").read_bytes().startswith(b"%PDF-")
