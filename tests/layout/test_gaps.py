"""Gaps between outlines and what is in the bay: geometry, checked by hand and against shapely."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from hatchwright.job.bay import LandmarkRow, Region
from hatchwright.layout.gaps import gap_to, gap_to_point, gaps_to_points, lies_inside
from hatchwright.shapes.outlines import polygon, rounded_rectangle
from hatchwright.units import inches

LOOP = rounded_rectangle(width_in=4.0, height_in=4.0, radius_in=1.0)
"""Edges at 2, corner arcs of radius 1 about (1, 1)."""

_CHORD_IN = 1e-5


def region(x_from=None, y_from=None, x_to=None, y_to=None) -> Region:
    bounds = {"x_from": x_from, "y_from": y_from, "x_to": x_to, "y_to": y_to}
    return Region(name="there", **{key: inches(value) for key, value in bounds.items() if value is not None})


def row(**at: float) -> LandmarkRow:
    return LandmarkRow(name="row", **{axis: inches(value) for axis, value in at.items()})


@pytest.mark.parametrize(
    ("there", "gap"),
    [
        (region(x_from=2.5), 0.5),
        (region(x_from=2.0), 0.0),
        (region(x_from=1.7), -0.3),
        (region(y_to=-2.25), 0.25),
        # the corner of a rectangle beside the corner arc: sqrt 2 x 1.5 - 1
        (region(x_from=2.5, y_from=2.5), 1.5 * 2**0.5 - 1.0),
        # a rectangle inside the outline, and one that holds it: how far one has to move to be clear
        (region(-0.1, -0.1, 0.1, 0.1), -2.1),
        (region(-3.0, -3.0, 3.0, 3.0), -5.0),
        # a bar that runs through, neither with a corner in the other
        (region(x_from=-0.2, x_to=0.2), -2.2),
        (region(-0.2, -9.0, 0.2, 9.0), -2.2),
    ],
)
def test_gap_to_a_region(there, gap):
    assert gap_to(LOOP, there)[0] == pytest.approx(gap, abs=1e-9)


@pytest.mark.parametrize(
    ("there", "inside"),
    [
        (region(-1.99, -0.9, 1.99, 0.9), True),
        (region(-2.0, -0.9, 1.99, 0.9), False),
        # the corner of a rectangle against the corner arc, at 1 + sqrt 1/2 = 1.707 107
        (region(0.0, 0.0, 1.7071, 1.7071), True),
        (region(0.0, 0.0, 1.7072, 1.7072), False),
        (region(0.0, 0.0, 0.0, 0.0), True),
        (region(x_from=0.0, x_to=0.0), False),
        (region(3.0, 0.0, 4.0, 1.0), False),
        (region(-3.0, -3.0, 3.0, 3.0), False),
    ],
)
def test_a_region_inside_an_outline(there, inside):
    assert lies_inside(there, LOOP) is inside


def test_a_region_that_a_notch_of_the_outline_runs_into_is_not_inside():
    """All four corners lie inside; a notch comes down between them."""
    notched = polygon(((-2, -2), (2, -2), (2, 2), (0.1, 2), (0.1, 0), (-0.1, 0), (-0.1, 2), (-2, 2)))
    assert not lies_inside(region(-1.0, -1.0, 1.0, 1.0), notched)
    assert lies_inside(region(-1.0, -1.0, 1.0, -0.1), notched)


def test_the_place_is_where_the_gap_is():
    assert gap_to(LOOP, region(x_from=2.5, y_from=2.5))[1] == pytest.approx((1 + 2**-0.5, 1 + 2**-0.5))


@pytest.mark.parametrize(("at", "gap"), [(2.5, 0.5), (2.0, 0.0), (1.5, -0.5), (-2.75, 0.75)])
def test_gap_to_a_row(at, gap):
    assert gap_to(LOOP, row(x=at))[0] == pytest.approx(gap, abs=1e-9)
    assert gap_to(LOOP, row(y=at))[0] == pytest.approx(gap, abs=1e-9)


def test_gap_to_a_row_beside_a_notch_is_told_from_one_through_it():
    notched = polygon([(0, 0), (3, 0), (3, 3), (2, 3), (2, 1), (1, 1), (1, 3), (0, 3)], [0.0] * 8)
    assert gap_to(notched, row(x=1.5))[0] < 0.0
    assert gap_to(notched, region(1.2, 1.2, 1.8, 9.0))[0] == pytest.approx(0.2)


@pytest.mark.parametrize(
    ("there", "gap"),
    [
        (region(x_from=2.0), 1.0),
        (region(x_from=2.0, y_from=3.0), math.hypot(1.0, 2.0)),
        (region(x_to=2.0), 0.0),
    ],
)
def test_gap_to_a_point(there, gap):
    assert gap_to_point(there, (1.0, 1.0)) == pytest.approx(gap)
    assert gaps_to_points(there, np.array([[1.0, 1.0], [1.0, 1.0]])) == pytest.approx([gap, gap])


@pytest.mark.property
@settings(deadline=None, max_examples=80)
@given(
    x=st.floats(-4.0, 4.0),
    y=st.floats(-4.0, 4.0),
    width=st.floats(0.01, 3.0),
    height=st.floats(0.01, 3.0),
)
def test_gap_agrees_with_shapely(x, y, width, height):
    """shapely's distance between the polygon of the outline, chords within 1e-5 of it, and the box."""
    gap, _ = gap_to(LOOP, region(x, y, x + width, y + height))
    outline = Polygon(LOOP.points(_CHORD_IN))
    assert max(gap, 0.0) == pytest.approx(
        outline.distance(box(x, y, x + width, y + height)), abs=2 * _CHORD_IN
    )
    if gap < 0.0:
        # moved by the depth along an axis they no longer overlap
        ways = [(-gap, 0.0), (gap, 0.0), (0.0, -gap), (0.0, gap)]
        moved = [box(x + dx, y + dy, x + dx + width, y + dy + height) for dx, dy in ways]
        assert min(outline.intersection(one).area for one in moved) < 1e-6
