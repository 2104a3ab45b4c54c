"""The page in the real browser: live drawing, focus, keyboard, a killed server, two tabs, sizes and zoom."""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import signal
import subprocess
import sys
import threading
import tomllib
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path

import pytest

from tests.patience import PATIENCE_S, until
from web.conftest import EXAMPLES

pytestmark = pytest.mark.browser

CHROMIUM = next(
    filter(os.path.exists, ("/usr/bin/chromium-headless-shell", "/usr/bin/chromium")), "/usr/bin/chromium"
)
"""Debian's: the shell is the same engine without the windows, and takes a third less of the processor."""
FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-smooth-scrolling",  # or a click that follows falls beside what still moves
]
PATIENCE_MS = 1000.0 * PATIENCE_S
TARGET_PX = 44
"""Least size of a thing to press (WCAG 2.5.5, target size)."""


def need_browser() -> None:
    """Skip without Debian's chromium, but never in CI: there its absence is a failure."""
    if not Path(CHROMIUM).exists():
        if os.environ.get("CI") == "true":
            pytest.fail(f"there is no {CHROMIUM}, and in CI a browser test is never skipped")
        pytest.skip(f"there is no {CHROMIUM}: install Debian's chromium to drive the page in a real browser")


class Server:
    """The program as it is started by hand."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.port = 0
        self.address = ""
        self.process: subprocess.Popen[str] | None = None

    def start(self) -> None:
        """Start it, on the same port when it ran before."""
        call = [
            sys.executable,
            "-m",
            "hatchwright.web",
            "--folder",
            str(self.folder),
            "--port",
            str(self.port),
        ]
        self.process = subprocess.Popen(
            [*call, "--job", "alder.toml", "--until-input-closes"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        self.address = self._printed()
        self.port = int(self.address.split(":")[2].split("/")[0])

    def new_address(self) -> str:
        """Press Enter: an address that opens the first job once, in a session of its own."""
        assert self.process is not None
        assert self.process.stdin is not None
        self.process.stdin.write("\n")
        self.process.stdin.flush()
        return self._printed()

    def _printed(self) -> str:
        assert self.process is not None
        assert self.process.stdout is not None
        return next(found[0] for line in self.process.stdout if (found := re.search(r"http://\S+", line)))

    @property
    def root(self) -> str:
        """What every address of the program begins with."""
        return self.address.partition("/enter/")[0]

    def stop(self, how: signal.Signals = signal.SIGTERM) -> None:
        """Stop it, or kill it."""
        if self.process:
            self.process.send_signal(how)
            self.process.wait()
            assert self.process.stdin is not None
            assert self.process.stdout is not None
            self.process.stdin.close()
            self.process.stdout.close()
            self.process = None


@pytest.fixture(scope="module")
def chromium():
    need_browser()
    from playwright.sync_api import expect as playwright_expect
    from playwright.sync_api import sync_playwright

    playwright_expect.set_options(timeout=PATIENCE_MS)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS, timeout=PATIENCE_MS)
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    """One server for all tests of this file."""
    place = tmp_path_factory.mktemp("served")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_STATE_HOME", str(place / "state"))
        (place / "jobs").mkdir()
        fill(place / "jobs")
        running = Server(place / "jobs")
        running.start()
        yield running
        running.stop()


def fill(folder: Path) -> None:
    """Put the examples into a folder as they are in the repository, and nothing else."""

    def is_empty() -> bool:
        for old in folder.iterdir():
            shutil.rmtree(old, ignore_errors=True) if old.is_dir() else old.unlink(missing_ok=True)
        return not any(folder.iterdir())

    until(is_empty, "the end of what an earlier page still writes")
    for name in ("alder.toml", "dogwood.toml"):
        shutil.copy(EXAMPLES / name, folder)


def new_context(browser, **how):
    """A browser's room of its own that waits as long as it takes."""
    context = browser.new_context(**how)
    context.set_default_timeout(PATIENCE_MS)
    return context


@pytest.fixture
def folder(server):
    """The folder of jobs, as new."""
    fill(server.folder)
    return server.folder


