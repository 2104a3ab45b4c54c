"""Offsets against closed forms, against the definition, and against a polygon library's sums of stadiums.

The library's own offset of a whole polygon simplifies its input by a hundredth of the distance first, which takes off
the tips of thin cusps and, on finely drawn re-entrant arcs, much more; so it is asked only for growth of convex
outlines. Otherwise the region within the distance of the edge is built from one stadium per straight bit of edge.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchwright.errors import GeometryError
from hatchwright.shapes.boolean import difference
from hatchwright.shapes.corners import corners
from hatchwright.shapes.distance import distances
from hatchwright.shapes.offset import erode, grow, offset
from hatchwright.shapes.outlines import circle, obround, polygon, rounded_rectangle
from hatchwright.shapes.profile import Profile, profile_of
from shapes.drawn import CHORD_ERROR_IN, as_polygon, convex_loops, profiles, scattered, sizes

TOL_IN = 1e-9
reaches = sizes(0.125, 1.25)


def rectangle(width_in: float, height_in: float, radius_in: float) -> Profile:
    return profile_of(rounded_rectangle(width_in=width_in, height_in=height_in, radius_in=radius_in))


@pytest.mark.parametrize("distance_in", [0.375, -0.375, -1.0])
def test_a_rounded_rectangle_stays_one(distance_in):
    """W + 2d by H + 2d, corner radius r + d."""
    (loop,) = offset(rectangle(10.0, 6.0, 1.0), distance_in).loops
    assert loop.bounds == pytest.approx(
        (-5 - distance_in, -3 - distance_in, 5 + distance_in, 3 + distance_in)
    )
    radius = 1.0 + distance_in
    area = (10 + 2 * distance_in) * (6 + 2 * distance_in) - (4 - math.pi) * radius**2
    assert loop.area_sq_in == pytest.approx(area, abs=TOL_IN)
    assert {round(corner.radius_in, 9) for corner in corners(loop)} == {round(radius, 9)}


def test_a_sharp_corner_grows_a_round_one_and_erodes_sharp():
    """Growing adds L d + pi d^2 (Steiner); eroding leaves the smaller rectangle."""
    sharp = rectangle(4.0, 2.0, 0.0)
    assert grow(sharp, 0.5).area_sq_in == pytest.approx(8.0 + 12.0 * 0.5 + math.pi / 4, abs=TOL_IN)
    eroded = erode(sharp, 0.5)
    assert eroded.area_sq_in == pytest.approx(3.0, abs=TOL_IN)
    assert len(eroded.loops[0].rows) == 4


def test_a_hole_shrinks_while_the_plate_grows():
    plate = profile_of(circle(diameter_in=4.0), circle(diameter_in=2.0))
    assert grow(plate, 0.5).area_sq_in == pytest.approx(math.pi * (2.5**2 - 0.5**2), abs=TOL_IN)
    assert grow(plate, 1.0).area_sq_in == pytest.approx(math.pi * 9.0, abs=TOL_IN)
    assert erode(plate, 0.25).area_sq_in == pytest.approx(math.pi * (1.75**2 - 1.25**2), abs=TOL_IN)
    assert erode(plate, 0.5).is_empty


def test_a_dumbbell_falls_apart():
    """Two 3 in squares on a neck 0.5 in high: eroded by 0.3 the neck is gone and two 2.4 in squares stay.

    Each has a nose towards its mouth: the part of the strip of width 0.3 before it, between the mouth's corners, that
    is 0.3 from both. With h half the mouth and r the reach it is 2 (h r - integral of sqrt(r^2 - y^2) from 0 to h).
    """
    points = [(0, 0), (3, 0), (3, 1.25), (5, 1.25), (5, 0), (8, 0)]
    points += [(8 - x, 3 - y) for x, y in points]
    left, right = erode(profile_of(polygon(points)), 0.3).loops
    assert left.area_sq_in == pytest.approx(right.area_sq_in, abs=TOL_IN)
    half, reach = 0.25, 0.3
    nose = 2 * half * reach - half * math.sqrt(reach**2 - half**2) - reach**2 * math.asin(half / reach)
    assert left.area_sq_in == pytest.approx(2.4 * 2.4 + nose, abs=TOL_IN)


def test_a_slot_as_wide_as_the_cutter_leaves_nothing():
    """Eroded by half its width a slot has no area, only the line between the centers of its ends."""
    slot = profile_of(obround(length_in=4.0, width_in=0.5))
    assert erode(slot, 0.25).is_empty
    assert not erode(slot, 0.2499999).is_empty


def test_a_corner_that_turns_straight_back_offsets():
    """Two equal circles side by side touch at the origin; the room below, between them, ends there in a cusp whose
    sides turn straight back. Grown, it reaches just the distance beyond the tip."""
    reach = 0.25
    slab = rectangle(2.0, 1.0, 0.0).transformed(np.eye(2), (0.0, -0.5))
    room = difference(difference(slab, disc(-1.0)), disc(1.0))
    grown = grow(room, reach)
    points = np.random.default_rng(7).uniform((-1.5, -1.5), (1.5, 0.5), (4000, 2))
    near = distances(room, points)
    assert (grown.contains(points) == (near.inside | (near.distance_in < reach))).all()
    assert grown.contains([(0.0, reach - 1e-6), (0.0, reach + 1e-6)]).tolist() == [True, False]


def disc(x: float) -> Profile:
    return profile_of(circle(diameter_in=2.0, center=(x, 0.0)))


def test_a_sharp_wedge_grows_by_steiners_formula():
    wedge = profile_of(polygon([(0, 0), (4, 0), (4, 0.01)]))
    length_in = wedge.loops[0].length_in
    assert grow(wedge, 0.3).area_sq_in == pytest.approx(0.02 + length_in * 0.3 + math.pi * 0.09, abs=TOL_IN)


def test_nothing_and_no_distance():
    plate = rectangle(2.0, 1.0, 0.1)
    assert offset(plate, 0.0) == plate
    assert offset(Profile(), 0.5).is_empty
    for wrong in (-0.1, math.nan, math.inf):
        with pytest.raises(GeometryError, match="is not an offset"):
            erode(plate, wrong)
    with pytest.raises(GeometryError, match="nan in is not an offset"):
        offset(plate, math.nan)


@pytest.mark.property
@settings(max_examples=300, deadline=None)
@given(convex_loops(), reaches)
def test_a_convex_outline_grows_by_steiners_formula(loop, reach_in):
    """Area A + L d + pi d^2 and length L + 2 pi d for any convex outline (Steiner)."""
    grown = grow(Profile((loop,)), reach_in)
    area = loop.area_sq_in + loop.length_in * reach_in + math.pi * reach_in**2
    assert grown.area_sq_in == pytest.approx(area, abs=1e-8)
    assert grown.loops[0].length_in == pytest.approx(loop.length_in + 2 * math.pi * reach_in, abs=1e-8)


@pytest.mark.property
@settings(max_examples=150, deadline=None)
@given(convex_loops(), reaches)
def test_growth_of_a_convex_outline_agrees_with_a_polygon_library(loop, reach_in):
    """Largest distance of the two edges either way, at their vertices. Tolerance: the chord errors, and of 256 chords
    a quarter in the library's joins (5e-6 of the distance)."""
    ours = as_polygon(grow(Profile((loop,)), reach_in)).boundary
    theirs = as_polygon(Profile((loop,))).buffer(reach_in, quad_segs=256).boundary
    for one, other in ((ours, theirs), (theirs, ours)):
        vertices = shapely.points(shapely.get_coordinates(one))
        shapely.prepare(other)
        assert shapely.dwithin(other, vertices, 2 * CHORD_ERROR_IN + 5e-6 * reach_in).all()


