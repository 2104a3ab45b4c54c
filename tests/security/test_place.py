"""All addresses lie below a place that nobody guesses, so that no cookie comes to another port of this host."""

from __future__ import annotations

import os
import re
import stat
from email.message import Message
from http.cookiejar import CookieJar
from importlib.resources import files
from urllib.request import Request

import pytest

from hatchwright.web.place import place_of
from security.browsing import Browser
from security.conftest import PLACE
from web.job_pages import Document

JOB = f"{PLACE}/job/alder.toml"
PAGES = (f"{PLACE}/", f"{PLACE}/new", f"{JOB}/", f"{JOB}/text", f"{JOB}/papers", f"{PLACE}/nowhere")
LEADS = ("href", "src", "action", "formaction", "hx-get", "hx-post", "data-from")


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "/job/alder.toml/",
        "/enter/guessed",
        "/new",
        "/static/page.css",
        "//",
        f"/x{PLACE}/",
        f"{PLACE}x/",
    ],
)
def test_outside_the_place_nothing_is_said(browser, path):
    answer = browser.ask(path)
    assert answer.status == 404
    assert answer.header("content-type") == "text/plain; charset=utf-8"
    assert not answer.cookies
    assert PLACE not in answer.text + str(answer.headers)
    assert "alder" not in answer.text
    assert browser.ask(path, {"title": "x"}).status == 404


def test_the_place_alone_opens_nothing(served):
    app, _ = served
    for path in PAGES:
        answer = Browser(app).ask(path)
        assert answer.status == 403
        assert "alder" not in answer.text.replace(JOB, "")


def test_every_address_of_every_page_lies_below_the_place(browser):
    for path in PAGES:
        answer = browser.ask(path)
        leads = [
            one.attributes[name] or ""
            for one in Document(answer.text).elements
            for name in LEADS
            if name in one.attributes
        ]
        assert leads
        assert not [lead for lead in leads if not lead.startswith((f"{PLACE}/", "#"))]
    style = re.search(rf'"({PLACE}/static/[^"]+css)"', browser.ask(f"{PLACE}/").text)
    assert browser.ask(style[1]).status == 200


def test_who_is_sent_on_stays_below_the_place(browser, folder):
    (folder / "broken.toml").write_text("[[[[", encoding="utf-8")
    for path in (f"{PLACE}/job/broken.toml/", f"{PLACE}/enter/used", f"{JOB}"):
        answer = browser.ask(path)
        assert answer.status in (301, 302)
        assert answer.header("location").startswith(f"{PLACE}/")


def test_no_script_and_no_style_holds_an_address():
    for file in files("hatchwright.web").joinpath("static").iterdir():
        assert not re.search(r"""["'`(]/\w""", file.read_text(encoding="utf-8")), file.name


def test_a_cookie_goes_to_the_place_and_nowhere_else(served):
    """Python's own cookie jar decides where a cookie goes, by RFC 2965 and 6265: ports are no part of that."""
    app, site = served
    answer = Browser(app).ask(f"{PLACE}/enter/{site.tokens.issue()}")
    assert answer.cookies

    class Came:
        def info(self):
            head = Message()
            for name, value in answer.headers:
                head[name] = value
            return head

    jar = CookieJar()
    jar.extract_cookies(Came(), Request(f"http://127.0.0.1:8000{PLACE}/"))

    def goes_to(address: str) -> bool:
        request = Request(address)
        jar.add_cookie_header(request)
        return request.has_header("Cookie")

    assert goes_to(f"http://127.0.0.1:8000{PLACE}/job/alder.toml/")
    for address in ("http://127.0.0.1:8000/", "http://127.0.0.1:9000/", f"http://127.0.0.1:9000{PLACE}x/"):
        assert not goes_to(address)


def test_a_place_is_kept_for_its_user_and_port(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    place = place_of(8000)
    assert re.fullmatch(r"/[\w-]{24}", place)  # 144 bits
    assert place_of(8000) == place
    assert place_of(8001) != place
    (kept,) = (path for path in tmp_path.rglob("*") if path.is_file())
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    assert place[1:] not in kept.read_text()
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "other"))
    assert place_of(8000) != place


def test_what_was_kept_but_cut_off_is_made_anew_once(tmp_path, monkeypatch):
    """As at a first start with a full disk."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    before = place_of(8000)
    (kept,) = (path for path in tmp_path.rglob("*") if path.is_file())
    for cut_off in ("", "short"):
        kept.write_text(cut_off)
        assert place_of(8000) == place_of(8000) != before


def test_where_nothing_can_be_kept_each_start_has_another_place(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_STATE_HOME", os.devnull)
    assert place_of(8000) != place_of(8000)
    monkeypatch.delenv("XDG_STATE_HOME")
    monkeypatch.setattr("pathlib.Path.home", lambda: (_ for _ in ()).throw(RuntimeError("no home")))
    assert place_of(8000) != place_of(8000)
