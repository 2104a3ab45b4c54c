"""The papers: made when asked for, both sides, handed out under one key; refused in words when the job is not sound."""

from __future__ import annotations

import io
import re
import shutil
import zipfile

import pytest

from web.conftest import EXAMPLES
from web.job_pages import JobPage

HTMX = {"HX-Request": "true"}


def addresses(html: str) -> list[str]:
    return re.findall(r'href="(/job/[^"]+/papers/[^"]+)"', html)


def test_the_page_comes_at_once_and_asks_for_the_papers(client):
    html = client.get("/job/alder.toml/papers").content.decode()
    assert 'hx-get="/job/alder.toml/papers?paper=letter"' in html
    assert "takes a few seconds" in html


def test_every_paper_of_both_sides_can_be_had_under_its_own_key_and_name(client):
    made = client.get("/job/alder.toml/papers?paper=a4", headers=HTMX).content.decode()
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
    start, _, name = addresses(made)[0].rpartition("/")
    for path in (f"{start}/..%2fsecret", f"{start}/other.pdf", f"/job/alder.toml/papers/guess/{name}"):
        assert client.get(path).status_code == 404


def test_a_job_that_is_not_sound_gets_no_papers_and_says_why(client):
    JobPage.opened(client).type("opening.width", "wide")
    html = client.get("/job/alder.toml/papers", headers=HTMX).content.decode()
    assert "nothing is printed" in html
    assert "Opening, Width" in html
    assert "opening.width" not in html
    assert not addresses(html)


def test_a_job_without_a_cutter_gets_its_other_papers(client):
    page = JobPage.opened(client, "dogwood.toml")
    client.post("/job/dogwood.toml/part", {**page.form, "part": "take:cutter"})
    html = client.get("/job/dogwood.toml/papers", headers=HTMX).content.decode()
    assert "no cutter" in html
    names = [address.rpartition("/")[2] for address in addresses(html)]
    assert "dogwood_LAYOUT_CENTER_LETTER.pdf" in names
    assert not [name for name in names if "TEMPLATE" in name]


def test_the_page_offers_every_paper_trial_and_machine(client, folder):
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
    assert "papers?paper=11x17&amp;bar_long=6.01&amp;piece=disc" in html


def test_all_that_is_asked_for_is_made(client, folder):
    (folder / "machines").mkdir()
    shutil.copy(EXAMPLES / "machines" / "machine.toml", folder / "machines")
    asked = "paper=11x17&bar_short=5.97&bar_long=6.01&piece=corner&printable=1&machine=machine.toml"
    html = client.get(f"/job/alder.toml/papers?{asked}", headers=HTMX).content.decode()
    files = {address.rpartition("/")[2]: client.get(address) for address in addresses(html)}
    for name, kind in (
        ("alder_TEMPLATE_LEFT_11X17_CORRECTED.pdf", "application/pdf"),
        ("alder_LAYOUT_RIGHT_11X17_CORRECTED.pdf", "application/pdf"),
        ("alder_TRIAL_CORNER_LEFT_11X17_CORRECTED.pdf", "application/pdf"),
        ("alder_WORK_CARD_LEFT_11X17.pdf", "application/pdf"),
        ("alder_TEMPLATE_SHEET_LEFT_11X17.pdf", "application/pdf"),
        ("alder_PIN_SHEET_RIGHT_11X17.pdf", "application/pdf"),
        ("alder_PINS_1_LEFT_IN.svg", "image/svg+xml"),
        ("alder_TEMPLATE_RIGHT_IN.3mf", "model/3mf"),
        ("alder_TOOLPATH_LEFT_1_DRILL_T1_IN.ngc", "text/plain; charset=us-ascii"),
        ("alder_TRIAL_CORNER_LEFT_IN.dxf", "image/vnd.dxf"),
        ("alder_TRIAL_CORNER_LEFT_READINGS.txt", "text/plain; charset=utf-8"),
    ):
        assert files[name].status_code == 200
        assert files[name].headers["Content-Type"] == kind
    assert "is-faulty" not in html
    told = dict(re.findall(r"download>([^<]+)</a> <span>([^<]+)</span>", html))
    for name, words in (
        ("alder_TEMPLATE_LEFT_11X17_CORRECTED.pdf", "to print at 100%"),
        ("alder_WORK_CARD_LEFT_11X17.pdf", "to read, not to scale"),
        ("alder_TEMPLATE_SHEET_LEFT_11X17.pdf", "to read, not to scale"),
        ("alder_PIN_SHEET_RIGHT_11X17.pdf", "to read, not to scale"),
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
    html = client.get(f"/job/alder.toml/papers?{asked}", headers=HTMX).content.decode()
    assert words in html
    assert "Nothing was created." in html
    assert not addresses(html)


def test_what_cannot_be_made_is_told_and_keeps_nothing_else_back(client):
    html = client.get("/job/dogwood.toml/papers?machine=../alder.toml", headers=HTMX).content.decode()
    assert "machine: No such machine file" in html
    names = [address.rpartition("/")[2] for address in addresses(html)]
    assert {"dogwood_LAYOUT_CENTER_LETTER.pdf", "dogwood_TEMPLATE_CENTER_LETTER.pdf"} <= set(names)
    assert not [name for name in names if name.endswith(".ngc")]


def test_a_job_that_is_named_like_a_paper_of_another_side_has_its_papers_on_its_own(client, folder):
    shutil.copy(EXAMPLES / "dogwood.toml", folder / "bay_LEFT_PINS_1.toml")
    html = client.get("/job/bay_LEFT_PINS_1.toml/papers", headers=HTMX).content.decode()
    assert 'id="set-CENTER"' in html
    assert 'id="set-LEFT"' not in html
    told = dict(re.findall(r"download>([^<]+)</a> <span>([^<]+)</span>", html))
    assert told["bay_LEFT_PINS_1_LAYOUT_CENTER_LETTER.pdf"].startswith("to print at 100%")
    assert told["bay_LEFT_PINS_1_WORK_CARD_CENTER_LETTER.pdf"].startswith("to read, not to scale")
