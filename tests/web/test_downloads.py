"""The papers: made when asked for, both sides, handed out under one key; refused in words when the job is not sound."""

from __future__ import annotations

import io
import re
import shutil
import threading
import zipfile
from itertools import chain

import pypdfium2
import pytest

from hatchwright.web import downloads
from hatchwright.web.workers import _made
from web.conftest import EXAMPLES, papers_of, state_of
from web.job_pages import Document, JobPage

A_FILE = re.compile(r'download>([^<]+)</a>(?: <span>([^<]+)</span>)?\s*<small class="file-name">([^<,]+),')


@pytest.fixture(autouse=True)
def made_here(monkeypatch):
    """Papers are made in this process: what their own adds is the matter of another file."""

    def made(asked, work, **how):
        return _made(asked, progress=work.progress, **how)

    monkeypatch.setattr(downloads, "papers_for_page", made)


def pages(content: bytes) -> list[str]:
    """What each sheet says, by a reader that had no part in joining them."""
    with pypdfium2.PdfDocument(content) as document:
        return [page.get_textpage().get_text_range() for page in document]


def addresses(html: str) -> list[str]:
    return re.findall(r'href="(/job/[^"]+/papers/[^"]+)"', html)


def test_without_scripts_the_page_comes_at_once_and_looks_again_by_itself(client, monkeypatch):
    may_go_on = threading.Event()
    monkeypatch.setattr(downloads, "papers_for_page", lambda *_, **__: may_go_on.wait() and None)
    html = client.get("/job/alder.toml/papers").content.decode()
    may_go_on.set()
    assert '<noscript><meta http-equiv="refresh"' in html
    assert re.search(r'<progress max="1" value="0.000"', html)


