"""Pages for a printer that is off: printed by such a printer, and measured at 600 dots an inch.

A printer that is off is played by PDFium, which renders a page to any width and height. Expected lengths are plain
numbers: bars of 6.000 in and 100 mm, and distances between rivets of the scenario ALDER.
"""

from __future__ import annotations

import ctypes
import math

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from hatchwright.drawings.ink import Circle, Text, box_of
from hatchwright.drawings.template_view import template_sheet
from hatchwright.drawings.writers import Format, Paper, corrected, file_suffix, write
from hatchwright.drawings.writers.pages import pages_of
from hatchwright.drawings.writers.paper import CorrectedPaper
from hatchwright.drawings.writers.pdf import pdf_of
from hatchwright.drawings.writers.readback import verify_pdf
from hatchwright.errors import ExportError
from hatchwright.workflow.examine import examine
from hatchwright.workflow.printing import paper_of
from writers.sheets import bay, plate

DPI = 600
PIXEL_IN = 1.0 / DPI
EDGES_IN = 1.5 * PIXEL_IN
"""What two outer edges are read to: each falls within a dot [in]."""
TRUE = (1.0, 1.0)
PAIRS = {(31, 38): 7.67 - 3.33, (11, 18): 6.67 - 2.33, (31, 51): math.hypot(7.67 - 2.28, 7.22 - 6.67)}
"""Rivets of ALDER as drawn: aft outer row from X 7.67 to 3.33 at Y 7.22, outboard outer row from Y 2.33 to 6.67 at
X 8.72, inboard outer row beginning at X 2.28, Y 6.67."""


@pytest.fixture(scope="module")
def template(alder_drawn):
    made = examine(alder_drawn)
    return template_sheet(made.making, made.findings, date="2026-03-01")


def printed(data, *, page, off):
    """Ink of a page as it comes out of a printer that is off along the short and the long side of its paper.

    True where there is ink.
    """
    document = pypdfium2.PdfDocument(data)
    width, height = document[page].get_size()
    across, up = off if width < height else off[::-1]
    width, height = round(width / 72 * DPI * across), round(height / 72 * DPI * up)
    bitmap = pdfium.FPDFBitmap_Create(width, height, 0)
    pdfium.FPDFBitmap_FillRect(bitmap, 0, 0, width, height, 0xFFFFFFFF)
    pdfium.FPDF_RenderPageBitmap(bitmap, document[page], 0, 0, width, height, 0, 0)
    stride = pdfium.FPDFBitmap_GetStride(bitmap)
    buffer = ctypes.string_at(pdfium.FPDFBitmap_GetBuffer(bitmap), stride * height)
    pixels = np.frombuffer(buffer, dtype=np.uint8).reshape(height, stride)[:, : 4 * width : 4] < 128
    pdfium.FPDFBitmap_Destroy(bitmap)
    return pixels


def level_bars(pixels):
    """Length of each level line between two end marks, outer edge to outer edge [in]."""
    found = []
    for row in np.flatnonzero(pixels.sum(axis=1) > 3.8 * DPI):
        edges = np.flatnonzero(np.diff(np.concatenate([[0], pixels[row].astype(np.int8), [0]])))
        runs = list(zip(edges[::2], edges[1::2] - 1, strict=True))
        first, last = max(runs, key=lambda run: run[1] - run[0])
        beside = np.flatnonzero(pixels[row + round(0.055 * DPI), first - 3 : last + 4]) + first - 3
        marks = np.split(beside, np.flatnonzero(np.diff(beside) > 1) + 1)
        if last - first > 3.8 * DPI and len(marks) == 2:
            found.append((marks[1][-1] + 1 - marks[0][0]) / DPI)
    return found


def bars(pixels):
    """Lengths of the bars across and of those up the page."""
    return level_bars(pixels), level_bars(np.rot90(pixels, -1))


def center(pixels, near):
    """Middle of the ring of ink round a place [pixel]."""
    x, y = (round(value * DPI) for value in near)
    reach = round(0.09 * DPI)
    box = pixels[y - reach : y + reach, x - reach : x + reach]
    rows, columns = np.flatnonzero(box.any(axis=1)), np.flatnonzero(box.any(axis=0))
    return complex(columns[[0, -1]].mean() + x - reach, rows[[0, -1]].mean() + y - reach)


