"""Loops and profiles against closed forms of elementary geometry, and against a polygon library.

Bulge as in the drawing exchange format DXF, group code 42: the tangent of a quarter of the included angle, negative
for a clockwise arc.
"""

from __future__ import annotations

import math
import pickle

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchwright.errors import GeometryError
from hatchwright.shapes.outlines import circle, polygon, rounded_rectangle
from hatchwright.shapes.profile import Arc, Line, Loop, Profile, profile_of
from shapes.drawn import CHORD_ERROR_IN, as_polygon, profiles, scattered

TOL_IN = 1e-12
MIRROR = np.array([[-1.0, 0.0], [0.0, 1.0]])
L_SHAPE = polygon([(0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4)], [0.2, 0.2, 0.2, 0.5, 0.2, 0.0])


def test_area_and_length_of_a_rounded_rectangle():
    """Area W H - (4 - pi) r^2, length 2 (W + H) - (8 - 2 pi) r."""
    loop = rounded_rectangle(width_in=10.0, height_in=6.0, radius_in=1.0)
    assert loop.area_sq_in == pytest.approx(60.0 - (4.0 - math.pi), abs=TOL_IN)
    assert loop.length_in == pytest.approx(32.0 - (8.0 - 2.0 * math.pi), abs=TOL_IN)


def test_bounds_reach_the_top_of_an_arc_between_its_ends():
    """A half circle from (1, 0) to (-1, 0) over (0, 1): its ends alone would give no height."""
    assert Loop(np.array([[1.0, 0.0, 1.0], [-1.0, 0.0, 0.0]])).bounds == pytest.approx(
        (-1, 0, 1, 1), abs=TOL_IN
    )


def test_reversing_turns_the_area_round_and_keeps_the_curve():
    backwards = L_SHAPE.reversed()
    assert backwards.area_sq_in == pytest.approx(-L_SHAPE.area_sq_in, abs=TOL_IN)
    assert backwards.length_in == pytest.approx(L_SHAPE.length_in, abs=TOL_IN)
    assert backwards.reversed() == L_SHAPE
    assert hash(backwards.reversed()) == hash(L_SHAPE)


def test_a_mirrored_loop_still_has_its_region_on_the_left():
    mirrored = L_SHAPE.transformed(MIRROR, (1.0, 0.0))
    assert mirrored.area_sq_in == pytest.approx(L_SHAPE.area_sq_in, abs=TOL_IN)
    assert mirrored.bounds == pytest.approx((-3.0, 0.0, 1.0, 4.0), abs=TOL_IN)
    assert mirrored.rows[:, 2].min() < 0.0 < mirrored.rows[:, 2].max()  # fillets stay fillets


def test_a_turned_loop_turns_every_point():
    """A quarter turn takes (x, y) to (-y, x)."""
    turned = L_SHAPE.transformed([[0.0, -1.0], [1.0, 0.0]])
    before = L_SHAPE.rows[:, :2]
    assert turned.rows[:, :2] == pytest.approx(np.column_stack([-before[:, 1], before[:, 0]]), abs=TOL_IN)
    assert turned.rows[:, 2] == pytest.approx(L_SHAPE.rows[:, 2], abs=0.0)


def test_stretching_is_refused():
    with pytest.raises(GeometryError, match="moved, rotated or mirrored"):
        L_SHAPE.transformed([[1.01, 0.0], [0.0, 1.0]])


def test_pieces_of_a_slot():
    slot = Loop(np.array([[-1.0, -0.5, 0.0], [1.0, -0.5, 1.0], [1.0, 0.5, 0.0], [-1.0, 0.5, 1.0]]))
    first, second, *_ = slot.pieces()
    assert first == Line((-1.0, -0.5), (1.0, -0.5))
    assert isinstance(second, Arc)
    assert (second.start, second.end, second.center) == ((1.0, -0.5), (1.0, 0.5), (1.0, 0.0))
    assert (second.radius_in, second.sweep_rad) == pytest.approx((0.5, math.pi), abs=TOL_IN)
    assert slot.working_form().radius == pytest.approx(np.array([0.0, 0.5, 0.0, 0.5]))


def test_points_keep_the_chord_error():
    """Every arc of radius r that spans an angle a between points rises r (1 - cos(a/2)) over its chord."""
    points = circle(diameter_in=4.0).points(0.001)
    assert np.hypot(*points.T) == pytest.approx(2.0, abs=TOL_IN)
    rise_in = 2.0 * (1.0 - np.cos(np.pi / len(points)))
    assert 0.0005 < rise_in <= 0.001


def test_cleaning_joins_what_is_one_line_or_one_circle():
    square = Loop(np.array([[1, 0, 0], [2, 0, 0], [2, 2, 0], [1, 2, 0], [0, 2, 0], [0, 0, 0]], dtype=float))
    assert square.cleaned().rows.tolist() == [[2, 0, 0], [2, 2, 0], [0, 2, 0], [0, 0, 0]]
    angles = np.arange(8) * np.pi / 4
    ring = Loop(np.column_stack([np.cos(angles), np.sin(angles), np.full(8, math.tan(np.pi / 16))]))
    assert ring.cleaned().rows == pytest.approx(np.array([[1, 0, 1], [-1, 0, 1]]), abs=TOL_IN)


