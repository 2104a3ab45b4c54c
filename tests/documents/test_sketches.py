"""Sketches on paper: one a page, every word of picture, notes and tables to be read by another reader (pypdfium2)."""

from __future__ import annotations

from datetime import UTC, datetime

import pypdfium2
import pytest
from msgspec.structs import replace

from hatchwright.documents.sketches import sketches_pdf
from hatchwright.drawings.deviation_view import deviation_sheet
from hatchwright.drawings.pin_view import pin_sheets
from hatchwright.drawings.template_holes_view import template_holes_sheet
from hatchwright.drawings.writers import Paper
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.making import making_of
from hatchwright.making.pins.pin_layout import pin_layout

STAMP = datetime(2026, 3, 1, 10, tzinfo=UTC)
SIZES_PT = {Paper.LETTER: (612, 792), Paper.A4: (595.28, 841.89), Paper.ELEVEN_BY_SEVENTEEN: (792, 1224)}


@pytest.fixture(scope="module")
def sheets(alder_drawn):
    layout = lay_out(alder_drawn)
    return (
        deviation_sheet(making_of(layout), date="2026-03-01"),
        template_holes_sheet(making_of(layout), date="2026-03-01"),
        *pin_sheets(making_of(layout), pin_layout(making_of(layout)), date="2026-03-01"),
    )


def pages_of(data):
    with pypdfium2.PdfDocument(data) as pdf:
        return [" ".join(page.get_textpage().get_text_range().split()) for page in pdf], [
            page.get_size() for page in pdf
        ]


@pytest.mark.parametrize("paper", Paper)
def test_each_sketch_has_a_page_of_its_own(sheets, paper):
    words, sizes = pages_of(sketches_pdf("TEMPLATE SHEET", sheets, paper=paper, stamp=STAMP))
    assert len(words) == len(sheets) == 4
    for page, size, sheet in zip(words, sizes, sheets, strict=True):
        assert size == pytest.approx(SIZES_PT[paper], abs=0.01)
        assert sheet.title in page
        for said in (
            "LEFT",
            "NOT TO SCALE",
            "NOT APPROVED DATA",
            "SEEN FROM OUTSIDE",
            "FWD",
            "CERTIFICATE DATE INITIALS",
            *sheet.notes[0].split(),
        ):
            assert said in page


def test_parts_are_listed_with_their_holes(sheets):
    """By hand: rows of 9, 8, 7, 8 rivets, twice, through skin and doubler; the screws 101 to 116 stand in the cover."""
    (table,) = sheets[1].tables
    rivets = "1 to 9, 11 to 18, 21 to 27, 31 to 38, 41 to 49, 51 to 58, 61 to 67, 71 to 78"
    assert table.rows == (
        ("skin", f".0980: {rivets}", "none"),
        ("doubler", f".0980: {rivets}", "101 to 116"),
        ("cover", "none", "101 to 116"),
    )
    words, _ = pages_of(sketches_pdf("TEMPLATE SHEET", sheets[1:2], paper=Paper.A4, stamp=STAMP))
    assert rivets in words[0]


def test_nothing_typed_acts_as_markup(sheets):
    named = replace(sheets[0].title_block, job='#panic("x") *bold* $1$')
    data = sketches_pdf("S", (replace(sheets[0], title_block=named),), paper=Paper.LETTER, stamp=STAMP)
    assert '#panic("x") *bold* $1$' in pages_of(data)[0][0]


def test_the_same_time_makes_the_same_bytes(sheets):
    first, again = (sketches_pdf("PINS", sheets[2:], paper=Paper.A4, stamp=STAMP) for _ in range(2))
    assert first == again
