"""The empty forms: every sheet that is filled in by hand, none of the job's numbers on it; read back with PDFium."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pypdfium2
import pytest

from hatchwright.airworthiness.holds import HOLDS
from hatchwright.documents.blank_forms import blank_forms
from hatchwright.documents.typst_pdf import pdf_from
from hatchwright.drawings.made_file import MadeKind
from hatchwright.drawings.writers import Paper
from hatchwright.job.file import load_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.workflow.examine import examine
from hatchwright.workflow.papers import papers
from tests.conftest import EXAMPLES

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)


def pages_of(name, paper=Paper.LETTER):
    forms = blank_forms(lay_out(load_job(EXAMPLES / f"{name}.toml")), date="", stop="DO NOT CUT.")
    content = pdf_from(*forms, title="FORMS", paper=paper, stamp=STAMP)
    with pypdfium2.PdfDocument(content) as pdf:
        return [" ".join(page.get_textpage().get_text_range().split()) for page in pdf]


@pytest.mark.parametrize("name", ["alder", "dogwood", "elder", "finch", "heron"])
@pytest.mark.parametrize("paper", [Paper.LETTER, Paper.A4])
def test_each_form_is_one_sheet_with_the_stop_box(name, paper):
    pages = pages_of(name, paper)
    titles = (
        *("HOLD POINTS", "READINGS", "TRIAL SHEET", "AS-BUILT SHEET", "REPEAT INSPECTION", "COUNT SHEET"),
        "LOG DRAFT",
    )
    assert len(pages) == len(titles)
    for page, title in zip(pages, titles, strict=True):
        assert title in page
        assert "DO NOT CUT." in page
        assert "Page 1 of 1" in page


def test_no_number_of_the_job_is_on_an_empty_form():
    for page in pages_of("alder"):
        body = page.split("DO NOT CUT.")[-1]
        assert not re.search(r"\d?\.\d{2,}|\bMS20|\b8-32\b", body), body


def test_edges_and_corners_are_named_as_they_lie():
    """ALDER: X runs outboard, Y aft."""
    (readings,) = (page for page in pages_of("alder") if "READINGS" in page)
    for words in ("INBD edge, X", "OUTBD edge, X", "FWD edge, Y", "AFT edge, Y", "OUTBD / AFT", "INBD / FWD"):
        assert words in readings


def test_every_hold_point_has_its_line():
    (page,) = (page for page in pages_of("alder") if "HOLD POINTS" in page)
    holds = page.split("DO NOT CUT.")[-1]
    assert [int(n) for n in re.findall(r"(?<=\s)(\d) (?=[A-Z][a-z])", holds)][: len(HOLDS)] == [
        *range(1, len(HOLDS) + 1)
    ]
    assert "Tool count equal in and out" in holds


def test_forms_are_made_only_when_they_are_asked_for():
    one = examine(load_job(EXAMPLES / "dogwood.toml"))
    assert MadeKind.BLANK_FORMS not in {file.kind for file in papers(one, stamp=STAMP)}
    (forms,) = papers(one, stamp=STAMP, only=["forms"])
    assert forms.name.endswith("_BLANK_FORMS_CENTER_LETTER.pdf")
