"""Who is let in, and what every answer carries: the page is for one person on one machine."""

from __future__ import annotations

import asyncio
import re

import pytest

from web.conftest import client_of, site_behind
from web.job_pages import Document, JobPage

PAGES = ("/", "/job/alder.toml/", "/job/dogwood.toml/", "/job/alder.toml/text", "/nowhere")


def test_nobody_is_let_in_without_the_printed_address(outside_client):
    for path in PAGES:
        answer = outside_client.get(path)
        assert answer.status_code == 403
        assert "Inspection opening" not in answer.content.decode()
    assert outside_client.post("/new", {"title": "x"}).status_code == 403
    assert outside_client.get("/enter/guessed").status_code == 403


def test_the_printed_address_works_once(outside_client):
    address = f"/enter/{site_behind(outside_client).tokens.issue()}"
    assert outside_client.head(address).status_code == 403  # a look ahead does not use it up
    assert outside_client.get(address).status_code == 302
    assert outside_client.get("/").status_code == 200
    assert client_of(site_behind(outside_client)).get(address).status_code == 403


def test_another_host_is_refused(client):
    for host in ("evil.example", "127.0.0.1.evil.example", "localhost.evil.example"):
        answer = client.get("/", headers={"Host": host})
        assert answer.status_code == 400
        assert "Traceback" not in answer.content.decode()


def test_a_form_from_elsewhere_is_refused(client, folder):
    strict = client_of(site_behind(client), enforce_csrf_checks=True)
    strict.cookies = client.cookies
    page = JobPage.opened(strict)
    before = (folder / "alder.toml").read_text()
    stolen = {key: value for key, value in page.form.items() if key != "csrfmiddlewaretoken"}
    assert strict.post("/job/alder.toml/entries", {**stolen, "job.title": "gone"}).status_code == 403
    foreign = {"Origin": "http://evil.example"}
    assert (
        strict.post(
            "/job/alder.toml/entries", {**page.form, "job.title": "gone"}, headers=foreign
        ).status_code
        == 403
    )
    assert (folder / "alder.toml").read_text() == before
    assert strict.post("/job/alder.toml/entries", {**page.form, "job.title": "mine"}).status_code == 302
    assert 'title = "mine"' in (folder / "alder.toml").read_text()


@pytest.mark.parametrize("path", PAGES)
def test_nothing_comes_from_elsewhere_and_nothing_is_inline(client, path):
    answer = client.get(path)
    policy = answer.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    html = answer.content.decode()
    for element in Document(html).elements:
        assert "style" not in element.attributes
        assert not [name for name in element.attributes if name.startswith("on")]
        assert element.tag != "style"
        assert element.tag != "script" or "src" in element.attributes
        for name in ("src", "href", "action", "hx-get", "hx-post"):
            assert not re.match(r"(?i)(https?:|//|javascript:|data:)", element.attributes.get(name) or "")


def test_static_files_are_the_listed_ones_only(client):
    html = client.get("/job/alder.toml/").content.decode()
    addresses = set(re.findall(r'"(/static/[^"]+)"', html))
    assert {address.rpartition("/")[2] for address in addresses} == {
        *(
            "htmx.js",
            "in_place.js",
            "at_rest.js",
            "long_work.js",
            "held.js",
            "page.js",
            "findings.js",
            "strength.js",
        ),
        *("ground.js", "dimensioning.js", "lettering.js", "drawing.js", "bench.js"),
        *("page.css", "bench.css", "drawing.css", "strength.css", "long_work.css", "print.css", "icon.svg"),
    }
    for address in addresses:
        assert client.get(address).status_code == 200
    mark = next(iter(addresses)).split("/")[2]
    for name in ("settings.py", "..%2fsettings.py", "page.css%00", "../settings.py"):
        assert client.get(f"/static/{mark}/{name}").status_code == 404


def sent(headers: list[tuple[bytes, bytes]], parts: int = 0, path: str = "/") -> int:
    """Status with which the front answers a request, 200 when it is let through; it reads so many parts of the body."""
    from hatchwright.web.handler import BodyLimit

    answers = []

    async def behind(scope, receive, send):
        await send({"type": "http.response.start", "status": 200, "headers": []})

    async def send(message):
        answers.append(message)

    coming = [
        {"type": "http.request", "body": b"x", "more_body": left > 0} for left in reversed(range(parts))
    ]

    async def receive():
        assert not answers
        return coming.pop(0)

    asyncio.run(BodyLimit(behind)({"type": "http", "path": path, "headers": headers}, receive, send))
    assert not coming
    return answers[0]["status"]


def test_a_body_too_large_or_of_unknown_length_is_refused_unread():
    assert sent([]) == 200
    assert sent([(b"content-length", b"1000000")]) == 200
    assert sent([(b"content-length", b"4000001")], parts=3) == 413  # or a browser would never hear it
    assert sent([(b"content-length", b"48000000")], path="/job/alder.toml/scan") == 200  # a picture is larger
    assert sent([(b"content-length", b"48000001")], parts=3, path="/job/alder.toml/scan") == 413
    assert sent([(b"content-length", b"300000000")]) == 413
    assert sent([(b"content-length", b"9" * 5000)]) == 413
    assert sent([(b"content-length", b"0" * 30 + b"300000000")]) == 413
    assert sent([(b"content-length", b"-5")]) == 411
    assert sent([(b"transfer-encoding", b"chunked")]) == 411


def test_a_fault_of_the_program_shows_no_traceback(client, monkeypatch, caplog):
    from hatchwright.web import job_page

    def broken(*_args, **_more):
        raise RuntimeError("secret detail")

    monkeypatch.setattr(job_page, "screen", broken)
    client.raise_request_exception = False
    answer = client.get("/job/alder.toml/")
    assert answer.status_code == 500
    html = answer.content.decode()
    assert "The program failed here" in html
    for word in ("Traceback", "secret detail", "RuntimeError", ".py"):
        assert word not in html


def test_the_terminal_gets_one_line_with_the_place():
    import logging
    import sys

    from hatchwright.web.troubles import OneLine

    try:
        raise ValueError("two\nlines")
    except ValueError:
        record = logging.LogRecord("django", logging.ERROR, __file__, 1, "GET %s", ("/x",), sys.exc_info())
    line = OneLine().format(record)
    assert "\n" not in line
    assert "ValueError: two lines" in line
    assert "test_door.py" in line


@pytest.mark.parametrize(
    ("folder_given", "job", "host", "words"),
    [
        ("missing", None, "127.0.0.1", "no such folder"),
        ("", "no.toml", "127.0.0.1", "no such job"),
        ("", None, "0.0.0.0", "this computer only"),
        ("", None, "192.168.1.7", "this computer only"),
        ("", None, "example.org", "this computer only"),
    ],
)
def test_the_server_refuses_what_it_should_not_serve(folder, folder_given, job, host, words):
    from hatchwright.errors import EntryError
    from hatchwright.web.server import serve

    with pytest.raises(EntryError, match=words):
        serve(folder / folder_given if folder_given else folder, job, host=host)
