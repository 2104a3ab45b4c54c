"""A scan sent to the page: measured beside it, shown with its uncertainties, handed on to be entered; or refused."""

from __future__ import annotations

import re

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from hatchwright.errors import HatchwrightError
from hatchwright.page.scanned import asked_scan, scanned_view
from hatchwright.workflow.scan import known_of_text
from tests.patience import until
from tests.scans.asking import Sheet, square_levels
from tests.scans.pictures import picture
from tests.scans.scanner import bar_lengths
from web.conftest import site_behind
from web.job_pages import Document

PAGE = "/job/alder.toml/scan"


@pytest.fixture(scope="module")
def scan():
    return picture(square_levels(), 300)


@pytest.fixture(scope="module")
def typed():
    sheet = Sheet()
    bar_x, bar_y = (f"{bar:.4f}" for bar in bar_lengths(sheet.card, sheet.setup))
    return {"bar_x": bar_x, "bar_y": bar_y, "scanner": "contact"}


def elements(answer):
    return Document(answer.content.decode()).elements


def test_a_scan_is_measured_beside_the_page_and_its_holes_go_on_to_be_entered(client, scan, typed):
    form = elements(client.get(PAGE))
    assert next(e for e in form if e.attributes.get("name") == "thickness").attributes["value"] == ".032"
    sent = SimpleUploadedFile("../<cutout>.png", scan, content_type="image/png")
    answer = client.post(PAGE, {**typed, "flipped": "yes", "picture": sent})
    assert answer.status_code == 302
    state = answer["Location"].replace("scan?", "scan/state?")
    until(lambda: client.get(state).status_code == 200, "the scan")
    page = client.get(answer["Location"])
    told = " ".join(e.text for e in elements(page) if e.tag in ("h2", "li", "td", "p"))
    true = Sheet().part.outline
    width = float(re.search(r"([\d.]+) in ± [\d.]+ in wide", told)[1])
    assert abs(width - true.width) < 0.005
    assert "<cutout>" not in page.content.decode()
    assert "&lt;cutout&gt;" in page.content.decode()
    fields = {
        e.attributes["name"]: e.attributes.get("value", "")
        for e in elements(page)
        if e.attributes.get("name")
    }
    assert fields["bar_x"] == typed["bar_x"]  # what was typed stands there for the next one
    rows = np.array([row.split("\t") for row in fields["pasted"].splitlines()[1:]], float)
    on_the_job = Sheet().part.centers * (1, -1) + (5.5, 4.5)  # from the other face
    assert np.sort_complex(rows[:, :2] @ (1, 1j)) == pytest.approx(
        np.sort_complex(on_the_job @ (1, 1j)), abs=0.01
    )
    laid = client.post(
        "/job/alder.toml/paste?list=as_made.holes", {"base": fields["base"], "pasted": fields["pasted"]}
    )
    assert laid.status_code == 400  # the six holes of another part
    assert "in no place, turn or mirror image" in laid.content.decode()
    kept = {one.name for one in site_behind(client).jobs.folder.iterdir() if not one.name.startswith(".")}
    assert kept == {"alder.toml", "dogwood.toml"}


def test_a_scan_without_a_picture_is_asked_for_and_nothing_typed_is_lost(client, typed):
    answer = client.post(PAGE, typed)
    assert answer.status_code == 400
    boxes = {
        e.attributes.get("name"): e.attributes.get("value") for e in elements(answer) if e.tag == "input"
    }
    assert boxes["bar_x"] == typed["bar_x"]
    assert any(e.attributes.get("role") == "alert" for e in elements(answer))
    gone = client.get(f"{PAGE}/state?of=0123")
    assert gone.status_code == 200
    assert "Send it again" in gone.content.decode()


@pytest.mark.parametrize(
    ("content", "changes", "told"),
    [
        (b"hole,x,y\n1,.5,.5\n", {}, "cutout.png"),
        (None, {"bar_x": "four"}, "--bar-x"),
        (None, {"bar_y": "47.5"}, "Y bar"),
    ],
    ids=["a table", "no length", "ten times"],
)
def test_a_picture_that_can_not_be_measured_from_is_refused_with_its_reason(
    scan, typed, alder_text, tmp_path, content, changes, told
):
    known = known_of_text(alder_text, tmp_path, "alder.toml")
    with pytest.raises(HatchwrightError) as refused:
        scanned_view(asked_scan(content or scan, "cutout.png", {**typed, **changes}, known))
    assert told.lower() in str(refused.value).lower()