@pytest.fixture
def page(chromium, server, folder):
    """The example job at 1280 px, with everything the browser complains of gathered."""
    context = new_context(chromium, viewport={"width": 1280, "height": 800})
    shown = context.new_page()
    shown.troubles = []
    shown.asked = []
    shown.on("pageerror", lambda error: shown.troubles.append(str(error)))
    shown.on("console", lambda said: shown.troubles.append(said.text) if said.type == "error" else None)
    shown.on("request", lambda request: shown.asked.append(request.url))
    shown.goto(server.new_address())
    yield shown
    context.close()


def expect(locator):
    from playwright.sync_api import expect as playwright_expect

    return playwright_expect(locator)


def entered(page) -> None:
    """Wait until nothing that was typed is on its way any more; htmx marks the form while something is."""
    expect(page.locator("#entries")).not_to_have_class(re.compile("htmx-request"))


def judged(page) -> None:
    """Wait until the findings are those of the last entry: a click while they come would fall on what is taken away."""
    expect(page.locator("#findings")).to_have_attribute("data-state", "fresh")


def unfold(page, section: str) -> None:
    """Open the tag of a part from the list of all entries, as who works by keyboard does."""
    page.locator(".faces [data-face='entries']").click()
    page.locator(f"#s-{section} > summary").click()


def read_findings(page) -> None:
    """Turn to the findings."""
    page.locator(".faces [data-face='findings']").click()


def saved(folder, name="alder.toml"):
    return tomllib.loads((folder / name).read_text(encoding="utf-8"))


def line_of(page, words: str):
    """The line of the findings that says something, unfolded."""
    read_findings(page)
    line = page.locator(".finding", has_text=words).first
    line.locator("details.cause > summary").click()
    return line


def drawn(page, edge: str) -> str:
    """The path of an edge on the drawing."""
    return page.locator(f".sheet path.{edge}").first.get_attribute("d")


def test_typing_redraws_and_the_box_keeps_its_focus(page, folder):
    unfold(page, "opening")
    filed, cover = drawn(page, "opening-edge"), drawn(page, "cover-edge")
    box = page.locator("#f-opening-width")
    box.focus()
    page.evaluate("document.activeElement.dataset.mine = 'the same box'")
    box.press("End")
    box.press("Backspace")
    box.press("1")
    page.keyboard.type(" in")
    entered(page)
    expect(page.locator("#e-opening-width")).to_have_text("5.010 in = 5 1/64 - .006 = 127.254 mm")
    expect(page.locator("#state")).to_contain_text("Saved")
    assert page.evaluate("document.activeElement.dataset.mine") == "the same box"
    assert page.evaluate("document.activeElement.selectionStart") == len("5.01 in")
    assert saved(folder)["opening"]["width"] == "5.01 in"
    # the opening stays as it was filed; the cover follows the size that was typed
    assert drawn(page, "opening-edge") == filed
    assert drawn(page, "cover-edge") != cover
    assert page.troubles == []


NO_LIMIT = '{"timeout": 0}'


@contextlib.contextmanager
def at_rest(page, server):
    """The program answers nothing meanwhile, as on a machine that is busy with something else.

    The page gives up on an answer after some seconds, which may not be the seconds that a test takes for its keys.
    """
    page.locator("#entries").evaluate("(e, most) => { e.setAttribute('hx-request', most); }", NO_LIMIT)
    server.process.send_signal(signal.SIGSTOP)
    try:
        yield
    finally:
        server.process.send_signal(signal.SIGCONT)


def type_ahead(page, box: str, words: str) -> None:
    """Type faster than the program answers, so that the last keys are not entered yet."""
    page.locator(box).press("ControlOrMeta+a")
    page.locator(box).press_sequentially(words)


def test_keys_that_come_faster_than_answers_are_entered_together_and_the_last_one_stays(page, server, folder):
    unfold(page, "opening")
    asked = []
    page.on("request", lambda request: asked.append(request.url) if request.method == "POST" else None)
    box = page.locator("#f-opening-height")
    typed = "88.9 mm"
    with at_rest(page, server):
        box.fill("")
        box.press_sequentially(typed)
    entered(page)
    expect(page.locator("#e-opening-height")).to_contain_text("= 88.9 mm")
    assert saved(folder)["opening"]["height"] == typed
    assert box.input_value() == typed
    assert len(asked) < len(typed)
    assert page.troubles == []


