"""Pages: tiles that cover the drawing, overlap, and carry what shows whether the paper may be used."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

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


def test_notes_and_tables_come_first_and_pages_count_through():
    pages = pages_of(bay(), Paper.LETTER)
    assert pages[0].window is None
    assert "NOTES" in words_on(pages[0])
    assert "NO." in words_on(pages[0])
    assert [f"{number} of {len(pages)}" in words_on(page) for number, page in enumerate(pages, 1)] == [
        True
    ] * len(pages)


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
def test_nothing_of_the_page_itself_stands_on_the_drawing(paper):
    for page in pages_of(bay(), paper):
        if page.window is not None:
            inner = page.window.grown(-0.01)
            assert not [part for part in page.parts if part.box().touches(inner)]


@pytest.mark.parametrize("paper", list(Paper))
def test_words_of_a_page_do_not_run_into_each_other(paper):
    for page in pages_of(bay(), paper):
        boxes = [part.box().grown(-0.02) for part in page.parts if isinstance(part, Text)]
        clashes = [(a, b) for k, a in enumerate(boxes) for b in boxes[k + 1 :] if a.touches(b)]
        assert not clashes


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
    assert len(pages_of(sheet, Paper.LETTER)) > 20
    assert len(asked) < 30 * len(
        holes
    )  # for a place of the next page's name too; 108 when every page asked about all


def marks_on(page):
    """Middles of the diamonds of the tile marks, on the page."""
    diamonds = [part for part in page.drawing if isinstance(part, Line) and len(part.points) == 5]
    boxes = [part.box() for part in diamonds if part.layer is Layer.CHECK]
    return sorted((0.5 * (box.left + box.right), 0.5 * (box.bottom + box.top)) for box in boxes)


def holes_on(page):
    return {part.hole: part.center for part in page.drawing if isinstance(part, Circle)}


def test_marks_of_neighbors_fall_on_each_other():
    """Laying A2 on A1 mark on mark must bring every hole that both show to the same place."""
    pages = {page.name: page for page in pages_of(wide(), Paper.LETTER)}
    first, second = pages["A1"], pages["A2"]
    right_of_first = marks_on(first)[2:]
    left_of_second = marks_on(second)[:2]
    (dx, dy), (other_dx, other_dy) = [
        (a[0] - b[0], a[1] - b[1]) for a, b in zip(right_of_first, left_of_second, strict=True)
    ]
    assert (dx, dy) == pytest.approx((other_dx, other_dy), abs=1e-9)
    common = holes_on(first).keys() & holes_on(second).keys()
    assert common
    for hole in common:
        (ax, ay), (bx, by) = holes_on(first)[hole], holes_on(second)[hole]
        assert (bx + dx, by + dy) == pytest.approx((ax, ay), abs=1e-9)


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


@pytest.mark.parametrize(("unit", "words"), [("in", "3.000 in"), ("mm", "75 mm")])
def test_bars_of_neighboring_joins_do_not_run_into_each_other(unit, words):
    """Three short pages above each other: a page shows less than 4 in between two joins, so the bars are shorter."""
    tall = Sheet("STRIP", block(), (Outline(rounded(0, 0, 8, 9, 0.5), Layer.TEMPLATE),), unit=unit)
    pages = [page for page in pages_of(tall, Paper.LETTER) if page.window is not None]
    assert [page.name for page in pages] == ["A1", "B1", "C1"]
    first, second = join_bars(pages[1], "y")
    assert second[0] - first[1] > 0.25
    assert first[1] - first[0] == pytest.approx(3.0 if unit == "in" else 75 / 25.4, abs=1e-9)
    assert f"{words} OVER THE JOIN" in words_on(pages[1])


def test_the_name_of_the_next_page_stands_clear_of_the_drawing():
    """The left edge of the plate runs up where the name would stand first: it moves along the join."""
    tall = Sheet("STRIP", block(), (Outline(rounded(0, 0, 7.6, 9, 0.5), Layer.TEMPLATE),))
    pages = [page for page in pages_of(tall, Paper.LETTER) if page.window is not None]
    for page, name in zip(pages[:-1], ("JOIN TO B1", "JOIN TO C1"), strict=True):
        (text,) = [part for part in page.drawing if isinstance(part, Text) and part.words == name]
        (edge,) = [part for part in page.drawing if isinstance(part, Outline)]
        (left, _, right, _), box = edge.loop.bounds, text.box()
        assert not box.left <= left <= box.right
        assert box.right < right
        assert box.bottom > page.window.bottom


def test_tiles_are_named_by_row_and_column():
    names = [page.name for page in pages_of(bay(), Paper.LETTER) if page.name]
    assert names == ["A1", "A2", "B1", "B2"] or names == ["A1", "A2", "A3", "B1", "B2", "B3"]
    assert tile_name(2, 0) == "C1"


def test_a_drawing_that_nobody_would_join_is_refused():
    huge = Sheet("TEMPLATE", block(), (Outline(rounded(0, 0, 200, 150, 1.0), Layer.TEMPLATE),))
    with pytest.raises(ExportError, match="pages"):
        pages_of(huge, Paper.LETTER)


@pytest.mark.property
@settings(deadline=None, max_examples=200)
@given(
    st.floats(0.1, 80),
    st.floats(0.1, 80),
    st.floats(-50, 50),
    st.floats(-50, 50),
    st.floats(4, 12),
    st.floats(4, 16),
)
def test_tiles_cover_the_drawing_and_overlap(width, height, left, bottom, window_width, window_height):
    drawn = Box(left, bottom, left + width, bottom + height)
    tiling = tiled(drawn, (window_width, window_height))
    tiles = [tiling.tile(*place) for place in tiling.places()]
    assert min(tile.left for tile in tiles) <= drawn.left + 1e-9
    assert max(tile.right for tile in tiles) >= drawn.right - 1e-9
    assert min(tile.bottom for tile in tiles) <= drawn.bottom + 1e-9
    assert max(tile.top for tile in tiles) >= drawn.top - 1e-9
    for column in range(tiling.columns - 1):
        shared = tiling.tile(0, column).right - tiling.tile(0, column + 1).left
        assert shared == pytest.approx(OVERLAP_IN, abs=1e-9)
    for row in range(tiling.rows - 1):
        shared = tiling.tile(row + 1, 0).top - tiling.tile(row, 0).bottom
        assert shared == pytest.approx(OVERLAP_IN, abs=1e-9)
    assert tiling.count == 1 or width > window_width or height > window_height
