"""The log draft says what was done and claims nothing, and the labels point forward; read back with PDFium.

What an entry holds: 14 CFR 43.9(a)(1) to (4), seen only restated. Directions: on a lower or upper skin drawn with FWD
up, on the left side seen from outside with FWD to the left, on the right side to the right; from inside mirrored.
"""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pypdfium2
import pytest

from hatchwright.documents.labels import labels_of
from hatchwright.documents.log_draft import log_part, work_done
from hatchwright.documents.typst_pdf import pdf_from
from hatchwright.drawings.writers import Paper
from hatchwright.job.file import load_job, read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.mass import weight_change
from hatchwright.said import said
from hatchwright.words.tell import tell
from hatchwright.workflow.new_job import NEW_JOBS, Start, starting_text
from tests.conftest import EXAMPLES

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
EVERY = ("alder", "birch", "cypress", "dogwood", "elder", "finch", "heron", "juniper")
CLAIMS = re.compile(
    r"\b(approved|airworthy|certified|compliant|complies|conforms|in accordance)\b", re.IGNORECASE
)
STOP = "DO NOT CUT, DRILL OR RIVET: 2 STOP, 1 NOT SHOWN. R101. SEE THE WORK CARD."


def pdf_of(job, *, paper=Paper.LETTER, stop=STOP):
    layout = lay_out(job)
    part = log_part(layout, labels_of(layout), (said("unchecked.fatigue"),), date="2026-03-01", stop=stop)
    return pdf_from(part, title="LOG", paper=paper, stamp=STAMP)


def text_of(content):
    with pypdfium2.PdfDocument(content) as pdf:
        return " ".join(" ".join(page.get_textpage().get_text_range() for page in pdf).split())


def job_of(name):
    return load_job(EXAMPLES / f"{name}.toml")


@pytest.mark.parametrize("name", EVERY)
@pytest.mark.parametrize("paper", [Paper.LETTER, Paper.A4])
def test_log_and_labels_are_one_sheet_that_claims_nothing(name, paper):
    content = pdf_of(job_of(name), paper=paper)
    assert len(pypdfium2.PdfDocument(content)) == 1
    text = text_of(content)
    assert STOP in text
    assert "claims no more" in text
    assert not CLAIMS.findall(text.replace("CALCULATION AID: NOT APPROVED DATA", ""))
    for element in ("43.9(a)(1)", "43.9(a)(2)", "43.9(a)(3)", "43.9(a)(4)", "43.9(d)"):
        assert element in text
    for blank in (
        "Data used",
        "Departures from the data",
        "Arm from the aircraft datum",
        "Moment change",
        "NOT CHECKED:",
    ):
        assert blank in text


def test_it_tells_what_was_done_with_the_numbers_of_the_job():
    alder = lay_out(job_of("alder"))
    text = " ".join(tell(one) for one in work_done(alder))
    assert "center X 5.500 Y 4.500 in" in text
    assert "filed to 5.016 x 4.011 in as measured" in text  # 2.996 to 8.012, 2.497 to 6.508
    assert "Set 64 rivets MS20470AD4-4" in text
    assert "16 screws 8-32 x 1/2" in text
    drawn = " ".join(tell(one) for one in work_done(lay_out(job_of("birch"))))
    assert "Size as filed not entered" in drawn


def test_the_weight_is_that_of_the_sum_of_its_parts():
    layout = lay_out(job_of("alder"))
    text = text_of(pdf_of(job_of("alder")))
    total = sum(one.mass_lb for one in weight_change(layout).masses)
    told = float(re.search(r"This change adds ([\d.]+) lb", text)[1])
    assert told == pytest.approx(total, abs=5e-5)


MODEL = {
    ("left", "lower"): (90.0, 90.0),
    ("right", "lower"): (90.0, 90.0),
    ("center", "lower"): (90.0, 90.0),
    ("left", "upper"): (90.0, 90.0),
    ("right", "upper"): (90.0, 90.0),
    ("center", "upper"): (90.0, 90.0),
    ("left", "side"): (180.0, 0.0),
    ("right", "side"): (0.0, 180.0),
}
"""Side and surface to where FWD lies from the label's right, seen from outside and from inside [deg]."""


@pytest.mark.parametrize(("where", "angles"), MODEL.items())
def test_the_arrow_of_a_label_points_forward_from_either_face(where, angles):
    side, surface = where
    job = job_of("alder")
    axes = {"x": "AFT", "y": "UP"} if surface == "side" else {"x": "FWD", "y": "LEFT"}
    job = job.model_copy(
        update={
            "aircraft": job.aircraft.model_copy(update={"side": side, "surface": surface}),
            "frame_entry": job.frame_entry.model_copy(update=axes),
        }
    )
    for one in labels_of(lay_out(job)):
        face = tell(one.lines[0])
        if one.forward_deg is not None:
            assert one.forward_deg == pytest.approx(angles[face == "INSIDE FACE"]), face


def test_both_faces_of_each_part_have_a_label_and_the_cover_its_screws():
    labels = labels_of(lay_out(job_of("alder")))
    faces = [(tell(one.name), tell(one.lines[0])) for one in labels if one.forward_deg is not None]
    assert faces == [
        (part, f"{face} FACE") for part in ("Doubler", "Cover") for face in ("OUTSIDE", "INSIDE")
    ]
    placard = [tell(line) for line in labels[-1].lines]
    assert placard[0] == "16 SCREWS 8-32 x 1/2, 100 degree flush head"
    assert placard[1] == "Directive M-101, bulletin B-7 revision C, kit K-7"
    assert placard[2].startswith("Revision A")
    assert "Next inspection" in placard[2]


@pytest.mark.parametrize("kind", NEW_JOBS)
def test_every_kind_of_job_has_its_log(kind):
    job = read_job(starting_text(Start(kind)))
    assert len(pypdfium2.PdfDocument(pdf_of(job))) >= 1
    assert "Strike out what was not done." in text_of(pdf_of(job))


def test_a_patch_is_told_in_its_own_words():
    text = text_of(pdf_of(job_of("finch")))
    assert "Cut out the damage" in text
    assert "Plug" in text


def test_hostile_words_stay_words():
    title = "=1+1 \u05e9\u05dc<b>#emph[x]</b> \U0001f600 " + "W" * 150
    job = job_of("alder").model_copy(update={"title": title})
    text = "".join(text_of(pdf_of(job)).split())
    assert (
        "#emph[x]</b>" in text
    )  # this reader takes a bracket beside letters from right to left for its mirror
    assert "W" * 100 in text