def test_while_the_program_does_not_answer_nothing_is_called_saved(page, server, folder):
    unfold(page, "opening")
    with at_rest(page, server):
        type_ahead(page, "#f-opening-width", "5.25")
        expect(page.locator("#state")).to_have_text("Saving …")
        expect(page.locator("#not-up-to-date")).to_contain_text("has not answered yet")
    expect(page.locator("#state")).to_contain_text("Saved")
    entered(page)
    expect(page.locator("#not-up-to-date")).to_have_text("")
    assert saved(folder)["opening"]["width"] == "5.25"


def test_who_leaves_the_page_takes_the_last_keys_along(page, server, folder):
    unfold(page, "opening")
    with at_rest(page, server):
        type_ahead(page, "#f-opening-width", "5.25")
        page.locator("#menu > summary").click()
        page.locator("a", has_text="Read the file").click(no_wait_after=True)
    expect(page.locator("h1")).to_contain_text("alder.toml")
    assert saved(folder)["opening"]["width"] == "5.25"


def test_a_page_that_is_closed_sends_the_last_keys_behind(page, server, folder):
    unfold(page, "opening")
    with at_rest(page, server):
        type_ahead(page, "#f-opening-width", "5.25")
        page.evaluate("location.href = 'about:blank'")
        page.wait_for_url("about:blank")
    until(lambda: saved(folder)["opening"]["width"] == "5.25", "the last width typed")


def test_a_row_is_taken_away_once_however_fast_one_types_and_clicks(page, server, folder):
    unfold(page, "opening")
    before = saved(folder)["bay"]["rows"]
    with at_rest(page, server):
        type_ahead(page, "#f-opening-width", "5.25")
        unfold(page, "bay-rows")
        away = page.locator('button[value="take:bay.rows.1"]')
        away.click(no_wait_after=True)
        away.click(no_wait_after=True)
    expect(page.locator('button[value^="take:bay.rows."]')).to_have_count(len(before) - 1)
    assert saved(folder)["bay"]["rows"] == [*before[:1], *before[2:]]
    assert saved(folder)["opening"]["width"] == "5.25"


def test_undo_waits_for_what_was_typed_last(page, server, folder):
    unfold(page, "opening")
    with at_rest(page, server):
        type_ahead(page, "#f-opening-width", "5.25")
        page.locator("#undo").evaluate("button => { button.disabled = false; button.click(); }")
    expect(page.locator("#redo")).to_be_enabled()
    assert saved(folder)["opening"]["width"] == "5.00"
    assert page.locator("#notice").text_content().strip() == ""


def test_nothing_is_asked_of_another_host_and_the_policy_is_kept(page, server):
    unfold(page, "opening")
    page.locator("#f-opening-radius").fill("1 in")
    expect(page.locator("#e-opening-radius")).to_contain_text("25.4 mm")
    judged(page)
    read_findings(page)
    page.locator("#passed > summary").click()
    expect(page.locator("#passed .finding").first).to_be_visible()
    assert all(url.startswith(f"{server.root}/") for url in page.asked)
    assert len(page.asked) > 5
    assert page.troubles == []


def test_a_faulty_entry_says_what_would_do_and_grays_the_drawing(page):
    unfold(page, "opening")
    page.locator("#f-opening-width").fill("1,000")
    fault = page.locator("#e-opening-width")
    expect(fault).to_contain_text("comma")
    expect(page.locator("#f-opening-width")).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#not-up-to-date")).to_contain_text("NOT UP TO DATE")
    assert "grayscale" in page.locator(".board").evaluate("e => getComputedStyle(e).filter")
    assert page.locator("#f-opening-width").input_value() == "1,000"
    page.locator(".faults a").first.click()
    assert page.evaluate("document.activeElement.id") == "f-opening-width"
    page.locator("#f-opening-width").fill("5.00")
    expect(page.locator("#not-up-to-date")).to_have_text("")
    expect(fault).to_have_text("5.000 in = 5 = 127 mm")


