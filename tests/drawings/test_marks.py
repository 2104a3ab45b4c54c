"""Marks, dimensions and keep-outs: where their strokes lie."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchwright.drawings.dimensions import baseline, dimension
from hatchwright.drawings.ink import Layer, Line, Outline, Solid, Style, Text, box_of
from hatchwright.drawings.keep_out import hatched
from hatchwright.drawings.marks import arrow, call_out, check_square, cross
from hatchwright.errors import GeometryError
from hatchwright.shapes.profile import Loop


def rounded(width, height, radius):
    bulge = math.tan(math.pi / 8)
    rows = [
        [radius, 0, 0], [width - radius, 0, bulge], [width, radius, 0], [width, height - radius, bulge],
        [width - radius, height, 0], [radius, height, bulge], [0, height - radius, 0], [0, radius, bulge],
    ]  # fmt: skip
    return Loop(np.array(rows, dtype=float))


def only(kind, parts):
    return [part for part in parts if isinstance(part, kind)]


def test_a_cross_marks_its_center():
    across, up = cross((2.0, 3.0), 0.2)
    assert across.points == ((1.9, 3.0), (2.1, 3.0))
    assert up.points == ((2.0, 2.9), (2.0, 3.1))
    assert not across.layer.is_cut


@pytest.mark.parametrize(
    ("along", "start", "end", "line_at"), [("x", (0, 0), (5, 2), -1.0), ("y", (0, 0), (2, 5), -1.0)]
)
def test_a_dimension_points_at_both_ends_and_breaks_for_its_figure(along, start, end, line_at):
    parts = dimension(start, end, along, line_at, "5.000")
    axis = 0 if along == "x" else 1
    tips = sorted(head.points[0][axis] for head in only(Solid, parts))
    assert tips == [0.0, 5.0]
    assert all(head.points[0][1 - axis] == line_at for head in only(Solid, parts))
    (figure,) = only(Text, parts)
    assert figure.angle_deg == 0.0
    inner = figure.box()
    assert not [line for line in only(Line, parts) if line.box().touches(inner)]


def test_extension_lines_leave_a_gap_and_run_past_the_line():
    parts = dimension((0.0, 0.0), (5.0, 2.0), "x", -1.0, "5.000")
    left, right = sorted(
        (line.points for line in only(Line, parts) if line.box().width_in == 0.0), key=lambda p: p[0]
    )
    assert left == ((0.0, pytest.approx(-0.06)), (0.0, pytest.approx(-1.1)))
    assert right == ((5.0, pytest.approx(1.94)), (5.0, pytest.approx(-1.1)))


def test_a_short_dimension_has_its_heads_and_its_figure_outside():
    parts = dimension((0.0, 0.0), (0.28, 0.0), "x", 1.0, ".280")
    (figure,) = only(Text, parts)
    assert figure.box().left > 0.28
    assert sorted(head.points[0][0] for head in only(Solid, parts)) == [0.0, 0.28]
    assert all(not 0.0 < head.box().left < 0.28 for head in only(Solid, parts))


def test_dimensions_from_one_datum_stand_with_the_longest_outermost():
    ends = [((8.0, 1.0), "8.000"), ((3.0, 1.0), "3.000"), ((5.5, 1.0), "5.500")]
    parts = list(baseline((0.0, 0.0), ends, along="x", first_line_at=-0.5))
    assert [text.words for text in only(Text, parts)] == ["3.000", "5.500", "8.000"]
    tips = [head.points[0] for head in only(Solid, parts)]
    assert [y for _, y in tips] == pytest.approx([-0.5, -0.5, -0.85, -0.85, -1.2, -1.2])
    assert [x for x, _ in tips] == [0.0, 3.0, 0.0, 5.5, 0.0, 8.0]


def test_a_call_out_stops_at_the_rim_and_frames_its_words():
    parts = call_out((0.0, 0.0), (1.0, 1.0), ("6: SHORT .007", "of .250"), clear_in=0.13, boxed=True)
    (head,) = only(Solid, parts)
    assert math.hypot(*head.points[0]) == pytest.approx(0.13)
    frame = next(line for line in only(Line, parts) if len(line.points) == 5)
    for text in only(Text, parts):
        box = text.box()
        assert frame.box().left <= box.left
        assert frame.box().right >= box.right
        assert frame.box().bottom <= box.bottom
        assert frame.box().top >= box.top


def test_words_of_a_call_out_to_the_left_end_at_the_shoulder():
    (text,) = only(Text, call_out((0.0, 0.0), (-1.0, 1.0), ("4X R.75",)))
    assert text.box().right < -1.0


@pytest.mark.parametrize("angle", [0.0, 90.0, 180.0, 270.0, 45.0])
def test_an_arrow_points_its_way_and_its_word_lies_beyond(angle):
    parts = arrow((0.0, 0.0), angle, "FWD", 0.75)
    (head,) = only(Solid, parts)
    way = (math.cos(math.radians(angle)), math.sin(math.radians(angle)))
    assert head.points[0] == pytest.approx((0.75 * way[0], 0.75 * way[1]))
    (word,) = only(Text, parts)
    middle = (0.5 * (word.box().left + word.box().right), 0.5 * (word.box().bottom + word.box().top))
    assert middle[0] * way[0] + middle[1] * way[1] > 0.75
    assert not word.box().touches(head.box())


@pytest.mark.parametrize(("unit", "side"), [("in", 1.0), ("mm", 25.0 / 25.4)])
def test_the_check_square_is_the_length_that_it_says(unit, side):
    (square,) = only(Outline, check_square((1.0, 2.0), unit))
    assert square.layer is Layer.CHECK
    assert square.box().width_in == pytest.approx(side, abs=1e-12)
    assert square.box().height_in == pytest.approx(side, abs=1e-12)


@pytest.mark.property
@settings(deadline=None, max_examples=60)
@given(st.floats(0.5, 8), st.floats(0.5, 8), st.floats(0.05, 1), st.floats(-90, 90), st.floats(0.03, 0.4))
def test_hatching_fills_its_region_and_never_leaves_it(width, height, share, angle, spacing):
    """Against shapely: every line lies inside, and length times spacing is the area but for the last line."""
    loop = rounded(width, height, max(0.02, share * 0.49 * min(width, height)))
    region = shapely.Polygon(loop.points(1e-5)).buffer(1e-4)
    _, *lines = hatched(loop, spacing_in=spacing, angle_deg=angle)
    assert all(region.contains(shapely.LineString(line.points)) for line in lines)
    length = sum(math.dist(*line.points) for line in lines)
    assert length * spacing == pytest.approx(loop.area_sq_in, abs=1.2 * spacing * math.hypot(width, height))
    assert {line.style for line in lines} <= {Style.KEEP_OUT}


def test_a_region_with_a_bay_is_hatched_in_two_runs():
    """A C-shape: a line across both arms of the C has a gap between them."""
    rows = [[0, 0, 0], [3, 0, 0], [3, 1, 0], [1, 1, 0], [1, 2, 0], [3, 2, 0], [3, 3, 0], [0, 3, 0]]
    loop = Loop(np.array(rows, dtype=float))
    _, *lines = hatched(loop, spacing_in=0.25, angle_deg=90.0)
    assert sum(math.dist(*line.points) for line in lines) * 0.25 == pytest.approx(7.0, abs=0.8)
    assert not [line for line in lines if line.box().left > 1.0 and line.box().height_in > 1.0001]


def test_hatching_of_no_spacing_is_refused():
    with pytest.raises(GeometryError, match="spacing"):
        hatched(rounded(1.0, 1.0, 0.1), spacing_in=0.0)


def test_a_box_holds_turned_text():
    upright = Text((1.0, 1.0), "STRINGER", angle_deg=90.0).box()
    assert upright.height_in > upright.width_in
    assert box_of((Text((1.0, 1.0), "STRINGER"),)).width_in == pytest.approx(upright.height_in)
