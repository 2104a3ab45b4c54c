"""A shop at work in the browser: log in, name a person, two on one job, a viewer, and the end of a session."""

from __future__ import annotations

import re

import pytest

from security.served_shop import served_shop
from security.shop import INSPECTOR, MECHANIC, PHRASES, VIEWER, name_everybody
from web.test_axe import faults
from web.test_browser import chromium, expect, new_context  # noqa: F401

pytestmark = pytest.mark.browser
NEW = ("D. Mechanic", "lock nut washer twelve")


@pytest.fixture(scope="module")
def served(tmp_path_factory):
    """A shop of three."""
    place = tmp_path_factory.mktemp("shop")
    name_everybody(place / "jobs")
    with served_shop(place / "jobs", place / "state") as shown:
        yield shown


def test_a_shop_at_work(served, chromium):  # noqa: F811
    def page_of(name: str, phrase: str, to: str = "/"):
        page = new_context(chromium, ignore_https_errors=True).new_page()
        page.goto(f"{served.root}{to}")
        page.get_by_label("Name").fill(name)
        page.get_by_label("Pass phrase").fill(phrase)
        page.keyboard.press("Enter")
        return page

    inspector = page_of(INSPECTOR, "not the right one")
    expect(inspector.get_by_role("alert")).to_contain_text("don't go together")
    assert faults(inspector) == []
    expect(inspector.get_by_label("Name")).to_have_value(INSPECTOR)
    inspector.get_by_label("Pass phrase").fill(PHRASES[INSPECTOR])
    inspector.keyboard.press("Enter")
    inspector.get_by_role("link", name=f"{INSPECTOR}, inspector").click()

    form = inspector.locator("form[action='/people/name']")
    for label, typed in (
        ("Name", NEW[0]),
        ("Certificate", "A&P 7654321"),
        ("The person's own", NEW[1]),
        ("The new one again", NEW[1]),
        ("Your pass phrase", PHRASES[INSPECTOR]),
    ):
        form.get_by_label(label).fill(typed)
    form.get_by_role("button").click()
    row = inspector.get_by_role("row", name=NEW[0])
    expect(row).to_contain_text(f"by {INSPECTOR}")
    expect(row).to_contain_text("A&P 7654321")
    for width in (1280, 390):
        inspector.set_viewport_size({"width": width, "height": 844})
        assert faults(inspector) == [], width
    assert inspector.get_by_text(served.printed.splitlines()[2].strip()).is_visible()

    text = "/job/alder.toml/text"
    inspector.goto(f"{served.root}{text}")
    mechanic = page_of(*NEW, to=text)
    for page, title in ((mechanic, "by the mechanic"), (inspector, "by the inspector")):
        box = page.locator("textarea[name=text]")
        box.fill(box.input_value().replace("Inspection opening", title))
        page.locator("form[action$='/text'] button[type=submit]").first.click()
    expect(inspector.locator("main")).to_contain_text(
        f"{NEW[0]} has saved a change since this page was loaded"
    )
    expect(inspector.locator("textarea[name=text]")).to_have_value(re_of("by the inspector"))

    viewer = page_of(VIEWER, PHRASES[VIEWER], to=text)
    box = viewer.locator("textarea[name=text]")
    expect(box).to_have_value(re_of("by the mechanic"))
    box.fill(box.input_value().replace("by the mechanic", "by the viewer"))
    viewer.locator("form[action$='/text'] button[type=submit]").first.click()
    expect(viewer.locator("h1")).to_have_text("Your role is viewer: you may not do this")

    mechanic.goto(f"{served.root}/")
    mechanic.get_by_role("button", name="Log out").click()
    expect(mechanic.locator("h1")).to_have_text("Log in")
    mechanic.go_back()
    mechanic.reload()
    expect(mechanic.locator("h1")).to_have_text("Log in")


def re_of(part: str) -> re.Pattern[str]:
    return re.compile(re.escape(part))


def test_who_left_a_page_open_keeps_what_he_typed(served, chromium):  # noqa: F811
    """Without script: the answer holds the form, and it goes in once he has logged in beside it."""
    context = new_context(chromium, ignore_https_errors=True, java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{served.root}/job/dogwood.toml/text")
    page.get_by_label("Name").fill(MECHANIC)
    page.get_by_label("Pass phrase").fill(PHRASES[MECHANIC])
    page.get_by_role("button", name="Log in").click()
    box = page.locator("textarea[name=text]")
    box.fill(box.input_value().replace('title = "', 'title = "Kept: ', 1))
    context.clear_cookies(name="__Host-hatchwright_session")
    page.locator("form[action$='/text'] button[type=submit]").first.click()
    expect(page.locator("h1")).to_have_text("You are logged out")
    with context.expect_page() as opened:
        page.get_by_role("link", name="Log in in another tab").click()
    beside = opened.value
    beside.get_by_label("Name").fill(MECHANIC)
    beside.get_by_label("Pass phrase").fill(PHRASES[MECHANIC])
    beside.get_by_role("button", name="Log in").click()
    expect(beside.locator("h1")).to_have_text("Jobs")
    page.get_by_role("button", name="Send again").click()
    expect(page).to_have_title(re_of("Kept: "))


def test_the_job_page_says_whether_who_types_may_not_or_is_logged_out(served, chromium):  # noqa: F811
    """Who may only look is not sent to log in; who is logged out is, and what he typed is then saved by itself."""

    def opened(name: str):
        context = new_context(chromium, ignore_https_errors=True)
        page = context.new_page()
        page.goto(f"{served.root}/job/dogwood.toml/")
        page.get_by_label("Name").fill(name)
        page.get_by_label("Pass phrase").fill(PHRASES[name])
        page.keyboard.press("Enter")
        page.locator("#f-title").wait_for(state="attached")
        page.wait_for_load_state("load")
        return context, page

    def typed(page, title: str) -> None:
        page.locator("#f-title").evaluate(
            """(box, title) => {
                box.value = title;
                for (const name of ["input", "change"]) box.dispatchEvent(new Event(name, { bubbles: true }));
            }""",
            title,
        )

    _, viewer = opened(VIEWER)
    typed(viewer, "by the viewer")
    expect(viewer.locator("#not-up-to-date")).to_contain_text("you may look at this job")

    context, page = opened(MECHANIC)
    context.clear_cookies(name="__Host-hatchwright_session")
    typed(page, "by the mechanic")
    expect(page.locator("#not-up-to-date")).to_contain_text("you are logged out")
    beside = context.new_page()
    beside.goto(served.root)
    beside.get_by_label("Name").fill(MECHANIC)
    beside.get_by_label("Pass phrase").fill(PHRASES[MECHANIC])
    beside.keyboard.press("Enter")
    expect(page.locator("#state")).to_have_text(re.compile("^Saved"))
    beside.goto(f"{served.root}/job/dogwood.toml/text")
    expect(beside.locator("textarea[name=text]")).to_have_value(re_of("by the mechanic"))
