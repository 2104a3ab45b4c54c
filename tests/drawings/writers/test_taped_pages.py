"""Pages taped by their marks: rendered at 600 dots an inch, laid mark on mark as they are read from the dots, and holes
of one measured to holes of the other. Expected lengths are those between places of the job as laid out.

A mark is read to half a dot; the page is turned by what two marks are off, so that a hole far beyond the join may be
off by more. A mechanic tapes to 1/64 in.
"""

from __future__ import annotations

import numpy as np
import pypdfium2
import pytest

from hatchwright.drawings.ink import Circle, Line
from hatchwright.drawings.true_size_view import true_size_sheet
from hatchwright.drawings.writers import Paper
from hatchwright.drawings.writers.pages import pages_of
from hatchwright.drawings.writers.pdf import pdf_of
from hatchwright.job.file import load_job
from hatchwright.workflow.examine import examine
from tests.conftest import EXAMPLES

DPI = 600
TAPED_IN = 1.0 / 64.0


@pytest.fixture(scope="module", params=[Paper.LETTER, Paper.A4])
def printed(request):
    """The layout of HERON on two pages: each page, and True where there is ink."""
    made = examine(load_job(EXAMPLES / "heron.toml"))
    sheet = true_size_sheet(made.layout, made.findings, date="2026-03-01")
    document = pypdfium2.PdfDocument(pdf_of(sheet, request.param))
    pages = pages_of(sheet, request.param)
    assert len(pages) == 2
    bitmaps = [page.render(scale=DPI / 72, grayscale=True) for page in document]
    dots = [bitmap.to_numpy().reshape(bitmap.height, bitmap.width) < 128 for bitmap in bitmaps]
    places = {hole.number: made.layout.frame.to_page(hole.x_in, hole.y_in) for hole in made.layout.holes}
    return pages, dots, places


def read_mark(dots, near):
    """Where the two lines of a cross lie, by the darkest row and column of dots about there, as a point [in]."""
    x, y = round(near[0] * DPI), round(dots.shape[0] - near[1] * DPI)
    reach = round(0.09 * DPI)
    around = dots[y - reach : y + reach + 1, x - reach : x + reach + 1]
    rows, columns = around.sum(axis=1), around.sum(axis=0)
    row, column = (np.flatnonzero(lengths > 0.9 * lengths.max()).mean() for lengths in (rows, columns))
    return complex(x - reach + column + 0.5, dots.shape[0] - (y - reach + row + 0.5)) / DPI


def read_hole(dots, near):
    """The middle of the ring of a hole, by the outermost dots of it and of its cross [in]."""
    x, y = round(near[0] * DPI), round(dots.shape[0] - near[1] * DPI)
    reach = round(0.095 * DPI)
    around = dots[y - reach : y + reach + 1, x - reach : x + reach + 1]
    row, column = (np.flatnonzero(around.any(axis=axis))[[0, -1]].mean() for axis in (1, 0))
    return complex(x - reach + column + 0.5, dots.shape[0] - (y - reach + row + 0.5)) / DPI


def marks(page):
    """About where the middles of the marks are, in order along the join."""
    diamonds = [part.box() for part in page.drawing if isinstance(part, Line) and part.css == "tile-mark"]
    return sorted(box.middle for box in diamonds if box.width_in > 0 < box.height_in)


def test_holes_of_two_taped_pages_are_as_far_from_each_other_as_on_the_aircraft(printed):
    pages, dots, places = printed
    read = [
        np.array([read_mark(ink, near) for near in marks(page)])
        for page, ink in zip(pages, dots, strict=True)
    ]
    assert len(read[0]) == len(read[1]) == 3
    assert abs(read[0][-1] - read[0][0]) > 7.5
    turn = (read[0][-1] - read[0][0]) / (read[1][-1] - read[1][0])
    turn /= abs(turn)
    move = read[0].mean() - turn * read[1].mean()
    assert np.abs(turn * read[1] + move - read[0]).max() < TAPED_IN / 4
    found = []
    for page, ink in zip(pages, dots, strict=True):
        holes = {part.hole: part.center for part in page.drawing if isinstance(part, Circle) and part.hole}
        found.append({number: read_hole(ink, near) for number, near in holes.items()})
    assert len(found[0].keys() | found[1].keys()) == len(places)
    lower = {number: turn * place + move for number, place in found[1].items()}
    for number, here in found[0].items():
        for other, there in lower.items():
            true_in = abs(complex(*places[number]) - complex(*places[other]))
            assert abs(abs(here - there) - true_in) < TAPED_IN, (number, other)


def test_a_hole_on_both_pages_comes_to_one_place(printed):
    pages, _, _ = printed
    first, second = (
        {part.hole: part.center for part in page.drawing if isinstance(part, Circle) and part.hole}
        for page in pages
    )
    moves = {
        (round(a - c, 9), round(b - d, 9))
        for number in first.keys() & second.keys()
        for (a, b), (c, d) in [(first[number], second[number])]
    }
    moves |= {
        (round(a - c, 9), round(b - d, 9))
        for (a, b), (c, d) in zip(marks(pages[0]), marks(pages[1]), strict=True)
    }
    assert len(moves) == 1
