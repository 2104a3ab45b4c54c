"""A drawing to scale on one page, read back from the page at 300 dpi; the expected lengths are plain numbers."""

from __future__ import annotations

import numpy as np
import pypdfium2
import pytest

from hatchwright.drawings.block import paragraph
from hatchwright.drawings.ink import Circle, Layer, Outline
from hatchwright.drawings.one_page import Framed, on_one_page
from hatchwright.drawings.page_frame import PageFrame
from hatchwright.drawings.scale import detail_scales, largest_fitting, scales
from hatchwright.drawings.title_block import TitleBlock
from hatchwright.drawings.writers import Format, Paper, file_suffix, write
from hatchwright.drawings.writers.paper import corrected
from hatchwright.errors import ExportError
from hatchwright.job.frame import FrameEntry, make_frame
from hatchwright.shapes.outlines import rounded_rectangle

DPI = 300
FRAME = make_frame(FrameEntry(origin="two rows", x="OUTBD", y="AFT"), side="left", surface="lower")
BLOCK = TitleBlock("job", "N-1", "LEFT", "SEEN FROM OUTSIDE", "A", "2026-03-01")
STOP = "STOP: 2 findings. DO NOT CUT."


def plate(width_in, height_in):
    """A plate of some size with a hole of 1 in, centered on the origin."""

    def draws(scale):
        page = PageFrame(FRAME, scale=scale)
        loop = rounded_rectangle(width_in=width_in, height_in=height_in, radius_in=0.5)
        return (
            Outline(page.loop(loop), Layer.DOUBLER),
            Circle(page.point(0.0, 0.0), page.length(1.0), Layer.DRILL_FINAL),
        )

    return draws


def laid(width_in, height_in, *, standard="asme", beside=(), paper=Paper.LETTER, title="OVERVIEW"):
    framed = Framed(title, BLOCK, "in" if standard == "asme" else "mm", stop=STOP)
    return on_one_page(framed, paper.size_in, scales(standard), plate(width_in, height_in), beside)


def ink_of(data):
    (page,) = pypdfium2.PdfDocument(data)
    bitmap = page.render(scale=DPI / 72, grayscale=True)
    return bitmap.to_numpy().reshape(bitmap.height, bitmap.width) < 128, page.get_textpage().get_text_range()


@pytest.mark.parametrize(
    ("size", "standard", "words", "ratio"),
    [((4.0, 3.0), "asme", "FULL", 1.0), ((11.0, 8.0), "asme", "1/2", 0.5), ((25.0, 16.0), "iso", "1:5", 0.2)],
)
def test_a_plate_is_drawn_at_the_largest_scale_that_fits_and_measures_so(size, standard, words, ratio):
    sheet = laid(*size, standard=standard)
    ink, told = ink_of(write(sheet, Format.PDF))
    assert sheet.scale.words == words
    assert f"{words}, {'IN' if standard == 'asme' else 'MM'}" in told
    (circle,) = (part for part in sheet.inked[0] if isinstance(part, Circle))
    row = round(ink.shape[0] - circle.center[1] * DPI)
    column = round(circle.center[0] * DPI)
    runs = np.flatnonzero(np.diff(np.flatnonzero(ink[row])) > 1)
    at = np.flatnonzero(ink[row])
    starts, ends = at[np.append(0, runs + 1)], at[np.append(runs, len(at) - 1)]
    middles = 0.5 * (starts + ends + 1) / DPI
    left, right = middles[middles < column / DPI][-2:], middles[middles > column / DPI][:2]
    half_line_in = 0.3 / 25.4
    assert right[0] - left[1] == pytest.approx(1.0 * ratio, abs=half_line_in)
    assert right[1] - left[0] == pytest.approx(size[0] * ratio, abs=half_line_in)


def test_it_lies_where_that_lets_it_be_larger_and_stands_where_that_does():
    assert laid(9.0, 4.0).lies_in == (11.0, 8.5)
    assert laid(7.0, 7.0).lies_in == (8.5, 11.0)


def test_what_stands_beside_it_makes_it_smaller_where_there_is_no_room():
    beside = (paragraph(["words " * 200], width_in=5.0),)
    assert laid(7.0, 7.0).scale.words == "FULL"
    assert laid(7.0, 7.0, beside=beside).scale.words == "1/2"


def test_it_bears_the_stop_box_and_the_title_block():
    _, told = ink_of(write(laid(4.0, 3.0), Format.PDF))
    for words in (STOP, "OVERVIEW", "LEFT", "SEEN FROM OUTSIDE", "NOT APPROVED DATA"):
        assert words in told


def test_lettering_keeps_its_height_at_every_scale():
    def heights(sheet):
        return sorted({part.height_in for part in sheet.inked[0] if hasattr(part, "words")})

    assert heights(laid(4.0, 3.0)) == heights(laid(20.0, 12.0))


def test_no_machine_gets_it():
    with pytest.raises(ExportError, match="not for a machine"):
        write(laid(11.0, 8.0), Format.DXF)


def test_a_plate_larger_than_any_scale_is_refused():
    with pytest.raises(ExportError, match="larger paper"):
        laid(380.0, 380.0)


def test_svg_and_pdf_are_named_by_the_paper_and_written_the_same_twice():
    sheet = laid(4.0, 3.0, paper=Paper.A4)
    assert file_suffix(sheet, Format.SVG, paper=Paper.A4) == "_A4.svg"
    off = corrected(Paper.A4, short_in=5.9, long_in=6.0)
    assert file_suffix(sheet, Format.PDF, paper=off) == "_A4.pdf"
    for kind in (Format.SVG, Format.PDF):
        assert write(sheet, kind, paper=off) == write(sheet, kind, paper=off)


def test_hostile_words_stay_literal():
    title = "<b>&#[]{}\\ %%d \u202eevil \U0001f600"
    svg = write(laid(4.0, 3.0, title=title), Format.SVG)
    assert b"&lt;b&gt;&amp;#[]{}\\ %%d \xef\xbf\xbdevil" in svg


def test_scales_are_those_of_each_standard():
    assert [one.words for one in scales("iso")][:4] == ["1:1", "1:2", "1:5", "1:10"]
    assert [one.words for one in scales("asme")][:3] == ["FULL", "1/2", "1/4"]
    assert largest_fitting(detail_scales("asme"), (0.5, 0.5), (2.2, 2.2)).words == "4/1"
    assert largest_fitting(detail_scales("iso"), (9.0, 0.5), (2.0, 2.0)) is None