def hole_distances(pixels, sheet, paper, numbers):
    """Distances between rivets by pixel; the laid-out page only tells where about to look."""
    page = pages_of(sheet, paper)[-1]
    found = [part.center for part in page.drawing if isinstance(part, Circle) and part.css == "pilot-hole"]
    at = dict(zip(numbers, found, strict=True))
    high = pixels.shape[0] / DPI
    middles = {n: center(pixels, (at[n][0], high - at[n][1])) for pair in PAIRS for n in pair}
    return {(a, b): abs(middles[a] - middles[b]) / DPI for a, b in PAIRS}


@pytest.mark.parametrize(
    ("measured", "off"),
    [(None, TRUE), ((5.95, 5.97), (5.95 / 6, 5.97 / 6)), ((6.06, 5.91), (6.06 / 6, 5.91 / 6))],
    ids=["true printer", "small printer", "large on the short side, small on the long"],
)
def test_bars_and_holes_come_out_true(template, alder_drawn, measured, off):
    paper = Paper.ELEVEN_BY_SEVENTEEN
    if measured:
        paper = corrected(paper, short_in=measured[0], long_in=measured[1])
    data = write(template, Format.PDF, paper=paper)
    pixels = printed(data, page=len(pypdfium2.PdfDocument(data)) - 1, off=off)
    for lengths in bars(pixels):
        assert any(length == pytest.approx(6.0, abs=EDGES_IN) for length in lengths), lengths
        assert any(length == pytest.approx(100 / 25.4, abs=EDGES_IN) for length in lengths), lengths
    layout = examine(alder_drawn).layout
    numbers = [hole.number for hole in layout.holes if hole.kind == "rivet"]
    for pair, distance in hole_distances(pixels, template, paper, numbers).items():
        assert distance == pytest.approx(PAIRS[pair], abs=PIXEL_IN), pair


@pytest.mark.parametrize("paper", [Paper.LETTER, Paper.A4])
@pytest.mark.parametrize("measured", [None, (5.95, 5.97)], ids=["true printer", "small printer"])
def test_bars_come_out_true_on_every_tile(template, paper, measured):
    """On the narrower paper the template takes two pages; each of them has its own bars."""
    fitted = corrected(paper, short_in=measured[0], long_in=measured[1]) if measured else paper
    off = (measured[0] / 6, measured[1] / 6) if measured else TRUE
    data = pdf_of(template, fitted)
    tiles = [number for number, page in enumerate(pages_of(template, fitted)) if page.window]
    assert len(tiles) == (1 if fitted is Paper.LETTER else 2)
    for number in tiles:
        pixels = printed(data, page=number, off=off)
        for lengths in bars(pixels):
            assert any(length == pytest.approx(6.0, abs=EDGES_IN) for length in lengths), (number, lengths)
            assert any(length == pytest.approx(100 / 25.4, abs=EDGES_IN) for length in lengths), (
                number,
                lengths,
            )


def test_without_correction_the_bars_show_that_the_printer_is_off(template):
    data = pdf_of(template, Paper.ELEVEN_BY_SEVENTEEN)
    across, up = bars(printed(data, page=len(pypdfium2.PdfDocument(data)) - 1, off=(5.95 / 6, 5.97 / 6)))
    assert any(length == pytest.approx(5.95, abs=EDGES_IN) for length in across)
    assert any(length == pytest.approx(5.97, abs=EDGES_IN) for length in up)


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("measured", [(5.71, 6.29), (6.29, 5.71), (5.95, 5.97)])
def test_corrected_pages_of_every_paper_read_back_and_stay_on_the_paper(paper, measured):
    fitted = corrected(paper, short_in=measured[0], long_in=measured[1])
    write(bay(), Format.PDF, paper=fitted)
    for page in pages_of(bay(), fitted):
        box = box_of(page.parts)
        (left, bottom), (right, top) = (
            page.in_file((box.left, box.bottom)),
            page.in_file((box.right, box.top)),
        )
        assert min(left, bottom, page.width_in - right, page.height_in - top) >= 0.25
        assert page.from_file(page.in_file((1.25, 3.5))) == pytest.approx((1.25, 3.5))