def test_cleaning_does_not_straighten_a_finely_drawn_circle():
    """Each vertex of this polygon lies within 1e-9 of its neighbors' chord, but all together are no line."""
    angles = np.arange(20_000) * 2.0 * np.pi / 20_000
    ring = Loop(0.02 * np.column_stack([np.cos(angles), np.sin(angles), np.zeros(20_000)])).cleaned()
    assert ring.area_sq_in == pytest.approx(math.pi * 0.0004, abs=1e-9 * ring.length_in)
    assert 1_000 < len(ring.rows) < 20_000


@pytest.mark.parametrize(
    ("rows", "what", "place"),
    [
        ([[0, 0, 0], [1, 0, 0], [1, 0, 0], [0, 1, 0]], "no length", (1.0, 0.0)),
        ([[0, 0, 0], [1, 0, 1.5], [0, 1, 0]], "half circle", (1.0, 0.0)),
        ([[0, 0, 0], [9, 0, 1e-5], [0, 9, 0]], "radius over", (9.0, 0.0)),
        ([[0, 0, 0], [1, np.nan, 0], [0, 1, 0]], "finite", None),
        ([[0, 0, 0]], "at least two rows", None),
    ],
)
def test_bad_rows_are_refused_at_their_place(rows, what, place):
    with pytest.raises(GeometryError, match=what) as refusal:
        Loop(np.array(rows, dtype=float))
    assert refusal.value.place == place


def test_rows_cannot_be_changed_and_survive_a_copy():
    loop = rounded_rectangle(width_in=2.0, height_in=1.0, radius_in=0.25)
    with pytest.raises(ValueError, match="read-only"):
        loop.rows[0, 0] = 9.0
    assert pickle.loads(pickle.dumps(loop)) == loop


def test_loops_drawn_either_way_become_outlines_and_holes():
    plate, hole = rounded_rectangle(width_in=6.0, height_in=4.0, radius_in=0.5), circle(diameter_in=1.0)
    island = circle(diameter_in=0.5)
    profile = profile_of(plate.reversed(), hole, island.reversed())
    assert [loop.area_sq_in > 0.0 for loop in profile.loops] == [True, False, True]
    assert profile.area_sq_in == pytest.approx(plate.area_sq_in - math.pi / 4 + math.pi / 16, abs=TOL_IN)
    assert profile.contains([(0.0, 0.0), (0.4, 0.0), (0.6, 0.0), (3.5, 0.0)]).tolist() == [
        True,
        False,
        True,
        False,
    ]


def test_nothing_is_a_profile_too():
    assert Profile().is_empty
    assert Profile().area_sq_in == 0.0
    assert not Profile().contains([(0.0, 0.0)]).any()
    with pytest.raises(GeometryError, match="no bounds"):
        _ = Profile().bounds


def test_the_center_of_a_half_disk_is_at_four_thirds_of_its_radius_over_pi():
    """Closed form; the same run the other way round."""
    half_disk = Loop(np.array([(8.0, 2.0, 1.0), (2.0, 2.0, 0.0)]))
    for loop in (half_disk, half_disk.reversed()):
        assert loop.center_of_area == pytest.approx((5.0, 2.0 + 4.0 * 3.0 / (3.0 * math.pi)), abs=TOL_IN)


@pytest.mark.property
@settings(max_examples=300, deadline=None)
@given(profiles(), st.integers(0, 1000))
def test_area_and_inside_agree_with_a_polygon_library(profile, seed):
    """Tolerance: the polygons leave out caps of at most the chord error along the whole edge."""
    region = as_polygon(profile)
    edge_in = sum(loop.length_in for loop in profile.loops)
    assert profile.area_sq_in == pytest.approx(region.area, abs=edge_in * CHORD_ERROR_IN + 1e-9)
    moments = sum(np.multiply(loop.area_sq_in, loop.center_of_area) for loop in profile.loops)
    reach_in = max(map(abs, profile.bounds))
    by_polygons = np.multiply(region.area, region.centroid.coords[0])
    assert moments == pytest.approx(by_polygons, abs=2 * edge_in * CHORD_ERROR_IN * reach_in + 1e-9)
    points = scattered(profile, count=200, margin_in=0.5, seed=seed)
    clear = shapely.distance(region.boundary, shapely.points(points)) > 2 * CHORD_ERROR_IN
    inside = shapely.contains_xy(region, points)
    assert (profile.contains(points) == inside)[clear].all()


@pytest.mark.property
@settings(max_examples=200, deadline=None)
@given(profiles(), st.floats(-math.pi, math.pi), st.booleans())
def test_moving_keeps_area_length_and_what_lies_inside(profile, turn_rad, mirrored):
    turn = np.array([[math.cos(turn_rad), -math.sin(turn_rad)], [math.sin(turn_rad), math.cos(turn_rad)]])
    matrix = turn @ MIRROR if mirrored else turn
    moved = profile.transformed(matrix, (1.0, -2.0)).checked()
    assert moved.area_sq_in == pytest.approx(profile.area_sq_in, abs=1e-9)
    points = scattered(profile, count=100, margin_in=0.5, seed=0)
    clear = shapely.distance(as_polygon(profile).boundary, shapely.points(points)) > 2 * CHORD_ERROR_IN
    same = moved.contains(points @ matrix.T + (1.0, -2.0)) == profile.contains(points)
    assert same[clear].all()
