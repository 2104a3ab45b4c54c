"""The layout at true size: the new parts and what lies among them, every number to be read.

Places are those typed in the job file, taken to the page by hand: on a lower skin seen from outside with FWD up,
outboard of the left side lies to the right and aft lies down. Whether words meet is asked of shapely.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from shapely import STRtree
from shapely.geometry import LinearRing, LineString, Point, box

from hatchwright.drawings.ink import Circle, Layer, Line, Outline, Style, Text
from hatchwright.drawings.true_size_view import true_size_sheet
from hatchwright.drawings.writers import Paper
from hatchwright.drawings.writers.pages import pages_of
from hatchwright.job.file import load_job
from hatchwright.units import inches
from hatchwright.workflow.examine import examine
from tests.conftest import EXAMPLES
from tests.strength.random_jobs import random_job

RANDOM_JOBS = 300
FEWEST = {
    "alder": 1,
    "birch": 1,
    "cypress": 1,
    "dogwood": 1,
    "elder": 1,
    "finch": 1,
    "heron": 2,
    "juniper": 1,
}
"""Pages of each example, worked out from the sizes in its job file, Letter and A4 alike. Of alder and juniper the
doubler is 7.0 x 6.0 and 8.66 x 6.7; of heron 8.5 x 7.5, and no page has 7.5 left beside strip and bars."""


def sheet_of(job):
    made = examine(job)
    return true_size_sheet(made.layout, made.findings, date="2026-03-01")


@pytest.fixture(scope="module")
def left(alder_drawn):
    return sheet_of(alder_drawn)


def inks(parts, kind):
    return [part for part in parts if isinstance(part, kind)]


def words(text):
    """What a text covers, descenders left out where it has figures only."""
    if text.words.isdigit() and not text.angle_deg:
        x, y = text.at
        half = 0.5 * text.width_in
        return box(x - half, y, x + half, y + text.height_in)
    return box(*text.box().grown(-0.005))


def drawn(part):
    """Edges, holes and lines that no number may lie on; hatching and rows stop before a number."""
    match part:
        case Circle(center=center, diameter_in=diameter_in):
            return [Point(center).buffer(0.5 * diameter_in, quad_segs=32)]
        case Outline(loop=loop):
            return [LinearRing(loop.points(1e-3))]
        case Line(points=points, layer=layer) if layer not in (Layer.KEEP_OUT, Layer.STRUCTURE):
            return [LineString(pair) for pair in pairwise(points)]
    return []


def clashes(parts, seen=None):
    """Texts that meet a text, an edge, a hole or a line, of what is seen through a window."""
    texts = inks(parts, Text)
    shapes = [words(text) for text in texts]
    tree = STRtree(shapes)
    pairs = [
        (texts[a].words, texts[b].words) for a, b in tree.query(shapes, predicate="intersects").T if a < b
    ]
    lines = [shape.intersection(seen) if seen else shape for part in parts for shape in drawn(part)]
    met = STRtree(lines).query(shapes, predicate="intersects").T if lines else []
    return pairs + [(texts[a].words, lines[b].wkt[:70]) for a, b in met]


def test_no_word_meets_another_and_no_number_an_edge_or_a_hole_on_random_jobs():
    rng = np.random.default_rng(20261130)
    numbered = 0
    for _ in range(RANDOM_JOBS):
        text, layout = random_job(rng)
        sheet = true_size_sheet(layout, (), date="2026-03-01")
        assert not clashes(sheet.parts()), text
        shown = [part.words for part in inks(sheet.parts(), Text) if part.css == "hole-number"]
        assert sorted(map(int, shown)) == [hole.number for hole in layout.holes], text
        numbered += len(shown)
    assert numbered > 40 * RANDOM_JOBS


@pytest.mark.parametrize("paper", [Paper.LETTER, Paper.A4])
@pytest.mark.parametrize("name", FEWEST)
def test_an_example_takes_the_fewest_pages_and_all_on_them_can_be_read(name, paper):
    pages = pages_of(sheet_of(load_job(EXAMPLES / f"{name}.toml")), paper)
    assert len(pages) == FEWEST[name]
    for page in pages:
        assert page.window is not None
        assert not clashes((*page.drawing, *inks(page.parts, Text)), seen=box(*page.window))


def test_the_new_parts_are_drawn_and_the_far_datum_is_told(left):
    outlines = {
        part.layer: part.loop.bounds for part in inks(left.parts(), Outline) if part.layer is Layer.OPENING
    }
    assert outlines[Layer.OPENING] == pytest.approx((3.0, -6.5, 8.0, -2.5))
    assert left.box.left == pytest.approx(2.0, abs=0.1)
    assert left.box.right == pytest.approx(9.0, abs=0.1)
    assert any(
        "X 5.500 AND Y 4.500 FROM THE ORIGIN: rib 3 rivet row x spar aft rivet row" in note
        for note in left.notes
    )


def test_the_center_lines_run_from_end_to_end_through_the_opening(left):
    lines = [part.points for part in inks(left.parts(), Line) if part.css == "center-line"]
    upright = [point for points in lines if points[0][0] == points[1][0] for point in points]
    level = [point for points in lines if points[0][1] == points[1][1] for point in points]
    assert {x for x, _ in upright} == {5.5}
    assert {y for _, y in level} == {-4.5}
    assert min(y for _, y in upright) < -7.5 < -1.5 < max(y for _, y in upright)
    assert min(x for x, _ in level) < 2.0 < 9.0 < max(x for x, _ in level)


def test_a_hazard_among_the_holes_is_drawn_and_named(left):
    """The push-pull tube at X 8.200 runs through the doubler; its name is longer than there is room for."""
    tube = [
        part
        for part in inks(left.parts(), Line)
        if part.layer is Layer.KEEP_OUT and part.style is Style.CENTER
    ]
    assert tube
    assert {x for part in tube for x, _ in part.points} == {8.2}
    assert "A IS aileron push-pull tube, X 8.200, 2.100 below outer face, moves." in left.notes
    (letter,) = [part for part in inks(left.parts(), Text) if part.words == "A"]
    assert letter.box().left < 8.2 < letter.box().right


def test_holes_so_close_that_numbers_would_meet_are_counted_from_the_next_number(alder_drawn):
    """Rows of holes .14 apart: no number finds room beside most of them, and the sheet says so."""
    rows = tuple(
        row.model_copy(update={"pitch": inches(0.14), "first_number": None}) for row in alder_drawn.rows
    )
    sheet = sheet_of(alder_drawn.model_copy(update={"rows": rows}))
    assert not clashes(sheet.parts())
    assert any("COUNT FROM THE NEAREST NUMBER" in note for note in sheet.notes)