@pytest.mark.property
@settings(max_examples=1000, deadline=None)
@given(profiles(), reaches, st.booleans(), st.integers(0, 1000))
def test_an_offset_holds_what_its_definition_says(profile, reach_in, grows, seed):
    """Inside a growth: in the profile or nearer than the distance; inside an erosion: in it and farther.

    The distances are the polygon library's. Half of the points are thrown about, half lie just beside the distance
    from a random place of the edge. The answer's own edge, vertices and places between them, lies at the distance
    within 1e-9: the accuracy of the whole engine.
    """
    answer = grow(profile, reach_in) if grows else erode(profile, reach_in)
    for loop in answer.loops:
        parts = loop.points(loop.length_in / 1e4)
        assert distances(profile, parts).distance_in == pytest.approx(reach_in, abs=TOL_IN)
    answer.checked()
    region = as_polygon(profile)
    rng = np.random.default_rng(seed)
    at = rng.uniform(0.0, region.boundary.length, 80)
    away = rng.normal(size=(80, 2))
    away *= (reach_in + rng.choice([-1e-3, 1e-3, 1e-4, -1e-4], (80, 1))) / np.linalg.norm(away, axis=1)[
        :, None
    ]
    beside = shapely.get_coordinates(shapely.line_interpolate_point(region.boundary, at)) + away
    points = np.vstack([scattered(profile, count=80, margin_in=reach_in, seed=seed), beside])
    depth = shapely.distance(region.boundary, shapely.points(points))
    inside = shapely.contains_xy(region, points)
    wanted = inside | (depth < reach_in) if grows else inside & (depth > reach_in)
    clear = np.abs(depth - reach_in) > 2 * CHORD_ERROR_IN
    assert (answer.contains(points) == wanted)[clear].all()