def test_the_number_on_the_drawing_and_the_finding_point_to_each_other(page):
    line_of(page, "Rivet 6 to opening edge").locator("[data-mark='6']").first.click()
    assert page.locator(".sheet .marked").count() >= 2
    assert set(
        page.locator(".sheet circle.marked").evaluate_all("all => all.map(one => one.dataset.hole)")
    ) == {"6"}
    expect(page.locator("#hole-said")).to_contain_text("Hole 6: STOP")
    spot = page.locator(".sheet circle[data-hole='15']").first.bounding_box()
    page.mouse.click(spot["x"] + spot["width"] / 2 + 6, spot["y"] + spot["height"] / 2)
    expect(page.locator("#hole-said")).to_contain_text("Hole 15: STOP")
    marked = page.locator(".finding.marked")
    assert marked.count() >= 1
    assert all(
        "15" in holes.split() for holes in marked.evaluate_all("all => all.map(one => one.dataset.holes)")
    )
    page.locator("#hole-wanted").fill("9")
    page.keyboard.press("Enter")
    expect(page.locator("#hole-said")).to_contain_text("Hole 9:")
    page.locator("#hole-wanted").fill("999")
    page.keyboard.press("Enter")
    expect(page.locator("#hole-said")).to_contain_text("No hole 999")


def test_a_mark_an_unfolded_working_and_a_typed_reason_outlive_the_redrawing(page):
    line = line_of(page, "Rivet 6 to opening edge")
    line.locator(".why > summary").first.click()
    page.locator("#reason-R601").fill("half typed")
    line.locator("[data-mark='6']").first.click()
    unfold(page, "opening")
    page.locator("#f-opening-radius").fill(".80")
    expect(page.locator("#e-opening-radius")).to_contain_text("20.32 mm")
    judged(page)
    assert page.locator("#reason-R601").input_value() == "half typed"
    line = page.locator(".finding", has_text="Rivet 6 to opening edge").first
    expect(line.locator("details.cause")).to_have_attribute("open", "")
    expect(line.locator(".why").first).to_have_attribute("open", "")
    assert page.locator(".sheet circle.marked").count() >= 1


def test_no_old_figure_is_seen_and_what_was_unfolded_stays_open(page):
    held = []
    line = line_of(page, "Rivet 6 to opening edge")
    line.locator(".why > summary").first.click()
    page.locator("#passed > summary").click()
    expect(page.locator("#passed .finding").first).to_be_visible()
    page.route("**/judged?*", lambda request: held.append(request))
    unfold(page, "opening")
    page.locator("#f-opening-radius").fill("1 in")
    expect(page.locator("#e-opening-radius")).to_contain_text("25.4 mm")
    page.locator("#hole-wanted").fill("6")
    page.keyboard.press("Enter")
    expect(page.locator("#hole-said")).to_contain_text("Hole 6: being rechecked")
    read_findings(page)
    expect(page.locator("#findings-said")).to_contain_text(re.compile("recheck", re.IGNORECASE))
    for old in (line, page.locator(".band"), page.locator("#counts")):
        expect(old).to_be_hidden()
    for request in held:
        request.continue_()
    page.unroute("**/judged?*")
    judged(page)
    expect(page.locator("#findings-said")).to_have_text("")
    expect(page.locator("#hole-said")).to_contain_text("Hole 6: STOP")
    expect(page.locator(".finding", has_text="Rivet 6 to opening edge").first).to_have_class(
        re.compile("marked")
    )
    expect(line.locator(".why").first).to_have_attribute("open", "")
    expect(page.locator("#passed .finding").first).to_be_visible()
    assert page.locator(".band").is_visible()


def test_findings_that_did_not_come_are_asked_for_again(page):
    """The line is cut, then the answer is that there is none, then it comes; what is said stays until then."""
    held, said = [], page.locator("#findings-said")
    expect(said).to_have_text("")  # those that the page asks for as it is opened have come
    page.route("**/judged?*", lambda request: held.append(request))

    def next_question():
        until(lambda: page.evaluate("1") and held, "the next question")
        return held.pop()

    unfold(page, "opening")
    page.locator("#f-opening-radius").fill("1 in")
    next_question().abort()
    question = next_question()
    expect(said).to_contain_text("The findings could not be rechecked")
    question.fulfill(status=204)
    question = next_question()
    expect(said).to_contain_text("The job was changed elsewhere.")
    question.continue_()
    judged(page)
    expect(said).to_have_text("")
    assert not held


