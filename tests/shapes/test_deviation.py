"""Deviations against closed forms, and against distances along finely drawn edges."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hatchwright.errors import GeometryError
from hatchwright.shapes.boolean import difference
from hatchwright.shapes.deviation import Depth, deviation
from hatchwright.shapes.offset import erode, grow
from hatchwright.shapes.outlines import circle, polygon, rounded_rectangle
from hatchwright.shapes.profile import Profile, profile_of
from shapes.drawn import as_polygon, convex_loops, profiles

TOL_IN = 1e-9


def rectangle(radius_in: float) -> Profile:
    return profile_of(rounded_rectangle(width_in=10.0, height_in=6.0, radius_in=radius_in))


def test_a_region_does_not_deviate_from_itself():
    found = deviation(rectangle(1.0), rectangle(1.0))
    assert found.under_cut == found.over_cut == Depth(0.0, None)
    assert found.left_area_sq_in == found.over_area_sq_in == 0.0


def test_a_corner_left_too_round():
    """Depth (R - r)(sqrt 2 - 1), area (1 - pi/4)(R^2 - r^2) a corner."""
    found = deviation(rectangle(0.5), rectangle(0.25))
    assert found.under_cut.depth_in == pytest.approx(0.25 * (math.sqrt(2) - 1), abs=TOL_IN)
    assert found.left_area_sq_in == pytest.approx(4 * (1 - math.pi / 4) * (0.25 - 0.0625), abs=TOL_IN)
    assert found.over_cut == Depth(0.0, None)
    x, y = found.under_cut.place
    inset = 5.0 - 0.25 * (1 - math.sqrt(0.5)), 3.0 - 0.25 * (1 - math.sqrt(0.5))
    assert (abs(x), abs(y)) == pytest.approx(inset, abs=1e-6)
    swapped = deviation(rectangle(0.25), rectangle(0.5))
    assert swapped.over_cut.depth_in == pytest.approx(found.under_cut.depth_in, abs=TOL_IN)
    assert swapped.over_area_sq_in == pytest.approx(found.left_area_sq_in, abs=TOL_IN)


def test_a_sharp_corner_left_round_is_deepest_from_its_tip():
    """From the tip to the arc R (sqrt 2 - 1); from the arc to the sides only R (1 - sqrt 1/2)."""
    found = deviation(rectangle(0.25), rectangle(0.0))
    assert found.under_cut.depth_in == pytest.approx(0.25 * (math.sqrt(2) - 1), abs=TOL_IN)
    assert np.abs(found.under_cut.place) == pytest.approx((5.0, 3.0), abs=1e-6)


def test_a_shifted_circle_deviates_by_its_shift_on_both_sides():
    """Radius r moved by e: deepest e on the line of the shift; both lune areas are equal."""
    wanted = profile_of(circle(diameter_in=2.0))
    made = wanted.transformed(np.eye(2), (0.03, 0.04))
    found = deviation(made, wanted)
    assert found.under_cut.depth_in == pytest.approx(0.05, abs=TOL_IN)
    assert found.over_cut.depth_in == pytest.approx(0.05, abs=TOL_IN)
    lens = 2 * math.acos(0.025) - 0.025 * math.sqrt(4 - 0.0025)
    assert found.left_area_sq_in == pytest.approx(math.pi - lens, abs=TOL_IN)
    assert found.over_area_sq_in == pytest.approx(math.pi - lens, abs=TOL_IN)


def test_a_peak_in_the_middle_of_a_long_side_is_found():
    """A side bent by 0.05 at 3.337 in of 10: the tip is the deepest place."""
    bent = profile_of(polygon([(0, 0), (3.337, 0.05), (10, 0), (10, 6), (0, 6)]))
    straight = profile_of(polygon([(0, 0), (10, 0), (10, 6), (0, 6)]))
    found = deviation(bent, straight)
    assert found.under_cut.depth_in == pytest.approx(0.05, abs=TOL_IN)
    assert found.under_cut.place == pytest.approx((3.337, 0.05), abs=1e-6)


def test_a_lost_tongue_is_as_deep_as_its_tip():
    """A tongue 0.4 wide and 2 long cut off flush: its end is 2 from the cut."""
    wanted = profile_of(polygon([(0, 0), (6, 0), (6, 4), (3.2, 4), (3.2, 2), (2.8, 2), (2.8, 4), (0, 4)]))
    made = profile_of(polygon([(0, 0), (6, 0), (6, 4), (0, 4)]))
    found = deviation(made, wanted)
    assert found.over_cut.depth_in == pytest.approx(2.0, abs=TOL_IN)
    assert found.over_area_sq_in == pytest.approx(0.8, abs=TOL_IN)


def test_a_missed_room_is_left():
    """Of two openings one was not made: the other's farthest side is what is left, measured to the made edge."""
    one, other = circle(diameter_in=2.0), circle(diameter_in=1.0, center=(3.0, 0.0))
    found = deviation(profile_of(one), profile_of(one, other))
    assert found.under_cut.depth_in == pytest.approx(2.5, abs=TOL_IN)
    assert found.under_cut.place == pytest.approx((3.5, 0.0), abs=1e-6)
    assert found.left_area_sq_in == pytest.approx(math.pi / 4, abs=TOL_IN)