def test_a_corrected_file_does_not_pass_for_a_true_one():
    fitted = corrected(Paper.LETTER, short_in=5.95, long_in=5.97)
    with pytest.raises(ExportError, match="did not read back"):
        verify_pdf(pdf_of(plate(), fitted), plate(), Paper.LETTER)
    with pytest.raises(ExportError, match="did not read back"):
        verify_pdf(pdf_of(plate()), plate(), fitted)


def test_every_corrected_page_says_so_in_large_words_with_its_factors(template):
    fitted = corrected(Paper.LETTER, short_in=5.95, long_in=5.97)
    assert file_suffix(template, Format.PDF, paper=fitted) == "_LETTER_CORRECTED.pdf"
    for page in (*pages_of(template, fitted), *pages_of(bay(), fitted)):
        big = [
            part.words
            for part in page.parts
            if isinstance(part, Text) and part.height_in == 0.15 and part.bold
        ]
        assert "CORRECTED FOR ONE PRINTER AND ITS PAPER ONLY" in big
        assert "SHORT SIDE x 1.00840, LONG SIDE x 1.00503" in big
        assert "ALL 6.000 in BARS MUST NOW MEASURE 6.000" in big
    for page in pages_of(template, Paper.LETTER):
        assert not any("CORRECTED" in part.words for part in page.parts if isinstance(part, Text))


@pytest.mark.parametrize("measured", [(5.69, 6.0), (6.0, 6.31), (152.4, 152.4), (0.0, 6.0), (math.nan, 6.0)])
def test_a_printer_that_is_far_off_is_to_be_mended(measured):
    with pytest.raises(ExportError, match=r"more than 5% off.*repair the printer"):
        corrected(Paper.A4, short_in=measured[0], long_in=measured[1])


def test_the_bars_of_100_mm_correct_a_printer_as_the_inch_bars_do():
    """A bar of 99.20 mm is .992 of its length, as one of 5.952 in is."""
    by_mm = corrected(Paper.A4, short_in=99.20 / 25.4, long_in=100.50 / 25.4)
    by_inch = corrected(Paper.A4, short_in=5.952, long_in=6.030)
    assert (by_mm.short_ratio, by_mm.long_ratio) == pytest.approx((1 / 0.992, 1 / 1.005))
    assert (by_inch.short_ratio, by_inch.long_ratio) == pytest.approx((by_mm.short_ratio, by_mm.long_ratio))
    assert corrected(Paper.A4, short_in=100 / 25.4, long_in=6.0) is Paper.A4


def test_a_metric_page_asks_for_its_bars_of_100_mm():
    fitted = corrected(Paper.A4, short_in=99.20 / 25.4, long_in=100.50 / 25.4)
    told = [
        part.words for page in pages_of(plate("mm"), fitted) for part in page.parts if isinstance(part, Text)
    ]
    assert "ALL 100 mm BARS MUST NOW MEASURE 100" in told
    assert any("write down the 100 mm bars" in words for words in told)
    across, up = bars(printed(pdf_of(plate("mm"), fitted), page=0, off=(0.992, 1.005)))
    assert min(abs(length - 100 / 25.4) for length in across) <= EDGES_IN
    assert min(abs(length - 100 / 25.4) for length in up) <= EDGES_IN


@pytest.mark.parametrize("typed", ["99.2 mm", "99.2", "3.9055 in"])
def test_a_bar_of_100_mm_is_known_however_it_is_typed(typed):
    assert paper_of("a4", bar_short=typed, bar_long="100.5 mm").short_ratio == pytest.approx(
        1 / 0.992, abs=1e-5
    )


def test_true_bars_ask_for_no_correction():
    assert corrected(Paper.A4, short_in=6.0, long_in=6.0) is Paper.A4
    assert isinstance(corrected(Paper.A4, short_in=6.0, long_in=5.99), CorrectedPaper)
