"""The stop box: what it says, and that every page and machine file of a drawing says it."""

from __future__ import annotations

import io

import ezdxf
import pypdfium2
import pytest
from msgspec.structs import replace

from hatchwright.drawings.ink import Layer, Text
from hatchwright.drawings.writers import Format, Paper, write
from tests.drawings.writers.sheets import bay, plate

WORDS = "DO NOT CUT, DRILL OR RIVET: 2 STOP, 1 NOT SHOWN. R901, R101, R601. SEE THE CARRY CARD."


def test_a_sheet_without_words_has_no_box():
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
    letters = (part for part in sheet.framed() if isinstance(part, Text))
    lettered = [part for part in letters if len(part.words) > 1 and part.words in WORDS]
    assert lettered
    assert all(part.box().bottom > sheet.box.top for part in lettered if part.bold)