@pytest.mark.property
@settings(max_examples=100, deadline=None)
@given(profiles(), reaches, st.booleans())
def test_the_area_agrees_with_a_union_of_stadiums(profile, reach_in, grows):
    """Tolerance: chord error along both edges; the stadiums' round ends are 64 chords a quarter."""
    chord_error_in = 2e-4
    region = as_polygon(profile, chord_error_in)
    bits = []
    for polygonal in shapely.get_parts(region):
        for ring in (polygonal.exterior, *polygonal.interiors):
            ends = shapely.get_coordinates(ring)
            bits.append(shapely.linestrings(np.stack([ends[:-1], ends[1:]], axis=1)))
    band = shapely.union_all(shapely.buffer(np.concatenate(bits), reach_in, quad_segs=64))
    theirs = region.union(band) if grows else region.difference(band)
    answer = grow(profile, reach_in) if grows else erode(profile, reach_in)
    ours = as_polygon(answer, chord_error_in)
    edge_in = region.length + theirs.length + ours.length
    assert ours.symmetric_difference(theirs).area < 2 * chord_error_in * edge_in + 1e-6


@pytest.mark.property
@settings(max_examples=200, deadline=None)
@given(profiles(), reaches, reaches)
def test_growing_twice_is_growing_once_by_both(profile, first_in, second_in):
    once, twice = grow(profile, first_in + second_in), grow(grow(profile, first_in), second_in)
    assert twice.area_sq_in == pytest.approx(once.area_sq_in, abs=1e-7)


@pytest.mark.property
@settings(max_examples=200, deadline=None)
@given(profiles(), reaches)
def test_opening_takes_off_and_closing_fills_up(profile, reach_in):
    """Grow after erode lies in the profile, erode after grow holds it; and doing either twice changes nothing."""
    opened = grow(erode(profile, reach_in), reach_in)
    closed = erode(grow(profile, reach_in), reach_in)
    assert opened.area_sq_in <= profile.area_sq_in + 1e-8
    assert closed.area_sq_in >= profile.area_sq_in - 1e-8
    again = erode(grow(closed, reach_in), reach_in)
    assert again.area_sq_in == pytest.approx(closed.area_sq_in, abs=1e-7)


def test_what_was_offset_once_is_not_offset_again():
    """Both sides of a job have the same outlines, and so has the job with another box changed."""
    assert offset(rectangle(10.0, 6.0, 1.0), 0.3125) is offset(rectangle(10.0, 6.0, 1.0), 0.3125)
    assert offset(rectangle(10.0, 6.0, 1.0), 0.3125) is not offset(rectangle(10.0, 6.0, 1.0), -0.3125)