@pytest.mark.parametrize(("width", "height"), [(1280, 800), (480, 900)])
def test_the_verdict_of_both_sides_leads_the_page_and_its_coming_moves_nothing(page, width, height):
    page.set_viewport_size({"width": width, "height": height})
    heads = page.locator(".headline")
    expect(heads).to_have_count(2)
    expect(heads.nth(1)).to_contain_text("RIGHT side: DO NOT CUT, DRILL OR RIVET")
    expect(heads.first).to_contain_text("DO NOT CUT, DRILL OR RIVET")
    head = page.locator(".heads").bounding_box()
    assert head["y"] >= 0
    assert head["y"] + head["height"] < height / 3
    for below in (".looks", "#drawing"):
        assert head["y"] + head["height"] <= page.locator(below).first.bounding_box()["y"], below
    held = []
    page.route("**/judged?*", lambda request: held.append(request))
    unfold(page, "opening")
    box, before = page.locator("#f-opening-radius"), heads.first.inner_text()
    where = "e => e.getBoundingClientRect().top + scrollY"
    drawing = page.locator("#drawing").evaluate(where)
    expect(page.locator(".earlier")).to_be_hidden()
    with page.expect_request("**/judged?*"):
        box.fill(".6")
    expect(page.locator(".earlier")).to_be_visible()
    assert heads.first.inner_text() == before
    page.evaluate("document.activeElement.dataset.mine = 'the same box'")
    for request in held:
        request.continue_()
    page.unroute("**/judged?*")
    judged(page)
    expect(heads.first).not_to_have_text(before)
    expect(page.locator(".earlier")).to_be_hidden()
    assert page.locator("#drawing").evaluate(where) == drawing
    assert page.evaluate("document.activeElement.dataset.mine") == "the same box"
    assert page.troubles == []


def test_a_reader_far_down_the_findings_stays_at_the_same_finding(page):
    page.set_viewport_size({"width": 1280, "height": 560})
    room = page.locator("#beside")
    code = page.locator(".finding .code").nth(4).inner_text()
    wanted = page.locator(".finding .code", has_text=code).first
    wanted.scroll_into_view_if_needed()
    room.evaluate(
        "(e, to) => { e.scrollTop += to.getBoundingClientRect().top - 120; }", wanted.element_handle()
    )
    before = wanted.bounding_box()["y"]
    assert room.evaluate("e => e.scrollTop") > 200
    page.locator("#f-opening-radius").evaluate(
        "box => { box.value = '.751'; box.dispatchEvent(new Event('input', { bubbles: true })); }"
    )
    expect(page.locator("#e-opening-radius")).to_contain_text(".751")
    judged(page)
    assert abs(wanted.bounding_box()["y"] - before) < 2


def test_lines_of_the_drawing_keep_their_thickness_at_any_closeness(page):
    kept = page.locator(".sheet svg").evaluate(
        "svg => [...svg.querySelectorAll('path, circle')].map(e => getComputedStyle(e).vectorEffect)"
    )
    assert len(kept) > 100
    assert set(kept) == {"non-scaling-stroke"}


def test_seen_from_inside_is_mirrored_and_says_so(page):
    page.get_by_role("button", name="Whole bay").click()

    def is_left_of(first, second):
        return (
            page.locator(f".sheet [data-hole='{first}']").first.bounding_box()["x"]
            < page.locator(f".sheet [data-hole='{second}']").first.bounding_box()["x"]
        )

    assert is_left_of("45", "5")
    page.locator(".looks label", has_text="Inside").click()
    expect(page.locator(".seen")).to_have_text("SEEN FROM INSIDE: MIRRORED")
    assert is_left_of("5", "45")
    page.locator(".looks label", has_text="Other side").click()
    expect(page.locator("figcaption .side")).to_have_text("RIGHT")


