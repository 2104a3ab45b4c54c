"""Union, difference and intersection against closed forms, and against membership told by a polygon library."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchwright.errors import GeometryError
from hatchwright.shapes.boolean import difference, intersection, union
from hatchwright.shapes.outlines import circle, rounded_rectangle
from hatchwright.shapes.profile import Loop, Profile, profile_of
from shapes.drawn import CHORD_ERROR_IN, as_polygon, profiles, scattered

TOL_SQ_IN = 1e-11


def disc(diameter_in: float, x: float = 0.0, y: float = 0.0) -> Profile:
    return profile_of(circle(diameter_in=diameter_in, center=(x, y)))


def box(width_in: float, height_in: float, x: float = 0.0, y: float = 0.0) -> Profile:
    return profile_of(rounded_rectangle(width_in=width_in, height_in=height_in, radius_in=0.0, center=(x, y)))


def test_the_lens_of_two_circles():
    """Two circles of radius r, d apart, share 2 r^2 acos(d/2r) - (d/2) sqrt(4 r^2 - d^2)."""
    lens = 2.0 * math.acos(0.5) - 0.5 * math.sqrt(3.0)
    first, second = disc(2.0), disc(2.0, 1.0)
    assert intersection(first, second).area_sq_in == pytest.approx(lens, abs=TOL_SQ_IN)
    assert union(first, second).area_sq_in == pytest.approx(2 * math.pi - lens, abs=TOL_SQ_IN)
    assert difference(first, second).area_sq_in == pytest.approx(math.pi - lens, abs=TOL_SQ_IN)


def test_boxes_that_share_a_side_become_one():
    joined = union(box(2.0, 1.0), box(2.0, 1.0, 2.0))
    assert joined.loops[0].area_sq_in == pytest.approx(4.0, abs=TOL_SQ_IN)
    assert len(joined.loops[0].rows) == 4
    assert intersection(box(2.0, 1.0), box(2.0, 1.0, 2.0)).is_empty
    assert difference(box(2.0, 1.0), box(2.0, 1.0, 2.0)).area_sq_in == pytest.approx(2.0, abs=TOL_SQ_IN)


def test_a_notch_with_a_common_side():
    notched = difference(box(4.0, 2.0), box(1.0, 1.0, 1.5, 0.5))
    assert notched.area_sq_in == pytest.approx(7.0, abs=TOL_SQ_IN)
    assert len(notched.loops[0].rows) == 6


def test_a_region_with_itself_and_with_nothing():
    region, nothing = disc(2.0), Profile()
    assert union(region, region).area_sq_in == pytest.approx(math.pi, abs=TOL_SQ_IN)
    assert intersection(region, region).area_sq_in == pytest.approx(math.pi, abs=TOL_SQ_IN)
    assert difference(region, region).is_empty
    assert union(region, nothing).area_sq_in == union(nothing, region).area_sq_in == region.area_sq_in
    assert difference(region, nothing).area_sq_in == region.area_sq_in
    for empty in (difference(nothing, region), intersection(region, nothing), union(nothing, nothing)):
        assert empty.is_empty


def test_a_hole_cut_from_the_middle_and_put_back():
    ring = difference(disc(4.0), disc(2.0))
    assert [loop.area_sq_in > 0.0 for loop in ring.loops] in ([True, False], [False, True])
    assert ring.area_sq_in == pytest.approx(3 * math.pi, abs=TOL_SQ_IN)
    assert union(ring, disc(2.0)).area_sq_in == pytest.approx(4 * math.pi, abs=TOL_SQ_IN)
    assert len(union(ring, disc(2.0)).loops) == 1


def test_circles_that_touch_stay_two():
    both = union(disc(2.0), disc(2.0, 2.0))
    assert both.area_sq_in == pytest.approx(2 * math.pi, abs=TOL_SQ_IN)
    assert both.checked() == both


def test_a_profile_that_crosses_itself_is_refused():
    knot = Profile((Loop(np.array([[0, 0, 0], [2, 2, 0], [2, 0, 0], [0, 2, 0]], dtype=float)),))
    with pytest.raises(GeometryError, match="crosses"):
        union(disc(1.0), knot)


@pytest.mark.property
@settings(max_examples=500, deadline=None)
@given(profiles(), profiles(), st.integers(0, 1000))
def test_what_lies_in_an_answer_lies_in_the_regions_it_says(first, second, seed):
    """The polygon library says what lies in either region; tolerance: points nearer to an edge than its chord error
    are left out. And the areas add up: |A or B| + |A and B| = |A| + |B|, and |A| = |A without B| + |A and B|.
    """
    either, both, first_only = union(first, second), intersection(first, second), difference(first, second)
    a, b = as_polygon(first), as_polygon(second)
    points = np.vstack([scattered(each, count=80, margin_in=0.2, seed=seed) for each in (first, second)])
    spots = shapely.points(points)
    edges = shapely.union(a.boundary, b.boundary)
    shapely.prepare(edges)
    clear = ~shapely.dwithin(edges, spots, 2 * CHORD_ERROR_IN)
    in_a, in_b = shapely.contains_xy(a, points), shapely.contains_xy(b, points)
    for answer, wanted in ((either, in_a | in_b), (both, in_a & in_b), (first_only, in_a & ~in_b)):
        assert (answer.contains(points) == wanted)[clear].all()
    areas = first.area_sq_in + second.area_sq_in
    assert either.area_sq_in + both.area_sq_in == pytest.approx(areas, abs=1e-8)
    assert first_only.area_sq_in + both.area_sq_in == pytest.approx(first.area_sq_in, abs=1e-8)
