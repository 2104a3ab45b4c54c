"""Layout and template of the job ALDER on every paper, rendered at 600 dots an inch and measured in pixels.

Expected lengths are plain numbers: bars of 6.000 in and 100 mm, and distances between rivets of rows with a pitch of
.62 as drawn: the aft outer row 31 to 38 runs at Y 7.22 from X 7.67 down to 3.33, the inboard one 51 to 58 at X 2.28,
Y 6.67 down to 2.33, the forward one 71 to 78 at Y 1.78 from X 3.33 up, the outboard one 11 to 18 at X 8.72, Y 2.33 up.
"""

from __future__ import annotations

import math
from collections import Counter
from functools import cache

import numpy as np
import pypdfium2
import pytest

from hatchwright.drawings.ink import Circle
from hatchwright.drawings.template_view import template_sheet
from hatchwright.drawings.true_size_view import true_size_sheet
from hatchwright.drawings.writers import Paper
from hatchwright.drawings.writers.pages import pages_of
from hatchwright.drawings.writers.pdf import pdf_of
from hatchwright.job.file import load_job
from hatchwright.workflow.examine import examine
from tests.conftest import EXAMPLES

DPI = 600
PIXEL_IN = 1.0 / DPI
EDGES_IN = 1.5 * PIXEL_IN
"""What two outer edges are read to: each falls within a dot [in]."""
_SLANT_IN = math.hypot(8.72 - 7.67, 7.22 - 6.67)
PAIRS = {
    "along X": {(31, 33): 2 * 0.62, (36, 38): 2 * 0.62, (71, 74): 3 * 0.62, (75, 78): 3 * 0.62},
    "along Y": {(11, 13): 2 * 0.62, (16, 18): 2 * 0.62, (51, 53): 2 * 0.62, (55, 58): 3 * 0.62},
    "slanting": {(18, 31): _SLANT_IN, (38, 51): _SLANT_IN, (58, 71): _SLANT_IN, (11, 78): _SLANT_IN},
}


@cache
def sheets():
    made = examine(load_job(EXAMPLES / "alder.toml").model_copy(update={"as_made": None}))
    date = "2026-03-01"
    layout = true_size_sheet(made.layout, made.findings, date=date)
    return {
        "layout": layout,
        "template": template_sheet(made.making, made.findings, date=date),
    }, {hole.number: made.layout.frame.to_page(hole.x_in, hole.y_in) for hole in made.layout.holes}


@cache
def printed(name, paper):
    """Every tile that is drawn at full size: its page, and True where there is ink."""
    sheet = sheets()[0][name]
    document = pypdfium2.PdfDocument(pdf_of(sheet, paper))
    tiles = []
    for number, page in enumerate(pages_of(sheet, paper)):
        if page.window is not None:
            bitmap = document[number].render(scale=DPI / 72, grayscale=True)
            tiles.append((page, bitmap.to_numpy().reshape(bitmap.height, bitmap.width) < 128))
    return tiles


def bars(pixels):
    """Lengths of all level lines of more than 3.8 in between two end marks, outer edge to outer edge [in]."""
    found = set()
    for row in np.flatnonzero(pixels.sum(axis=1) > 3.8 * DPI):
        edges = np.flatnonzero(np.diff(np.concatenate([[0], pixels[row].astype(np.int8), [0]])))
        first, last = max(zip(edges[::2], edges[1::2] - 1, strict=True), key=lambda run: run[1] - run[0])
        for beside in (row + round(0.055 * DPI), row - round(0.055 * DPI)):
            if last - first > 3.8 * DPI and 0 <= beside < len(pixels):
                ink = np.flatnonzero(pixels[beside, first - 3 : last + 4]) + first - 3
                marks = np.split(ink, np.flatnonzero(np.diff(ink) > 1) + 1)
                ends = [marks[0][0], marks[-1][-1]] if ink.size else []
                if ends and abs(ends[0] - first) < 6 and abs(ends[1] - last) < 6:
                    found.add(round(float(ends[1] + 1 - ends[0]) / DPI, 6))
    return found


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("name", ["layout", "template"])
def test_both_bars_both_ways_are_true_on_every_tile(name, paper):
    for page, pixels in printed(name, paper):
        for way, ink in (("across", pixels), ("up", np.rot90(pixels, -1))):
            lengths = bars(ink)
            for true_in in (6.0, 100.0 / 25.4):
                assert any(abs(length - true_in) <= EDGES_IN for length in lengths), (page.name, way, lengths)


def middle(pixels, near):
    """Middle of the ring of ink round a place, with the cross that may stand on it [pixel]."""
    x, y = (round(value * DPI) for value in near)
    reach = round(0.09 * DPI)
    box = pixels[y - reach : y + reach, x - reach : x + reach]
    rows, columns = np.flatnonzero(box.any(axis=1)), np.flatnonzero(box.any(axis=0))
    return complex(columns[[0, -1]].mean() + x - reach, rows[[0, -1]].mean() + y - reach)


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("name", ["layout", "template"])
def test_three_distances_between_holes_are_true(name, paper):
    measured = set()
    for page, pixels in printed(name, paper):
        high, places = pixels.shape[0] / DPI, holes_on(page)
        for way, pairs in PAIRS.items():
            for (a, b), true_in in pairs.items():
                if a in places and b in places:
                    first, second = (middle(pixels, (places[n][0], high - places[n][1])) for n in (a, b))
                    assert abs(first - second) / DPI == pytest.approx(true_in, abs=1.01 * PIXEL_IN), (
                        page.name,
                        a,
                        b,
                    )
                    measured.add(way)
    assert measured == PAIRS.keys()


def holes_on(page):
    """About where to look for the rivets on a page, those that it shows whole.

    Holes of the layout bear their numbers; of the template, most circles lie one shift from the holes of the job.
    """
    at = sheets()[1]
    shifts = Counter(
        (round(part.center[0] - x, 3), round(part.center[1] - y, 3))
        for part in page.drawing
        if isinstance(part, Circle) and part.css != "origin"
        for number, (x, y) in at.items()
        if part.hole in (None, number)
    )
    if not shifts:
        return {}
    right, up = shifts.most_common(1)[0][0]
    window = page.window.grown(-0.15)
    places = {n: (x + right, y + up) for n, (x, y) in at.items()}
    return {
        n: (x, y)
        for n, (x, y) in places.items()
        if window.left < x < window.right and window.bottom < y < window.top
    }