@pytest.mark.parametrize("which", ["made", "wanted"])
def test_nothing_cannot_be_compared(which):
    regions = {"made": rectangle(1.0), "wanted": rectangle(1.0), which: Profile()}
    with pytest.raises(GeometryError, match=f"no {which} region"):
        deviation(**regions)


@pytest.mark.property
@settings(max_examples=100, deadline=None)
@given(convex_loops(), st.floats(0.001, 0.3))
def test_a_region_made_larger_all_round_deviates_by_that(loop, extra_in):
    """Cut back instead, a corner of these outlines, none sharper than a right angle, loses at most sqrt 2 as much."""
    wanted = Profile((loop,))
    assert deviation(grow(wanted, extra_in), wanted).over_cut.depth_in == pytest.approx(extra_in, abs=TOL_IN)
    found = deviation(wanted, erode(wanted, extra_in))
    assert extra_in - TOL_IN <= found.over_cut.depth_in <= extra_in * math.sqrt(2) + TOL_IN
    assert found.under_cut == Depth(0.0, None)


def farthest(places, edge):
    """Largest distance of places from an edge. Of every sixteen the first is measured, and the others only where what
    they lie off the first could make them farther than the farthest yet."""
    first = np.arange(len(places)) // 16 * 16
    depth = shapely.distance(edge, places[::16])
    may = depth[first // 16] + shapely.distance(places, places[first]) >= depth.max()
    return max(depth.max(), shapely.distance(edge, places[may]).max())


@pytest.mark.property
@settings(max_examples=120, deadline=None)
@given(profiles(), profiles())
def test_no_place_of_an_edge_is_deeper(made, wanted):
    """The depth holds for every place of both edges that lies in the metal left, and one of them reaches it.

    The places are 0.01 apart, so the deepest of them is at most half of that short; their distances are the polygon
    library's, with its chord error.
    """
    if difference(wanted, made).is_empty:
        made, wanted = wanted, made
    left = difference(wanted, made)
    assume(not left.is_empty)
    found = deviation(made, wanted)
    chord_error_in = 1e-5
    edges = [as_polygon(each, chord_error_in).boundary for each in (made, wanted)]
    region = as_polygon(left, chord_error_in)
    places = shapely.points(shapely.get_coordinates(shapely.segmentize(region.boundary, 0.01)))
    deepest = max(farthest(places, edge) for edge in edges)
    assert deepest - 1e-4 <= found.under_cut.depth_in <= deepest + 0.005 + 1e-4
    assert found.left_area_sq_in == pytest.approx(left.area_sq_in, abs=1e-9)
