"""Edge distances and close pairs, against closed forms, a polygon library and brute force."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from hatchwright.errors import GeometryError
from hatchwright.shapes.distance import distances, pairs_within
from hatchwright.shapes.outlines import circle, polygon, rounded_rectangle
from hatchwright.shapes.profile import Profile, profile_of
from shapes.drawn import as_polygon, profiles, scattered

TOL_IN = 1e-12
PLATE = profile_of(rounded_rectangle(width_in=10.0, height_in=6.0, radius_in=1.0))


@pytest.mark.parametrize(
    ("point", "distance_in", "foot", "inside"),
    [
        ((0.0, 2.5), 0.5, (0.0, 3.0), True),
        ((6.0, 0.5), 1.0, (5.0, 0.5), False),
        ((4.6, 2.8), 0.0, (4.6, 2.8), None),  # on the arc: .6, .8 from its center (4, 2)
        ((4.3, 2.4), 0.5, (4.6, 2.8), True),
        ((5.2, 3.6), 1.0, (4.6, 2.8), False),
        ((4.0, 2.0), 1.0, None, True),  # the center of a corner: its whole arc is equally near
    ],
)
def test_distance_to_lines_and_corner_arcs(point, distance_in, foot, inside):
    found = distances(PLATE, [point])
    assert found.distance_in[0] == pytest.approx(distance_in, abs=TOL_IN)
    assert np.hypot(*(found.foot[0] - point)) == pytest.approx(distance_in, abs=TOL_IN)
    if foot is not None:
        assert found.foot[0] == pytest.approx(foot, abs=TOL_IN)
    if inside is not None:
        assert found.inside[0] == inside


def test_a_hole_has_an_edge_and_no_inside():
    """Between the circles of radius 2 and 1 a point at radius rho is min(2 - rho, rho - 1) from an edge."""
    ring = profile_of(circle(diameter_in=4.0), circle(diameter_in=2.0))
    rho = np.array([0.0, 0.5, 1.2, 1.9, 2.5])
    angle = np.array([0.3, 1.7, 2.9, 4.1, 5.3])
    found = distances(ring, np.column_stack([rho * np.cos(angle), rho * np.sin(angle)]))
    assert found.distance_in == pytest.approx(np.minimum(np.abs(2.0 - rho), np.abs(rho - 1.0)), abs=TOL_IN)
    assert found.inside.tolist() == [False, False, True, True, False]


def test_nothing_has_no_edge():
    with pytest.raises(GeometryError, match="no edge"):
        distances(Profile(), [(0.0, 0.0)])


def test_no_points_are_no_trouble():
    assert distances(PLATE, np.empty((0, 2))).foot.shape == (0, 2)


@pytest.mark.property
@settings(max_examples=400, deadline=None)
@given(profiles(), st.integers(0, 1000))
def test_distances_agree_with_a_polygon_library(profile, seed):
    """Tolerance: the polygon lies within its chord error of the true edge."""
    chord_error_in = 1e-6
    points = scattered(profile, count=60, margin_in=1.0, seed=seed)
    found = distances(profile, points)
    edge = as_polygon(profile, chord_error_in).boundary
    expected = shapely.distance(edge, shapely.points(points))
    assert found.distance_in == pytest.approx(expected, abs=chord_error_in + 1e-9)
    assert np.hypot(*(found.foot - points).T) == pytest.approx(found.distance_in, abs=1e-11)
    on_edge = shapely.distance(edge, shapely.points(found.foot))
    assert on_edge.max() < chord_error_in + 1e-9


@pytest.mark.property
@settings(max_examples=150, deadline=None)
@given(
    st.one_of(st.integers(0, 60), st.integers(101, 120)),
    st.floats(0.01, 3.0),
    st.integers(0, 1000),
    st.booleans(),
)
def test_close_pairs_agree_with_brute_force(count, limit_in, seed, on_grid):
    """Of few points, compared each with each, and of many, filed in cells."""
    points = np.random.default_rng(seed).uniform(-2.0, 2.0, (count, 2))
    if on_grid:
        points, limit_in = np.round(points * 4) / 4, math.ceil(limit_in * 4) / 4
    i, j, apart = pairs_within(points, limit_in)
    brute = {
        (a, b): between
        for a in range(count)
        for b in range(a + 1, count)
        if (between := math.dist(points[a], points[b])) <= limit_in
    }
    assert list(zip(i.tolist(), j.tolist(), strict=True)) == sorted(brute)
    assert apart == pytest.approx(np.array([brute[pair] for pair in sorted(brute)]), abs=TOL_IN)


def test_a_limit_must_be_a_length():
    with pytest.raises(GeometryError, match="is not a limit"):
        pairs_within([(0.0, 0.0), (1.0, 0.0)], 0.0)


def test_what_a_distance_bends_about():
    """Rounded square of 4 with corners of 1 about (0, 0): the corner arc has its middle at (1, 1); a sharp square has
    its corner itself; beside a side nothing bends. By hand."""
    points = [(1.5, 1.5), (2.5, 2.6), (0.3, 2.4)]
    rounded = distances(profile_of(rounded_rectangle(width_in=4.0, height_in=4.0, radius_in=1.0)), points)
    assert rounded.bends_about[:2] == pytest.approx(np.array([[1.0, 1.0], [1.0, 1.0]]))
    assert np.isnan(rounded.bends_about[2]).all()
    sharp = distances(profile_of(polygon([(-2, -2), (2, -2), (2, 2), (-2, 2)])), points)
    assert sharp.bends_about[1] == pytest.approx(np.array([2.0, 2.0]))
    assert np.isnan(sharp.bends_about[[0, 2]]).all()
