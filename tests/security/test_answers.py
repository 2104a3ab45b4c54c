"""What every answer carries, whoever asked for whatever: headers as OWASP's secure-headers project lists them."""

from __future__ import annotations

import ast
import logging
from pathlib import Path

import pytest

from hatchwright.drawings.made_file import MadeFile, MadeKind, Written
from security.browsing import HOST, Browser
from security.conftest import PLACE
from web.job_pages import Document

SOURCE = Path(__file__).parents[2] / "src"
JOB = f"{PLACE}/job/alder.toml"
ASKED = {
    "a page": (f"{PLACE}/", 200),
    "a job": (f"{JOB}/", 200),
    "part of a page": (f"{JOB}/passed", 200),
    "sent on": (f"{PLACE}/enter/used", 302),
    "an address that leads nowhere": (f"{PLACE}/nowhere", 404),
    "no such job": (f"{PLACE}/job/none.toml/", 404),
    "the wrong way": (f"{JOB}/entries", 405),
    "outside": ("/", 404),
}
CARRIED = {
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}


@pytest.mark.parametrize("what", ASKED)
def test_every_answer_carries_its_headers(browser, what):
    path, status = ASKED[what]
    answer = browser.ask(path)
    assert answer.status == status
    assert {name: answer.header(name) for name in CARRIED} == CARRIED
    policy = answer.header("content-security-policy").split("; ")
    assert {"default-src 'none'", "frame-ancestors 'none'", "base-uri 'none'", "form-action 'self'"} <= set(
        policy
    )
    assert "charset=utf-8" in answer.header("content-type") or not answer.body
    assert not answer.header("access-control-allow-origin")
    assert not answer.header("server")


def test_who_is_refused_early_is_answered_as_strictly(served, browser):
    app, _ = served
    for refused in (
        Browser(app).ask(f"{JOB}/"),
        browser.ask(f"{JOB}/", host="evil.example"),
        browser.ask(f"{JOB}/entries", {}, content_length="-1"),
        browser.ask(f"{JOB}/entries", {}, content_length="9000000"),
    ):
        assert 400 <= refused.status < 500
        assert {name: refused.header(name) for name in CARRIED} == CARRIED


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1.evil.example", "0.0.0.0", "192.168.1.7:8000", "", "[::1]"]
)
def test_a_name_that_leads_here_opens_nothing(browser, host):
    """DNS rebinding: a stranger's name for this machine."""
    answer = browser.ask(f"{JOB}/", host=host)
    assert answer.status == 400
    assert "alder" not in answer.text.replace(JOB, "")


@pytest.mark.parametrize("origin", ["http://evil.example", f"http://{HOST}:9000", f"https://{HOST}", "null"])
def test_another_origin_changes_nothing_even_with_cookie_and_token(browser, folder, origin):
    before = (folder / "alder.toml").read_bytes()
    form = {**Document(browser.ask(f"{JOB}/").text).form, "serial": "1", "job.title": "taken over"}
    assert browser.ask(f"{JOB}/entries", form, origin=origin).status == 403
    assert (folder / "alder.toml").read_bytes() == before
    assert browser.ask(f"{JOB}/entries", form, origin=f"http://{HOST}").status == 302
    assert (folder / "alder.toml").read_bytes() != before


def test_nothing_is_changed_by_asking(browser, folder):
    """A picture or a link on a stranger's page can only ask."""
    before = (folder / "alder.toml").read_bytes()
    for what in ("entries", "part", "undo", "choice", "acknowledged", "propose/wish", "propose/enter"):
        assert browser.ask(f"{JOB}/{what}?job.title=taken+over&part=take:doubler").status == 405
    assert browser.ask(f"{PLACE}/leave").status == 405
    for path in (
        f"{PLACE}/new?title=x",
        f"{JOB}/another?title=x",
        f"{JOB}/compare?state=1",
        f"{JOB}/paste?pasted=1",
    ):
        browser.ask(path)
    assert (folder / "alder.toml").read_bytes() == before
    assert len(list(folder.glob("*.toml"))) == 2


@pytest.mark.parametrize(
    "name", ["..%2fsecret.toml", "../secret.toml", "..\\secret.toml", "/etc/passwd", ".earlier"]
)
def test_no_path_leads_out_of_the_folder(browser, folder, name):
    (folder.parent / "secret.toml").write_text('title = "SECRET"', encoding="utf-8")
    for what in ("", "text", "papers", "strength/report"):
        answer = browser.ask(f"{PLACE}/job/{name}/{what}")
        assert answer.status == 404
        assert "SECRET" not in answer.text


def test_what_the_terminal_says_of_a_fault_can_be_reported(browser, monkeypatch, caplog, capsys):
    """The line names the place in the program, and neither the place of the page nor what lets a browser in."""
    from hatchwright.web import job_page

    def broken(*_args, **_more):
        raise RuntimeError("no such thing")

    monkeypatch.setattr(job_page, "screen", broken)
    line = logging.getLogger("django").handlers[0]
    assert browser.ask(f"{JOB}/").status == 500
    (record,) = [one for one in caplog.records if one.levelno >= logging.ERROR] or [None]
    said = line.format(record) if record else capsys.readouterr().err
    assert "RuntimeError: no such thing" in said
    assert "/job/alder.toml/" in said
    assert PLACE not in said
    for cookie in browser.cookies.values():
        assert cookie.value not in said


def test_what_was_typed_is_shown_as_text(browser):
    typed = "<script>alert(1)</script>\"'><img src=x onerror=alert(2)>{{ 7 * 7 }}"
    form = {**Document(browser.ask(f"{JOB}/").text).form, "serial": "1", "job.title": typed}
    answer = browser.ask(f"{JOB}/entries", form, hx_request="true")
    assert answer.status == 200
    for text in (
        answer.text,
        browser.ask(f"{JOB}/").text,
        browser.ask(f"{PLACE}/").text,
        browser.ask(f"{JOB}/text").text,
    ):
        shown = Document(text)
        assert not [one for one in shown.elements if one.tag == "script" and "src" not in one.attributes]
        assert not [one for one in shown.elements if "onerror" in one.attributes]
    assert Document(browser.ask(f"{JOB}/").text).by_id("title").text == typed


def test_a_paper_comes_as_a_file_to_keep(served, browser):
    """Also one that a browser would show as a page of its own, such as an SVG."""
    _, site = served
    file = MadeFile(
        "a.svg", MadeKind.LAYOUT, side="LEFT", true_size=False, written=Written.SVG, content=b"<svg/>"
    )
    site.made.put("key", (file,))
    answer = browser.ask(f"{JOB}/papers/key/a.svg")
    assert answer.status == 200
    assert answer.header("content-disposition") == 'attachment; filename="a.svg"'
    assert "default-src 'none'" in answer.header("content-security-policy")


def test_no_shell_and_no_pickled_input():
    """What a file or a form says is never a command, never code, never an object."""
    never = {"eval", "exec", "compile", "__import__"}
    modules = {"pickle", "marshal", "shelve", "yaml"}
    for file in sorted(SOURCE.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                assert getattr(node.func, "id", "") not in never, f"{file}:{node.lineno}"
                assert "shell" not in {word.arg for word in node.keywords}, f"{file}:{node.lineno}"
                assert getattr(node.func, "attr", "") not in {"system", "popen"}, f"{file}:{node.lineno}"
            if isinstance(node, ast.Import | ast.ImportFrom):
                named = {alias.name for alias in node.names} | {getattr(node, "module", "")}
                assert not named & modules, f"{file}:{node.lineno}"
