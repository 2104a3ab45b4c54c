"""The papers: made when asked for, both sides, handed out under one key; refused in words when the job is not sound."""

from __future__ import annotations

import io
import re
import zipfile

import pytest

from web.job_pages import JobPage

HTMX = {"HX-Request": "true"}


@pytest.fixture
def made(client) -> str:
    return client.get("/job/alder.toml/papers?paper=a4", headers=HTMX).content.decode()


def addresses(html: str) -> list[str]:
    return re.findall(r'href="(/job/[^"]+/papers/[^"]+)"', html)


def test_the_page_comes_at_once_and_asks_for_the_papers(client):
    html = client.get("/job/alder.toml/papers").content.decode()
    assert 'hx-get="/job/alder.toml/papers?paper=letter"' in html
    assert "takes some seconds" in html


def test_every_paper_of_both_sides_can_be_had(client, made):
    files = {address.rpartition("/")[2]: client.get(address) for address in addresses(made)}
    for side in ("LEFT", "RIGHT"):
        for name in (
            f"alder_LAYOUT_{side}_A4.pdf",
            f"alder_WORK_CARD_{side}_A4.pdf",
            f"alder_TEMPLATE_{side}_A4.pdf",
        ):
            assert files[name].content.startswith(b"%PDF-")
            assert files[name].headers["Content-Type"] == "application/pdf"
        for name in (f"alder_LAYOUT_{side}_IN.svg", f"alder_TEMPLATE_{side}_IN.svg"):
            assert b"<svg" in files[name].content
        assert files[f"alder_TEMPLATE_{side}_IN.dxf"].content.lstrip().startswith(b"0")
    for answer in files.values():
        assert answer.status_code == 200
        assert answer.headers["Content-Disposition"].startswith("attachment")
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
    bundle = zipfile.ZipFile(io.BytesIO(files.pop("alder.zip").content))
    assert sorted(bundle.namelist()) == sorted(files)
    assert all(bundle.read(name) == files[name].content for name in files)


def test_papers_of_another_key_or_name_are_not_there(client, made):
    good = addresses(made)[0]
    start, _, name = good.rpartition("/")
    for path in (f"{start}/..%2fsecret", f"{start}/other.pdf", f"/job/alder.toml/papers/guess/{name}"):
        assert client.get(path).status_code == 404


def test_a_job_that_is_not_sound_gets_no_papers_and_says_why(client):
    JobPage.opened(client).type("opening.width", "wide")
    html = client.get("/job/alder.toml/papers", headers=HTMX).content.decode()
    assert "no paper is made" in html
    assert "opening.width" in html
    assert not addresses(html)


def test_a_job_without_a_cutter_gets_its_other_papers(client):
    page = JobPage.opened(client, "dogwood.toml")
    client.post("/job/dogwood.toml/part", {**page.form, "part": "take:cutter"})
    html = client.get("/job/dogwood.toml/papers", headers=HTMX).content.decode()
    assert "no cutter" in html
    names = [address.rpartition("/")[2] for address in addresses(html)]
    assert "dogwood_LAYOUT_CENTRE_LETTER.pdf" in names
    assert not [name for name in names if "TEMPLATE" in name]
