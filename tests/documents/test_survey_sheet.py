"""The survey sheet on paper: one page with a box for everything that is read; read back with PDFium.

Source of what a survey takes: a list of common practice, no source; the sheet names nothing that it doesn't ask for.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from hatchwright.documents.survey_sheet import survey_sheet
from hatchwright.documents.typst_pdf import pdf_from
from hatchwright.drawings.writers import Paper

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
LEAST_LETTERS_PT = 6.5
"""Of the line to sign on, as on every sheet; what is read and filled in is larger."""

ASKED = (
    *("N-number", "Serial", "LEFT", "RIGHT", "upper", "lower", "OUTSIDE", "INSIDE", "Tape's u"),
    *("FIRST: IS THIS THE RIGHT BAY?", "Row to row in the data", "Row to row measured"),
    *("fuel and vapor out", "structure supported", "soft pencil, never a scribe"),
    *("Row BC", "Row DC", "Flange edge at AD", "Flange edge at BC", "Flange edge at AB", "Flange edge at DC"),
    *("Thickness", "Straightedge", "Rise", "Depth", "Moves?", "Photo", "Borescope hole", "inside the part"),
    *("NAME", "CERTIFICATE", "DATE", "INITIALS", "NOT APPROVED DATA"),
)


@pytest.fixture(scope="module", params=[Paper.LETTER, Paper.A4])
def empty(request):
    part = survey_sheet(limit_in=1 / 32, date="")
    with pypdfium2.PdfDocument(pdf_from(part, title="S", paper=request.param, stamp=STAMP)) as pdf:
        yield pdf


def words_of(pdf):
    return " ".join(pdf[0].get_textpage().get_text_range().split())


def test_an_empty_sheet_is_one_page_and_asks_for_everything(empty):
    assert len(empty) == 1
    words = words_of(empty)
    for asked in ASKED:
        assert asked in words
    for corner_to_corner in ("AB", "BC", "CD", "DA", "AC", "BD"):
        assert corner_to_corner in words.split()


def test_the_right_bay_is_asked_before_any_tape(empty):
    words = words_of(empty)
    assert words.index("RIGHT BAY") < words.index("Tape at two stations") < words.index("Center by two")


def test_routes_are_held_to_the_limit_that_was_given(empty):
    assert "more than .031 apart" in words_of(empty)


def test_letters_can_be_read(empty):
    """No letter smaller than that of the line to sign on: 6.5 points."""
    text = empty[0].get_textpage()
    sizes = [pdfium.FPDFText_GetFontSize(text, one) for one in range(text.count_chars())]
    assert min(size for size in sizes if size > 1.0) >= LEAST_LETTERS_PT - 0.01


def test_there_is_a_box_to_write_each_reading_into(empty):
    """Counted as drawn paths: boxes of the sketch, ticks, and lines to write on."""
    paths = [one for one in empty[0].get_objects() if one.type == pdfium.FPDF_PAGEOBJ_PATH]
    assert len(paths) > 100