def test_every_paper_of_both_sides_can_be_had_under_its_own_key_and_name(client):
    made = papers_of(client, "/job/alder.toml/papers?paper=a4")
    files = {address.rpartition("/")[2]: client.get(address) for address in addresses(made)}
    for side in ("LEFT", "RIGHT"):
        for name in (
            f"alder_LAYOUT_{side}_A4.pdf",
            f"alder_CARRY_CARD_{side}_A4.pdf",
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
    for side in ("LEFT", "RIGHT"):  # all that goes to the aircraft in one file, and nothing of the other side
        kinds = (
            *(
                "CARRY_CARD",
                "OVERVIEW",
                "LAYOUT",
                "PARTS",
                "TEMPLATE",
                "TEMPLATE_SHEET",
                "PIN_SHEET",
            ),
            *("TRIAL_SHEET", "LISTS", *(["AS_BUILT"] if side == "LEFT" else []), "LOG", "ANNEX"),
        )
        one_by_one = [pages(files[f"alder_{kind}_{side}_A4.pdf"].content) for kind in kinds]
        assert pages(files[f"alder_PRINT_{side}_A4.pdf"].content) == [*chain(*one_by_one)]
        sheets = [len(one) for one in one_by_one]
        assert f"Print this first: the {side} set, {sum(sheets)} sheets" in made
        told = re.search(rf'id="set-{side}".*?</ol>', made, re.DOTALL)[0]
        assert [int(n) for n in re.findall(r'class="count">(\d+) sheet', told)] == sheets
    bundle = zipfile.ZipFile(io.BytesIO(files.pop("alder.zip").content))
    assert sorted(bundle.namelist()) == sorted(files)
    assert all(bundle.read(name) == files[name].content for name in files)
    start, _, name = addresses(made)[0].rpartition("/")
    for path in (f"{start}/..%2fsecret", f"{start}/other.pdf", f"/job/alder.toml/papers/guess/{name}"):
        assert client.get(path).status_code == 404


def test_a_job_that_is_not_sound_gets_no_papers_and_says_why(client):
    JobPage.opened(client).type("opening.width", "wide")
    html = papers_of(client, "/job/alder.toml/papers")
    assert "nothing is printed" in html
    assert "Opening, Width" in html
    assert "opening.width" not in html
    assert not addresses(html)


def test_a_job_without_a_cutter_gets_its_other_papers(client):
    page = JobPage.opened(client, "dogwood.toml")
    client.post("/job/dogwood.toml/part", {**page.form, "part": "take:cutter"})
    html = papers_of(client, "/job/dogwood.toml/papers")
    assert "no cutter" in html
    names = [address.rpartition("/")[2] for address in addresses(html)]
    assert "dogwood_LAYOUT_CENTER_LETTER.pdf" in names
    assert not [name for name in names if "TEMPLATE" in name]


def test_the_page_offers_every_paper_trial_and_machine(client, folder, monkeypatch):
    monkeypatch.setattr(downloads, "papers_for_page", lambda *_, **__: None)
    (folder / "machines").mkdir()
    shutil.copy(EXAMPLES / "machines" / "machine.toml", folder / "machines" / "north bench.toml")
    html = client.get("/job/alder.toml/papers?paper=11x17&piece=disc&bar_long=6.01").content.decode()
    for box in (
        'name="paper" value="11x17" checked',
        'name="piece" value="disc" checked',
        'name="bar_long" value="6.01"',
        'name="bar_short" value=""',
        'name="printable" value="1">',
        '<option value="north bench.toml">',
    ):
        assert box in html
    assert "paper=11x17&bar_long=6.01&piece=disc&version=" in state_of(html)


def test_all_that_is_asked_for_is_made(client, folder):
    (folder / "machines").mkdir()
    shutil.copy(EXAMPLES / "machines" / "machine.toml", folder / "machines")
    asked = "paper=11x17&bar_short=5.97&bar_long=6.01&piece=corner&printable=1&machine=machine.toml"
    html = papers_of(client, f"/job/alder.toml/papers?{asked}")
    files = {address.rpartition("/")[2]: client.get(address) for address in addresses(html)}
    for name, kind in (
        ("alder_TEMPLATE_LEFT_11X17_CORRECTED.pdf", "application/pdf"),
        ("alder_LAYOUT_RIGHT_11X17_CORRECTED.pdf", "application/pdf"),
        ("alder_TRIAL_CORNER_LEFT_11X17_CORRECTED.pdf", "application/pdf"),
        ("alder_CARRY_CARD_LEFT_11X17.pdf", "application/pdf"),
        ("alder_TEMPLATE_SHEET_LEFT_11X17.pdf", "application/pdf"),
        ("alder_PIN_SHEET_RIGHT_11X17.pdf", "application/pdf"),
        ("alder_PINS_1_LEFT_IN.svg", "image/svg+xml"),
        ("alder_TEMPLATE_RIGHT_IN.3mf", "model/3mf"),
        ("alder_TOOLPATH_LEFT_1_DRILL_T1_IN.ngc", "text/plain; charset=us-ascii"),
        ("alder_TRIAL_CORNER_LEFT_IN.dxf", "image/vnd.dxf"),
        ("alder_TRIAL_CORNER_LEFT_READINGS.txt", "text/plain; charset=utf-8"),
        ("alder_LISTS_LEFT.csv", "text/csv; charset=utf-8"),
    ):
        assert files[name].status_code == 200
        assert files[name].headers["Content-Type"] == kind
    assert "is-faulty" not in html
    told = {name: words for _, words, name in A_FILE.findall(html)}
    for name, words in (
        ("alder_PINS_1_LEFT_IN.svg", "to read, not to scale"),
        ("alder_PREDICTED_CUT_LEFT_IN.svg", "to read, not to scale"),
        ("alder_TEMPLATE_LEFT_IN.svg", "true-size drawing"),
        ("alder_TEMPLATE_RIGHT_IN.3mf", "body for a 3D printer"),
        ("alder_TOOLPATH_LEFT_1_DRILL_T1_IN.ngc", "toolpath of one tool"),
        ("alder_TRIAL_CORNER_LEFT_READINGS.txt", "sheet for the readings"),
    ):
        assert told[name].startswith(words)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ("bar_short=wide&bar_long=6", "bar along the short side: This is not a length"),
        ("bar_short=6.01", "bar along the long side: Only one bar is entered"),
        ("bar_long=6.01", "bar along the short side: Only one bar is entered"),
        ("bar_short=5&bar_long=6", "bar along the short side: The bar of 6.000 in measured 5.000 in, more than 5% off"),
    ],
)  # fmt: skip
def test_bars_that_will_not_do_are_told_and_no_page_is_made_that_would_be_off(client, asked, words):
    html = papers_of(client, f"/job/alder.toml/papers?{asked}")
    assert words in html
    assert "Nothing was created." in html
    assert not addresses(html)


def test_what_cannot_be_made_is_told_and_keeps_nothing_else_back(client):
    html = papers_of(client, "/job/dogwood.toml/papers?machine=../alder.toml")
    assert "machine: No such machine file" in html
    names = [address.rpartition("/")[2] for address in addresses(html)]
    assert {"dogwood_LAYOUT_CENTER_LETTER.pdf", "dogwood_TEMPLATE_CENTER_LETTER.pdf"} <= set(names)
    assert not [name for name in names if name.endswith(".ngc")]


def test_a_job_that_is_named_like_a_paper_of_another_side_has_its_papers_on_its_own(client, folder):
    shutil.copy(EXAMPLES / "dogwood.toml", folder / "bay_LEFT_PINS_1.toml")
    html = papers_of(client, "/job/bay_LEFT_PINS_1.toml/papers")
    assert 'id="set-CENTER"' in html
    assert 'id="set-LEFT"' not in html
    in_order = [paper.text for paper in Document(html).by_class("sheets")[0:1]]
    assert re.findall(r"(True size|To read)", in_order[0])[:4] == [
        "To read",
        "To read",
        "True size",
        "To read",
    ]
