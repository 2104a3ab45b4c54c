"""Check bars as a steel rule reads them: rendered at 2400 dots an inch, outer edge to outer edge.

Expected lengths are plain numbers: 6.000 in, 100 mm, and bars of 4, 3 or 2 in over a join. The renderer is PDFium.
"""

from __future__ import annotations

import numpy as np
import pypdfium2
import pytest
from msgspec.structs import replace

from hatchwright.drawings.ink import Circle, Line, Solid, Text
from hatchwright.drawings.writers import Paper
from hatchwright.drawings.writers.check_bars import check_bar
from hatchwright.drawings.writers.pages import pages_of
from hatchwright.drawings.writers.pdf import pdf_of
from hatchwright.drawings.writers.readback import verify_pdf
from hatchwright.errors import ExportError
from hatchwright.workflow.printing import paper_of
from writers.sheets import bay, plate
from writers.test_correction import DPI as PRINT_DPI
from writers.test_correction import PIXEL_IN, center, level_bars, printed

DPI = 2400
NEAR_IN = 1.0 / 1000
"""Two dots at each end: a fifteenth of the 1/64 in to which a bar must be right [in]."""
UP_IN = (0.035, 0.055, 0.072)
"""Heights beside a bar at which its ends are read: a rule lies anywhere on them [in]."""


def strip(data: bytes, *, low_in: float, high_in: float, upright: bool):
    """Ink of a strip of the first page, turned level: rows from its top down, True where there is ink."""
    page = pypdfium2.PdfDocument(data)[0]
    width, height = (side / 72 for side in page.get_size())
    cut_in = (low_in, 0.0, width - high_in, 0.0) if upright else (0.0, low_in, 0.0, height - high_in)
    bitmap = page.render(scale=DPI / 72, crop=tuple(72 * side for side in cut_in), grayscale=True)
    ink = bitmap.to_numpy().reshape(bitmap.height, bitmap.width) < 128
    return np.rot90(ink, -1) if upright else ink


def spans(ink, length_in: float):
    """Of each level bar about so long: how far its ink reaches at each height below and above it, outermost dot to
    outermost dot, with the dots of ink beyond [in]."""
    found = []
    for row in np.flatnonzero(ink.sum(axis=1) > (length_in - 0.1) * DPI):
        edges = np.flatnonzero(np.diff(np.concatenate([[0], ink[row].astype(np.int8), [0]])))
        first, last = max(zip(edges[::2], edges[1::2], strict=True), key=lambda run: run[1] - run[0])
        if abs(last - first - length_in * DPI) > 0.05 * DPI:
            continue
        if found and row - found[-1][0] < 0.05 * DPI:
            continue
        read = []
        for off in (round(sign * up * DPI) for up in UP_IN for sign in (-1, 1)):
            beside = np.flatnonzero(ink[row + off, max(0, first - 120) : last + 120])
            read.append((beside[-1] + 1 - beside[0]) / DPI)
        found.append((row, read))
    return [read for _, read in found]


@pytest.mark.parametrize("upright", [False, True], ids=["across", "up"])
def test_a_rule_laid_to_the_outer_edges_reads_what_the_bars_say(upright):
    (page,) = pages_of(plate(), Paper.LETTER)
    low, high = (0.25, page.window.left - 0.03) if upright else (0.25, 0.8)
    ink = strip(pdf_of(plate()), low_in=low, high_in=high, upright=upright)
    for length_in in (6.0, 100.0 / 25.4):
        (read,) = spans(ink, length_in)
        assert read == pytest.approx([length_in] * 2 * len(UP_IN), abs=NEAR_IN)


def longest_bars(pixels):
    """The inch bar across the page and the one up it, outer edge to outer edge [in]."""
    return max(level_bars(pixels)), max(level_bars(np.rot90(pixels, -1)))


def test_what_the_bars_read_on_a_printer_that_is_off_corrects_it():
    """Read, typed in, printed again by the same printer: bars and holes come out true."""
    off = 5.95 / 6.0, 6.03 / 6.0
    short, long = longest_bars(printed(pdf_of(plate()), page=0, off=off))
    assert (short, long) == pytest.approx((5.95, 6.03), abs=PIXEL_IN)
    paper = paper_of("letter", bar_short=f"{short:.3f} in", bar_long=f"{long:.3f} in")
    again = printed(pdf_of(plate(), paper), page=0, off=off)
    two_readings_in = 2 * PIXEL_IN
    assert longest_bars(again) == pytest.approx((6.0, 6.0), abs=two_readings_in)
    high_in = again.shape[0] / PRINT_DPI
    holes = [part.center for part in pages_of(plate(), paper)[0].drawing if isinstance(part, Circle)]
    first, second = (center(again, (x, high_in - y)) for x, y in holes)
    assert abs(second - first) / PRINT_DPI == pytest.approx(2.0, abs=two_readings_in)


@pytest.mark.parametrize("along", ["x", "y"])
def test_no_ink_of_a_bar_over_a_join_reaches_past_its_length(along):
    """Lines are drawn with butt ends, half their width to each side; what is filled has no line round it."""
    ink = [part for part in check_bar((1.0, 2.0), along, 4.0, 4, "4.000 in") if not isinstance(part, Text)]
    start = {"x": 1.0, "y": 2.0}[along]
    least, most = [], []
    for part in ink:
        at = [point[0 if along == "x" else 1] for point in part.points]
        half = 0.5 * part.style.width_in if isinstance(part, Line) and len(set(at)) == 1 else 0.0
        least.append(min(at) - half - start)
        most.append(max(at) + half - start)
    assert (min(least), max(most)) == pytest.approx((0.0, 4.0), abs=1e-9)


def test_every_tile_says_beside_its_bars_between_which_edges_they_are_measured():
    told = [f"CHECK BAR 6.000 in ± 1/64 in OVER OUTER EDGES, {side} SIDE" for side in ("SHORT", "LONG")]
    told += [f"CHECK BAR 100 mm ± 0.5 mm OVER OUTER EDGES, {side} SIDE" for side in ("SHORT", "LONG")]
    document = pypdfium2.PdfDocument(pdf_of(bay()))
    tiles = [number for number, page in enumerate(pages_of(bay(), Paper.LETTER)) if page.window]
    assert len(tiles) > 1
    for number in tiles:
        words = document[number].get_textpage().get_text_range()
        assert all(bar in words for bar in told), number


def test_a_bar_without_end_marks_does_not_read_back(monkeypatch):
    """A line alone does not show where a rule is laid."""
    whole = pages_of(plate(), Paper.LETTER)
    stripped = tuple(
        replace(page, parts=tuple(part for part in page.parts if not isinstance(part, Solid)))
        for page in whole
    )
    for module in ("pdf", "readback.pdf"):
        monkeypatch.setattr(f"hatchwright.drawings.writers.{module}.pages_of", lambda *_: stripped)
    with pytest.raises(ExportError, match="no true check bar"):
        verify_pdf(pdf_of(plate()), plate(), Paper.LETTER)