def test_a_killed_server_grays_the_drawing_and_keeps_what_was_typed(page, server, folder):
    unfold(page, "opening")
    server.stop(signal.SIGKILL)
    box = page.locator("#f-opening-width")
    box.fill("5.25")
    expect(page.locator("#state")).to_contain_text("NOT SAVED")
    expect(page.locator("#not-up-to-date")).to_contain_text("What you typed stays in the entries")
    assert "grayscale" in page.locator(".board").evaluate("e => getComputedStyle(e).filter")
    assert box.input_value() == "5.25"
    assert saved(folder)["opening"]["width"] == "5.00"
    server.start()
    expect(page.locator("#not-up-to-date")).to_contain_text("the session of this page has ended")
    assert box.input_value() == "5.25"
    assert saved(folder)["opening"]["width"] == "5.00"
    page.context.new_page().goto(server.new_address())
    expect(page.locator("#state")).to_contain_text("Saved")  # the page tries again by itself
    assert saved(folder)["opening"]["width"] == "5.25"
    assert float(page.locator(".sheet").evaluate("e => getComputedStyle(e).opacity")) == 1.0


def test_another_program_on_another_port_gets_no_cookie(page):
    came = []

    class Other(BaseHTTPRequestHandler):
        def do_GET(self):
            came.append(self.headers)
            self.send_response(204)
            self.end_headers()

        def log_message(self, *_):
            pass

    with HTTPServer(("127.0.0.1", 0), Other) as other:
        threading.Thread(target=other.serve_forever, daemon=True).start()
        asked = "address => fetch(address, {mode: 'no-cors', credentials: 'include'}).catch(() => 0)"
        address = f"http://127.0.0.1:{other.server_port}/job/alder.toml/"
        stranger = page.context.new_page()
        stranger.route(
            "**/start",
            lambda route: route.fulfill(body="<p>a page of the other program", content_type="text/html"),
        )
        stranger.goto(f"http://127.0.0.1:{other.server_port}/start")
        stranger.evaluate(asked, address)
        other.shutdown()
    assert came
    assert not [headers for headers in came if headers["Cookie"]]


def test_two_tabs_on_one_job_never_overwrite_each_other(page, folder):
    other = page.context.new_page()
    other.goto(page.url)
    unfold(page, "opening")
    page.locator("#f-opening-width").fill("5.10")
    expect(page.locator("#e-opening-width")).to_contain_text("129.54 mm")
    unfold(other, "opening")
    other.locator("#f-opening-height").fill("4.20")
    expect(other.locator("#notice")).to_contain_text("changed elsewhere")
    expect(other.locator("#state")).to_contain_text("NOT SAVED")
    assert other.locator("#f-opening-height").input_value() == "4.20"
    assert saved(folder)["opening"]["height"] == "4.00"
    with other.expect_navigation():
        other.locator("#notice a", has_text="Take the file").click()
    assert other.locator("#f-opening-width").input_value() == "5.10"


def test_the_keyboard_alone_is_enough(page, folder):
    """From the top to a box, a change, a new line, and the drawing; focus can be seen at every stop."""
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "To the drawing"
    assert page.evaluate("document.activeElement.getBoundingClientRect().top") >= 0
    seen = []
    for _ in range(60):
        page.keyboard.press("Tab")
        seen.append(page.evaluate("document.activeElement.textContent.trim().slice(0, 12)"))
        thick = page.evaluate(
            "parseFloat(getComputedStyle(document.activeElement).outlineWidth) || "
            "parseFloat(getComputedStyle(document.activeElement.nextElementSibling || document.body).outlineWidth)"
        )
        assert thick >= 3, seen
        if page.evaluate("document.activeElement.matches('.faces [data-face=entries]')"):
            page.keyboard.press("Enter")
        if page.evaluate("document.activeElement.parentElement.id") == "s-bay-flanges":
            break
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "f-bay-flanges-0-name"
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.value === 'add:bay.flanges'"):
            break
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "f-bay-flanges-4-name"
    page.keyboard.type("intercostal")
    page.keyboard.press("Tab")
    page.keyboard.type("10 3/8")
    expect(page.locator("#e-bay-flanges-4-x_from")).to_contain_text("263.525 mm")
    expect(page.locator("#state")).to_contain_text("Saved")
    assert saved(folder)["bay"]["flanges"][4] == {"name": "intercostal", "x_from": "10 3/8"}


