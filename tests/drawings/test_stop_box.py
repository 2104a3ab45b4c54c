"""The stop box: what it says, and that every page and machine file of a drawing says it."""

from __future__ import annotations

import io
from dataclasses import replace

import ezdxf
import pypdfium2
import pytest

from hatchwright.drawings.sheet import Layer, Text
from hatchwright.drawings.stop_box import stop_words
from hatchwright.drawings.writers import Format, Paper, write
from hatchwright.finding import stated
from hatchwright.judged import Status
from hatchwright.workings import Grade, Source
from tests.drawings.writers.sheets import bay, plate


def finding(code, status):
    return stated(code, status, "a thing", None, None, "in", Source("KEY"), Grade.SHOP)


FINDINGS = (
    *(finding("R901", Status.STOP), finding("R101", Status.STOP), finding("R101", Status.STOP)),
    *(finding("R601", Status.UNKNOWN), finding("R205", Status.CAUTION), finding("R310", Status.PASS)),
)
WORDS = "DO NOT CUT, DRILL OR RIVET. 3 STOP: R901, R101 (2). 1 NOT SHOWN: R601. SEE THE WORK CARD."


def test_it_counts_and_names_the_rules_the_worst_first():
    assert stop_words(FINDINGS) == WORDS
    assert stop_words(FINDINGS[3:]) == "DO NOT CUT, DRILL OR RIVET. 1 NOT SHOWN: R601. SEE THE WORK CARD."
    assert stop_words(FINDINGS[:1], see="THE FINDINGS").endswith("1 STOP: R901. SEE THE FINDINGS.")


def test_cautions_and_passes_put_up_no_box():
    assert stop_words(FINDINGS[4:]) == ""
    assert bay().framed() == replace(bay(), stop="").framed()


@pytest.mark.parametrize("paper", Paper)
def test_every_page_says_it(paper):
    sheet = replace(bay(), stop=WORDS)
    document = pypdfium2.PdfDocument(write(sheet, Format.PDF, paper=paper))
    assert len(document) >= 2
    for page in document:
        assert WORDS in " ".join(page.get_textpage().get_text_range().split())


def test_machine_files_letter_it_on_no_layer_that_is_cut():
    sheet = replace(bay(), stop=WORDS)
    doc = ezdxf.read(io.StringIO(write(sheet, Format.DXF).decode("utf-8")))
    lettered = [e for e in doc.modelspace() if e.dxftype() == "TEXT"]
    said = " ".join(e.dxf.text for e in sorted(lettered, key=lambda e: -e.dxf.insert.y))
    assert WORDS in said
    assert {e.dxf.layer for e in lettered} == {"TEXT"}
    assert "DO NOT CUT" in write(sheet, Format.SVG).decode("utf-8")
    added = [part for part in sheet.framed() if part not in bay().framed()]
    assert added
    assert {part.layer for part in added} == {Layer.TEXT}


def test_a_sheet_of_one_page_says_it_too():
    (page,) = pypdfium2.PdfDocument(write(replace(plate(), stop=WORDS), Format.PDF))
    assert WORDS in " ".join(page.get_textpage().get_text_range().split())


def test_it_lies_on_nothing_that_is_drawn():
    sheet = replace(bay(), stop=WORDS)
    lettered = [part for part in sheet.framed() if isinstance(part, Text) and part.words in WORDS]
    assert lettered
    assert all(part.box().bottom > sheet.box.top for part in lettered if part.bold)
