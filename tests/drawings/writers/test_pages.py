"""Pages: tiles that cover the drawing, overlap, and carry what shows whether the paper may be used."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LinearRing, LineString, Point, box

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Circle, Layer, Line, Outline, Text, box_of
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.table import Table
from hatchwright.drawings.writers.pages import page_count, pages_of
from hatchwright.drawings.writers.paper import Paper
from hatchwright.drawings.writers.tiling import OVERLAP_IN, tile_name, tiled
from hatchwright.errors import ExportError
from writers.sheets import bay, block, plate, rounded


def words_on(page):
    return [part.words for part in (*page.drawing, *page.parts) if isinstance(part, Text)]


def test_a_drawing_that_fits_is_one_page():
    (page,) = pages_of(plate(), Paper.LETTER)
    assert page.name == "A1"
    assert not any("JOIN" in words for words in words_on(page) if words != "join between two pages")


def test_notes_and_tables_stand_beside_the_drawing_and_pages_count_through():
    pages = pages_of(bay(), Paper.LETTER)
    assert all(page.window is not None for page in pages)
    told = [words for page in pages for words in words_on(page)]
    assert told.count("NOTES") == told.count("NO.") == 1
    assert [f"{number} of {len(pages)}" in words_on(page) for number, page in enumerate(pages, 1)] == [
        True
    ] * len(pages)


def test_notes_without_room_beside_the_drawing_come_first():
    notes = tuple(
        f"{number} KEEP THE SHEET DRY AND FLAT UNTIL THE LAST HOLE IS MARKED." for number in range(60)
    )
    full = Sheet("FULL", block(), (Outline(rounded(0, 0, 7, 8, 0.5), Layer.TEMPLATE),), notes=notes)
    first, *others = pages_of(full, Paper.LETTER)
    assert first.window is None
    assert "NOTES" in words_on(first)
    assert not any("NOTES" in words_on(page) for page in others)
    assert page_count(full, Paper.LETTER) == 1 + len(others)


def test_a_long_table_runs_on_with_its_headings():
    rows = tuple((str(number), "1.000") for number in range(1, 151))
    sheet = Sheet("LAYOUT", block(), plate().entities, tables=(Table("HOLES", ("NO.", "X IN"), rows),))
    front = [page for page in pages_of(sheet, Paper.A4) if page.window is None]
    assert sum(words_on(page).count("X IN") for page in front) == sum(
        1 for page in front for words in words_on(page) if words.startswith("HOLES (")
    )
    numbers = [words for page in front for words in words_on(page) if words.isdigit()]
    assert sorted(map(int, numbers)) == list(range(1, 151))


@pytest.mark.parametrize("paper", list(Paper))
def test_all_ink_stays_off_the_edge_that_printers_leave_white(paper):
    for page in pages_of(bay(), paper):
        box = box_of(page.parts)
        assert box.left >= 0.25
        assert box.bottom >= 0.25
        assert box.right <= page.width_in - 0.25
        assert box.top <= page.height_in - 0.25
        if page.window is not None:
            assert page.window.right <= page.width_in - 0.25
            assert page.window.top <= page.height_in - 0.25


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("made", [plate, bay, lambda: wide()])
def test_nothing_of_the_page_itself_stands_on_the_drawing(paper, made):
    for page in pages_of(made(), paper):
        if page.window is not None:
            seen = box(*page.window)
            ink = [line.intersection(seen) for part in page.drawing for line in lines_of(part)]
            assert not [part for part in page.parts if any(line.intersects(box(*part.box())) for line in ink)]


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("made", [plate, bay, lambda: wide()])
def test_words_of_a_page_do_not_run_into_each_other(paper, made):
    for page in pages_of(made(), paper):
        boxes = [part.box().grown(-0.02) for part in (*page.parts, *page.drawing) if isinstance(part, Text)]
        clashes = [(a, b) for k, a in enumerate(boxes) for b in boxes[k + 1 :] if a.touches(b)]
        assert not clashes


def lines_of(part):
    """Some ink of the drawing for a reader of its own, as it is shown through any window."""
    match part:
        case Text():
            return [box(*part.box())]
        case Circle():
            return [Point(part.center).buffer(0.5 * part.diameter_in).exterior]
        case Outline():
            return [LinearRing(part.loop.points(1e-3))]
        case _:
            return [LineString(part.points)]


@pytest.mark.parametrize("made", [plate, bay, lambda: wide()])
def test_pages_are_counted_without_drawing_them(made, monkeypatch):
    sheet = made()
    count = len(pages_of(sheet, Paper.LETTER))
    monkeypatch.setattr("hatchwright.drawings.writers.pages.tile_pages", None)
    assert page_count(sheet, Paper.LETTER) == count


def test_a_page_looks_at_what_lies_on_it_and_not_at_every_hole(monkeypatch):
    """A job of thousands of holes lies over a hundred pages: asking each of them about each hole took minutes."""
    holes = [Circle((float(x), float(y)), 0.1, Layer.DRILL_PILOT) for x in range(1, 40) for y in range(1, 20)]
    sheet = Sheet("MANY", block(), (Outline(rounded(0, 0, 40, 20, 0.5), Layer.TEMPLATE), *holes))
    asked = []
    real = Circle.box
    monkeypatch.setattr(Circle, "box", lambda circle: asked.append(1) or real(circle))
    assert len(pages_of(sheet, Paper.LETTER)) > 12
    assert len(asked) < 30 * len(
        holes
    )  # for a place of the next page's name too; 108 when every page asked about all


def marks_on(page):
    """Middles of the tile marks, on the page, from the left and then from below."""
    diamonds = [part for part in page.drawing if isinstance(part, Line) and len(part.points) == 5]
    boxes = [part.box() for part in diamonds if part.layer is Layer.CHECK]
    return sorted((0.5 * (box.left + box.right), 0.5 * (box.bottom + box.top)) for box in boxes)


def holes_on(page):
    return {part.hole: part.center for part in page.drawing if isinstance(part, Circle)}


def test_marks_of_neighbors_fall_on_each_other():
    """Laying A2 on A1 mark on mark, at both ends of the join and in its middle, brings the holes where they belong."""
    first, second = pages_of(wide(), Paper.LETTER)
    pairs = list(zip(marks_on(first), marks_on(second), strict=True))
    assert len(pairs) == 3
    moves = {(round(a[0] - b[0], 9), round(a[1] - b[1], 9)) for a, b in pairs}
    ((dx, dy),) = moves
    ends = [a[1] for a, _ in pairs]
    assert max(ends) - min(ends) > 0.8 * (first.window.top - first.window.bottom)
    by_number = {**holes_on(first), **{n: (x + dx, y + dy) for n, (x, y) in holes_on(second).items()}}
    assert len(by_number) == 67
    for number, (x, y) in by_number.items():
        assert (x - by_number[0][0], y - by_number[0][1]) == pytest.approx((0.2 * number, 0.0), abs=1e-9)


def test_what_a_join_would_cut_stands_whole_on_one_page():
    """A hole is shown only where all of it is, and no hole is left out; nor is a word of another page on this one."""
    first, second = pages_of(wide(), Paper.LETTER)
    for page in (first, second):
        assert all(
            page.window.touches(Box(*at, *at))
            for box in map(Circle.box, circles(page))
            for at in corners(box)
        )
    letters = [part for page in (first, second) for part in page.drawing if isinstance(part, Text)]
    assert letters
    for page in (first, second):
        texts = [part.box() for part in page.drawing if isinstance(part, Text)]
        assert all(page.window.touches(Box(*at, *at)) for box in texts for at in corners(box))


def circles(page):
    return [part for part in page.drawing if isinstance(part, Circle)]


def corners(box):
    return (box.left, box.bottom), (box.right, box.top)


def test_a_join_lies_along_the_long_side():
    """9 x 8 takes two pages either way; a join of 9.5 in is laid more truly than one of 7."""
    sheet = Sheet("STRIP", block(), (Outline(rounded(0, 0, 9, 8, 0.5), Layer.TEMPLATE),))
    pages = pages_of(sheet, Paper.LETTER)
    assert len(pages) == 2
    marks = marks_on(pages[0])
    assert max(math.dist(a, b) for a in marks for b in marks) > 7.5


def test_a_tile_without_ink_is_left_out():
    """Two rings a yard apart, joined by nothing, would hang in the air; a frame leaves out its middle."""
    frame = (rounded(0, 0, 30, 26, 0.5), rounded(1.0, 1.0, 29, 25, 0.5))
    sheet = Sheet("FRAME", block(), tuple(Outline(loop, Layer.TEMPLATE) for loop in frame))
    names = [page.name for page in pages_of(sheet, Paper.LETTER)]
    rows, columns = {name[0] for name in names}, {name[1:] for name in names}
    assert len(names) < len(rows) * len(columns)
    assert {"A1", f"{max(rows)}1", f"A{max(columns)}"} <= set(names)
    plan = [words for page in pages_of(sheet, Paper.LETTER) for words in words_on(page)]
    assert plan.count("KEY PLAN, NOT TO SCALE") == 1


def wide():
    """A strip 14 x 3 with a row of holes along its middle, so that some lie in an overlap."""
    holes = [Circle((0.4 + 0.2 * k, 1.5), 0.1, Layer.DRILL_PILOT, hole=k) for k in range(67)]
    return Sheet("STRIP", block(), (Outline(rounded(0, 0, 14, 3, 0.5), Layer.TEMPLATE), *holes))


@pytest.mark.parametrize(
    ("unit", "words", "length_in"), [("in", "4.000 in", 4.0), ("mm", "100 mm", 100 / 25.4)]
)
def test_one_bar_runs_over_each_join(unit, words, length_in):
    strip = wide()
    pages = pages_of(Sheet("STRIP", block(), strip.entities, unit=unit), Paper.LETTER)
    pages = [page for page in pages if page.window is not None]
    assert len(pages) == 2
    for page in pages:
        assert f"{words} OVER THE JOIN" in words_on(page)
        bars = [part.box() for part in page.drawing if isinstance(part, Line) and part.layer is Layer.CHECK]
        assert [
            box for box in bars if box.height_in == 0.0 and box.width_in == pytest.approx(length_in, abs=1e-9)
        ]


def join_bars(page, along):
    """First and last place of every bar over a join that a page shows, along the axis, in its own order."""
    low, high = ("left", "right") if along == "x" else ("bottom", "top")
    lines = [part.box() for part in page.drawing if isinstance(part, Line) and part.layer is Layer.CHECK]
    flat = [box for box in lines if min(box.width_in, box.height_in) == 0.0]
    bars = [box for box in flat if round(getattr(box, high) - getattr(box, low), 6) in LENGTHS]
    return sorted((getattr(bar, low), getattr(bar, high)) for bar in bars)


LENGTHS = {4.0, 3.0, 2.0, *(round(mm / 25.4, 6) for mm in (100, 75, 50))}


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_bars_of_neighboring_joins_do_not_run_into_each_other(unit):
    tall = Sheet("STRIP", block(), (Outline(rounded(0, 0, 6, 24, 0.5), Layer.TEMPLATE),), unit=unit)
    pages = pages_of(tall, Paper.LETTER)
    assert [page.name for page in pages] == ["A1", "B1", "C1"]
    first, second = join_bars(pages[1], "y")
    assert second[0] > first[1] or first != second


@pytest.mark.parametrize("strip", ["below", "right"])
def test_direction_arrows_point_as_on_the_drawing_whichever_way_the_strip_is_read(strip):
    """On a page whose strip stands at the right, to be read from there, FWD is still up the page."""
    size = {"below": (7.0, 6.0), "right": (4.6, 9.6)}[strip]
    sheet = Sheet("PLATE", block(), (Outline(rounded(0, 0, *size, 0.5), Layer.TEMPLATE),))
    (page,) = pages_of(sheet, Paper.LETTER)
    (fwd,) = [part for part in page.parts if isinstance(part, Text) and part.words == "FWD"]
    assert fwd.angle_deg == {"below": 0.0, "right": 90.0}[strip]
    shafts = [part.points for part in page.parts if isinstance(part, Line) and part.layer is Layer.DIMENSION]
    (tail, neck), *_ = sorted(shafts, key=lambda points: math.dist(points[1], fwd.box().middle))
    assert math.degrees(math.atan2(neck[1] - tail[1], neck[0] - tail[0])) == pytest.approx(90.0)


def test_tiles_are_named_by_row_and_column():
    names = [page.name for page in pages_of(bay(), Paper.LETTER) if page.name]
    assert names == ["A1", "A2", "B1", "B2"]
    assert tile_name(2, 0) == "C1"


def test_a_drawing_that_nobody_would_join_is_refused():
    huge = Sheet("TEMPLATE", block(), (Outline(rounded(0, 0, 390, 380, 1.0), Layer.TEMPLATE),))
    with pytest.raises(ExportError, match="pages"):
        pages_of(huge, Paper.LETTER)


@pytest.mark.property
@settings(deadline=None, max_examples=40)
@given(
    st.floats(0.5, 40),
    st.floats(0.5, 40),
    st.floats(-50, 50),
    st.floats(-50, 50),
    st.floats(4, 12),
    st.floats(4, 16),
)
def test_tiles_cover_the_drawing_and_overlap(width, height, left, bottom, window_width, window_height):
    drawn = Box(left, bottom, left + width, bottom + height)
    across = np.arange(left + 0.1, left + width - 0.1, 0.4)
    up = np.arange(bottom + 0.1, bottom + height - 0.1, 0.4)
    x, y = (grid.ravel() for grid in np.meshgrid(across, up))
    marks = np.stack([x, y, x, y], axis=1) + 0.09 * np.array([-1.0, -1.0, 1.0, 1.0])
    tiling = tiled(drawn, marks, (window_width, window_height))
    tiles = [tiling.tile(*place) for place in tiling.kept]
    whole = np.zeros(len(marks), dtype=bool)
    for tile in tiles:
        whole |= (marks[:, :2] >= np.array(tile[:2]) - 1e-6).all(axis=1) & (
            marks[:, 2:] <= np.array(tile[2:]) + 1e-6
        ).all(axis=1)
    assert whole.all()
    for join in tiling.joins():
        one, other = (tiling.tile(*place) for place in join.tiles)
        shared = one.right - other.left if join.along == "y" else other.top - one.bottom
        assert shared == pytest.approx(OVERLAP_IN, abs=1e-9)
    assert tiling.count == 1 or width > window_width or height > window_height