def test_enter_in_a_box_saves_and_stays_on_the_page(page, folder):
    unfold(page, "opening")
    page.locator("#f-opening-radius").fill(".9")
    address = page.url
    page.keyboard.press("Enter")
    expect(page.locator("#e-opening-radius")).to_contain_text("22.86 mm")
    assert page.url == address
    assert page.evaluate("document.activeElement.id") == "f-opening-radius"


def test_another_shape_shows_its_boxes_and_undo_brings_the_old_ones_back(page, folder):
    unfold(page, "opening")
    page.locator("#f-opening-shape").focus()
    page.locator("#f-opening-shape").select_option("circle")
    expect(page.locator("#f-opening-diameter")).to_be_visible()
    assert page.evaluate("document.activeElement.id") == "f-opening-shape"
    assert page.locator("#f-opening-width").count() == 0
    page.locator("#f-opening-diameter").fill("4 1/2")
    expect(page.locator("#e-opening-diameter")).to_contain_text("114.3 mm")
    for _ in range(2):
        expect(page.locator("#undo")).to_be_enabled()
        with page.expect_navigation():
            page.locator("#undo").click()
    assert page.locator("#f-opening-width").input_value() == "5.00"
    assert saved(folder)["opening"]["shape"] == "rounded rectangle"


SMALL = """
() => [...document.querySelectorAll(
    "button, .button, summary, input:not([type=hidden]), select, textarea, .counts a, .mark a"
  )]
  .filter(one => one.checkVisibility() && !one.matches(".aside") && !one.closest(".skip"))
  .map(one => [one, (one.type === "radio" ? one.closest("label") : one).getBoundingClientRect()])
  .filter(([one, box]) => box.height < TARGET - 0.5 || box.width < TARGET - 0.5)
  .map(([one, box]) => `${one.tagName} ${one.id || one.textContent.trim()} ${box.width} x ${box.height}`)
""".replace("TARGET", str(TARGET_PX))

TOO_WIDE = """
() => [document.documentElement, ...document.querySelectorAll(".plan, .beside")]
  .filter(one => one.scrollWidth > one.clientWidth + 1).map(one => `${one.className || one.tagName} ${one.scrollWidth}`)
"""


@pytest.mark.parametrize(("width", "height"), [(1280, 800), (800, 1100), (800, 600), (480, 900)])
def test_nothing_is_cut_off_and_everything_can_be_pressed(page, server, width, height):
    page.set_viewport_size({"width": width, "height": height})
    for part in ("opening", "rows", "bay-flanges", "as_made"):
        unfold(page, part)
        assert page.evaluate(TOO_WIDE) == [], part
        assert page.evaluate(SMALL) == [], part
    read_findings(page)
    assert page.evaluate(TOO_WIDE) == []
    assert page.evaluate(SMALL) == []
    page.goto(f"{server.root}/")
    assert page.evaluate(TOO_WIDE) == []
    assert page.evaluate(SMALL) == []


@pytest.mark.parametrize("width", [1280, 800])
def test_text_at_200_percent_loses_nothing(server, chromium, folder, width):
    browser = chromium.browser_type.launch(
        executable_path=CHROMIUM,
        args=[*FLAGS, "--blink-settings=defaultFontSize=32,minimumFontSize=0"],
        timeout=PATIENCE_MS,
    )
    try:
        context = new_context(browser, viewport={"width": width, "height": 800})
        page = context.new_page()
        page.goto(server.new_address())
        assert page.evaluate("getComputedStyle(document.body).fontSize") == "32px"
        parts = {"opening": "#f-opening-width", "bay-flanges": "#f-bay-flanges-0-x_to"}
        for tag, part in (*parts.items(), ("", ".sheet svg"), ("", ".not-checked"), ("", "#undo")):
            if tag:
                unfold(page, tag)
            assert page.evaluate(TOO_WIDE) == []
            box = page.locator(part).first
            box.scroll_into_view_if_needed()
            assert box.is_visible()
            assert box.bounding_box()["width"] > 40
    finally:
        browser.close()


