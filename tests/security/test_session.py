"""A session: begun by the printed address, ended by its button, gone with the program, worth nothing as a copy."""

from __future__ import annotations

import copy

import pytest

from security.browsing import Browser, form_of
from security.conftest import PLACE

JOB = f"{PLACE}/job/alder.toml"


def test_cookies_end_with_the_browser_and_no_script_reads_them(served):
    app, site = served
    shown = Browser(app)
    set_by = {
        **shown.ask(f"{PLACE}/enter/{site.tokens.issue()}").cookies,
        **shown.ask(f"{PLACE}/").cookies,
    }
    assert set(set_by) == {"hatchwright_session", "hatchwright_csrf"}
    for cookie in set_by.values():
        assert cookie["httponly"]
        assert cookie["samesite"] == "Strict"
        assert cookie["path"] == f"{PLACE}/"
        assert not cookie["max-age"]
        assert not cookie["expires"]
        assert not cookie["domain"]


@pytest.mark.parametrize("page", [f"{PLACE}/", f"{JOB}/"])
def test_the_button_ends_the_session_and_every_copy_of_its_cookie(browser, page):
    copied = Browser(browser.app, copy.copy(browser.cookies))
    form = form_of(browser.ask(page).text, "/leave")
    assert browser.ask(f"{PLACE}/leave").status == 405  # a link or a picture ends nothing
    assert browser.ask(f"{PLACE}/leave", {}).status == 403  # nor does a form from elsewhere
    assert browser.ask(page).status == 200
    assert browser.ask(f"{PLACE}/leave", form).status == 302
    assert browser.ask(page).status == 403
    assert copied.ask(page).status == 403


def test_one_browser_leaves_and_another_stays(served, browser):
    app, site = served
    other = Browser(app)
    other.ask(f"{PLACE}/enter/{site.tokens.issue()}")
    browser.ask(f"{PLACE}/leave", form_of(browser.ask(f"{PLACE}/").text, "/leave"))
    assert other.ask(f"{PLACE}/").status == 200


def test_a_new_address_is_a_new_session_and_the_old_cookie_is_dead(served, browser):
    _, site = served
    before = Browser(browser.app, copy.copy(browser.cookies))
    assert browser.ask(f"{PLACE}/enter/{site.tokens.issue()}").status == 302
    assert browser.cookies["hatchwright_session"].value != before.cookies["hatchwright_session"].value
    assert browser.ask(f"{PLACE}/").status == 200
    assert before.ask(f"{PLACE}/").status == 403


def test_a_cookie_that_was_made_up_opens_nothing_and_is_not_taken_over(served, browser):
    app, site = served
    made_up = Browser(app, copy.deepcopy(browser.cookies))
    cookie = made_up.cookies["hatchwright_session"]
    cookie.set(cookie.key, "a" * 32, "a" * 32)
    assert made_up.ask(f"{PLACE}/").status == 403
    made_up.ask(f"{PLACE}/enter/{site.tokens.issue()}")
    assert made_up.cookies["hatchwright_session"].value != "a" * 32


def test_only_the_last_printed_address_opens(served):
    app, site = served
    first, last = site.tokens.issue(), site.tokens.issue()
    assert Browser(app).ask(f"{PLACE}/enter/{first}").status == 403
    assert Browser(app).ask(f"{PLACE}/enter/").status in (403, 404)
    assert Browser(app).ask(f"{PLACE}/enter/{last}").status == 302
    assert Browser(app).ask(f"{PLACE}/enter/{last}").status == 403


def test_what_was_sent_without_a_session_stays_on_the_page_and_can_be_sent_again(served, browser, folder):
    """The text page has no script: the whole text that was typed comes back in the answer that refuses it."""
    _, site = served
    page = browser.ask(f"{JOB}/text").text
    typed = (folder / "alder.toml").read_text(encoding="utf-8").replace("Inspection", 'Looked <at> & "seen"')
    typed = typed.replace('"seen"', "'seen'")
    form = {**form_of(page, "/text"), "text": typed}
    session = browser.cookies.pop("hatchwright_session")
    refused = browser.ask(f"{JOB}/text", form)
    assert refused.status == 403
    assert "Press Enter in the terminal" in refused.text
    assert "Looked" not in (folder / "alder.toml").read_text(encoding="utf-8")
    again = form_of(refused.text, "/text")
    assert again == form
    assert browser.ask(f"{PLACE}/enter/{site.tokens.issue()}").status == 302  # in another tab
    assert browser.cookies["hatchwright_session"].value != session.value
    assert browser.ask(f"{JOB}/text", again).status == 302
    assert "Looked <at> & 'seen'" in (folder / "alder.toml").read_text(encoding="utf-8")
