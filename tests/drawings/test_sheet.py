"""The neutral sheet: what it refuses, what it tidies, and what it lays out below the drawing."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from hatchwright.drawings.ink import Circle, Layer, Line, Outline, Style, Text, box_of
from hatchwright.drawings.keep_out import hatched
from hatchwright.drawings.sheet import Sheet
from hatchwright.drawings.table import Table
from hatchwright.drawings.title_block import TitleBlock
from hatchwright.errors import GeometryError
from hatchwright.shapes.profile import Loop

BLOCK = TitleBlock("ALDER", "REG X-0000", "LEFT", "SEEN FROM OUTSIDE", "C", "2026-11-25")


def square(x, y, side):
    return Loop(
        np.array([[x, y, 0], [x + side, y, 0], [x + side, y + side, 0], [x, y + side, 0]], dtype=float)
    )


def sheet(*entities, **more):
    return Sheet("LAYOUT", BLOCK, (Outline(square(0, 0, 4), Layer.OPENING), *entities), **more)


@pytest.mark.parametrize("layer", [layer for layer in Layer if layer.is_cut])
def test_no_open_line_gets_onto_a_layer_that_is_cut(layer):
    with pytest.raises(GeometryError, match="cut layer"):
        Line(((0.0, 0.0), (1.0, 0.0)), layer)


def test_lettering_lies_on_its_own_layer():
    assert Text((0.0, 0.0), "LEFT").layer is Layer.TEXT
    assert not Layer.TEXT.is_cut


@pytest.mark.parametrize("diameter", [0.0, -0.1, math.nan])
def test_a_hole_needs_a_diameter(diameter):
    with pytest.raises(GeometryError, match="diameter"):
        Circle((0.0, 0.0), diameter, Layer.DRILL_PILOT)


def test_an_empty_sheet_is_refused():
    with pytest.raises(GeometryError, match="nothing to draw"):
        Sheet("LAYOUT", BLOCK, ())


@pytest.mark.parametrize("wrong", [math.nan, math.inf])
def test_a_coordinate_that_is_no_number_is_refused(wrong):
    with pytest.raises(GeometryError, match="finite"):
        sheet(Line(((0.0, 0.0), (wrong, 1.0)), Layer.STRUCTURE))
    with pytest.raises(GeometryError, match="finite"):
        sheet(Circle((0.0, wrong), 0.1, Layer.DRILL_PILOT))
    with pytest.raises(GeometryError, match="finite"):
        sheet(Text((wrong, 0.0), "LEFT"))


def test_a_slip_of_the_unit_is_refused():
    """A bay of 11 in whose millimeters were read as inches is 279 in wide; twice that is refused."""
    with pytest.raises(GeometryError, match="Check the unit"):
        sheet(Line(((0.0, 0.0), (2 * 279.4, 0.0)), Layer.STRUCTURE))


def test_a_repeat_is_drawn_once_whatever_its_direction_or_start():
    loop = square(0, 0, 4)
    turned = Loop(np.roll(loop.rows, 2, axis=0))
    ends = ((1.0, 1.0), (2.0, 2.0))
    parts = sheet(
        Outline(loop.reversed(), Layer.OPENING),
        Outline(turned, Layer.OPENING),
        Line(ends, Layer.ENGRAVE),
        Line(ends[::-1], Layer.ENGRAVE),
        Line(ends, Layer.STRUCTURE),
    ).parts()
    assert [part.layer for part in parts] == [Layer.OPENING, Layer.ENGRAVE, Layer.STRUCTURE]


def test_arcs_to_either_side_of_one_chord_are_not_a_repeat():
    half = Loop(np.array([[1.0, 1.0, 1.0], [2.0, 1.0, 0.0]]))
    flat = Loop(np.array([[1.0, 1.0, 0.5], [2.0, 1.0, 0.0]]))
    assert len(sheet(Outline(half, Layer.OPENING), Outline(flat, Layer.OPENING)).parts()) == 3


def test_hatching_stops_round_lettering():
    words = Text((1.0, 2.0), "KEEP OUT")
    parts = sheet(*hatched(square(0, 0, 4)), words).parts()
    lines = [part for part in parts if isinstance(part, Line)]
    (x0, y0, x1, y1) = words.box()
    for line in lines:
        for share in np.linspace(0.0, 1.0, 101):
            x, y = np.array(line.points[0]) * (1 - share) + np.array(line.points[1]) * share
            assert not (x0 < x < x1 and y0 < y < y1)
    whole = hatched(square(0, 0, 4))[1:]
    assert sum(math.dist(*line.points) for line in lines) > 0.8 * sum(
        math.dist(*line.points) for line in whole
    )


def test_an_edge_or_a_center_line_is_never_interrupted():
    line = Line(((0.0, 2.05), (4.0, 2.05)), Layer.ENGRAVE, Style.CENTER)
    parts = sheet(line, Text((1.0, 2.0), "4X R.75")).parts()
    assert line in parts


def test_the_legend_names_the_styles_in_use_and_no_others():
    meanings = dict(
        sheet(
            Outline(square(5, 0, 1), Layer.DOUBLER, Style.HIDDEN),
            legend=((Style.HIDDEN, "doubler behind the skin"), (Style.PHANTOM, "rib")),
        ).meanings()
    )
    assert meanings == {Style.FINISHED: "finished edge", Style.HIDDEN: "doubler behind the skin"}


def test_styles_are_told_apart_by_width_and_dashes_alone():
    looks = {(style.width_in, style.dashes_in) for style in Style if style is not Style.KEEP_OUT}
    assert len(looks) == len(Style) - 1


def test_what_is_laid_out_below_stays_clear_of_the_drawing_and_of_itself():
    table = Table("HOLES", ("NO.", "X"), tuple((str(n), "1.000") for n in range(1, 30)))
    made = sheet(notes=("DEBURR BOTH SIDES. " * 12,), tables=(table, table, table))
    added = made.framed()[len(made.parts()) :]
    assert box_of(added).top < box_of(made.parts()).bottom
    boxes = [part.box().grown(-0.015) for part in added if isinstance(part, Text)]
    assert not [(a, b) for k, a in enumerate(boxes) for b in boxes[k + 1 :] if a.touches(b)]
    words = [part.words for part in added if isinstance(part, Text)]
    for needed in (
        "LEFT",
        "ALDER",
        "REG X-0000",
        "SEEN FROM OUTSIDE",
        "CALCULATION AID: NOT APPROVED DATA",
        "INITIALS",
    ):
        assert needed in words


def test_long_names_stay_inside_the_title_block():
    long = "AN OPENING WITH A NAME THAT GOES ON AND ON " * 5
    block = TitleBlock(long, long, long, long, long, long, ((long, 90.0), (long, 0.0)))
    made = block.block(title=long, page=1, pages=1, scale="FULL SIZE 1:1, IN", width_in=7.0)
    box = box_of(made.parts)
    assert box.left >= -0.001
    assert box.right <= 7.001
    assert box.bottom >= -made.height_in - 0.04


def test_a_row_with_a_missing_cell_is_refused():
    with pytest.raises(GeometryError, match="row 2 has 1 cells under 2 headings"):
        Table("HOLES", ("NO.", "X"), (("1", "2.000"), ("2",)))


def test_cells_stay_in_their_columns():
    made = Table("HOLES", ("NO.", "PART"), (("1", "MS20470AD4-4"), ("112", "-"))).block()
    rules = sorted(p.points[0][0] for p in made.parts if isinstance(p, Line) and p.box().width_in == 0.0)
    for part in made.parts:
        if isinstance(part, Text) and part.words != "HOLES":
            left, right = part.box().left, part.box().right
            assert any(a <= left and right <= b for a, b in pairwise(rules))


def test_split_tables_keep_every_row_once():
    rows = tuple((str(number), "1.000") for number in range(1, 61))
    parts = Table("HOLES", ("NO.", "X"), rows).split(4.0)
    assert [row for part in parts for row in part.rows] == list(rows)
    assert all(part.block().height_in <= 4.0 for part in parts)
    assert parts[0].title == f"HOLES (1 of {len(parts)})"


def test_a_title_block_and_a_table_cut_no_word_off():
    """On the narrowest block, with the view and the longest names that were cut before."""
    said = ("Inspection opening, lower wing skin between rib 3 and rib 4", "LOWER SKIN, SEEN FROM OUTSIDE")
    block = TitleBlock(said[0], "EXAMPLE-1, s/n 0001", "CENTER", said[1], "AAA", "2026-03-01 10:00 UTC")
    parts = block.block(title="T", page=10, pages=11, scale="FULL SIZE 1:1, MM", width_in=6.4).parts
    lettered = " ".join(part.words for part in parts if isinstance(part, Text))
    assert all(words in lettered for words in (*said, "FULL SIZE 1:1, MM", "2026-03-01 10:00 UTC"))
    assert "…" not in lettered
    title = "SCREW MS24694-S5 IN cover + doubler + stiffener: #40, DIMPLE, FINAL #30 3.264 mm " * 2
    table = Table(title, ("NO.", "X"), (("1", "25.40"),)).block()
    heading = " ".join(part.words for part in table.parts if isinstance(part, Text) and part.bold)
    assert title.split() == heading.split()[: len(title.split())]
    assert table.width_in < 5.5