def test_colour_is_never_the_only_sign(page):
    """Without colour every answer still has its word, its own symbol, and a bad hole its ring and its words."""
    shapes = {}
    for status in ("stop", "unknown", "caution", "pass"):
        symbol = page.locator(f".counts .symbol.is-{status}").first
        shapes[status] = symbol.inner_html()
    assert len(set(shapes.values())) == 4
    expect(page.locator(".sheet circle.ring").nth(2)).to_be_attached()  # the rings come with the findings
    assert page.locator(".sheet text.short").count() >= 3


HELD_BACK = """
const ask = window.fetch, go = new Promise((tell) => { window.go = tell; });
window.fetch = async (...what) => { await go; return ask(...what); };
"""


def test_verdicts_come_into_the_list_and_leave_the_focus_where_it_is(page, server, folder):
    """Everything is named before anything is judged; the end alone is announced."""
    text = (folder / "alder.toml").read_text(encoding="utf-8")
    for one in range(3):
        (folder / f"new-{one}.toml").write_text(text.replace("Inspection", f"{one}. inspection"), "utf-8")
    page.add_init_script(HELD_BACK)
    page.goto(f"{server.root}/")
    row = page.locator("li[data-name='new-1.toml']")
    expect(row).to_contain_text("being checked")
    row.locator(".job-link").focus()
    expect(page.locator("#jobs-left")).to_contain_text("still being checked")
    expect(page.get_by_role("status")).to_have_text("")
    page.evaluate("window.go()")
    expect(row.locator(".headline").first).to_contain_text("DO NOT CUT")
    expect(page.get_by_role("status")).to_have_text("All jobs are checked.")
    expect(row.locator(".job-link")).to_be_focused()
    expect(row.locator(".job-link")).to_contain_text("1. inspection")
    assert page.locator("#jobs [data-lacks]:not([data-lacks=''])").count() == 0
    assert page.troubles == []


def test_papers_survive_a_reload_and_say_what_to_print_first(page, server, folder, tmp_path):
    page.goto(f"{server.root}/job/dogwood.toml/papers")
    expect(page.locator("progress")).to_be_visible()
    page.reload()
    first = page.locator(".print-first a")
    expect(first).to_contain_text("Print this first: the CENTER set")
    with page.expect_download() as taken:
        first.click()
    assert taken.value.suggested_filename == "dogwood_PRINT_CENTER_LETTER.pdf"
    taken.value.save_as(tmp_path / "print.pdf")
    assert (tmp_path / "print.pdf").read_bytes().startswith(b"%PDF-")
    order = page.locator("ol.sheets h4").all_inner_texts()
    assert [one.partition(" ")[0] for one in order] == [
        *("Carry", "Overview", "Layout", "Part", "Template", "Template"),
        *("Trial", "Parts", "Log", "Desk"),
    ]
    for width in (1440, 800, 390):
        page.set_viewport_size({"width": width, "height": 844})
        assert page.evaluate(TOO_WIDE) == []
        assert page.evaluate(SMALL) == []
    for picture in page.locator("ol.sheets img").all():
        picture.scroll_into_view_if_needed()
        expect(picture).to_have_js_property("complete", True)
        assert picture.evaluate("one => one.naturalWidth") == 280
    file = folder / "dogwood.toml"
    page.clock.install()
    page.reload()
    expect(first).to_be_visible()
    file.write_text(file.read_text(encoding="utf-8") + "# changed by another program\n", encoding="utf-8")
    page.clock.run_for(5_000)
    expect(page.locator(".moved-on")).to_contain_text(
        "DO NOT USE: the job, or a file that it uses, was changed"
    )
    expect(first).to_be_visible()
    assert page.troubles == []


def test_papers_can_be_canceled_and_begun_again(page, server):
    page.goto(f"{server.root}/job/dogwood.toml/papers?paper=a4")
    page.get_by_role("button", name="Cancel").press("Enter")
    expect(page.locator("#made")).to_contain_text("Canceled: nothing was created.")
    page.reload()
    expect(page.locator("#made")).to_contain_text("Canceled: nothing was created.")
    page.locator("#made").get_by_role("button", name="Create").click()
    expect(page.locator("progress")).to_be_visible()
    page.get_by_role("button", name="Cancel").click()
    expect(page.locator("#made")).to_contain_text("Canceled: nothing was created.")
    assert page.troubles == []
