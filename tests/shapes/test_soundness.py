"""Profiles that cross, overlap or run the wrong way round are refused, at the place."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hatchwright.errors import GeometryError
from hatchwright.shapes.offset import grow
from hatchwright.shapes.outlines import circle, polygon, rounded_rectangle
from hatchwright.shapes.profile import Loop, Profile, profile_of


def refused_at(loops: tuple[Loop, ...]) -> tuple[float, float]:
    with pytest.raises(GeometryError, match="crosses or overlaps") as refusal:
        Profile(loops).checked()
    assert refusal.value.place is not None
    return refusal.value.place


def straight(points) -> Loop:
    return Loop(np.column_stack([np.array(points, dtype=float), np.zeros(len(points))]))


def test_a_bow_tie_is_refused_at_its_knot():
    assert refused_at((straight([(0, 0), (2, 2), (2, 0), (0, 2)]),)) == pytest.approx((1.0, 1.0), abs=1e-12)
    with pytest.raises(GeometryError, match="crosses"):
        polygon([(0, 0), (2, 2), (2, 0), (0, 2)])


@pytest.mark.property
@settings(max_examples=300, deadline=None)
@given(
    st.tuples(st.floats(0.1, 5.0), st.floats(0.1, 5.0), st.floats(0.1, 5.0), st.floats(0.1, 5.0)),
    st.floats(0.3, math.pi - 0.3),
    st.floats(-math.pi, math.pi),
)
def test_any_bow_tie_is_refused_at_its_knot(arms, angle_rad, turn_rad):
    """Two straight lines through one point, their four ends joined crosswise: that point is the knot."""
    knot = complex(1.25, -0.5)
    one, two = np.exp(1j * turn_rad), np.exp(1j * (turn_rad + angle_rad))
    ends = [knot - arms[0] * one, knot + arms[1] * one, knot + arms[2] * two, knot - arms[3] * two]
    assert refused_at((straight([(z.real, z.imag) for z in ends]),)) == pytest.approx(
        (knot.real, knot.imag), abs=1e-9
    )


@pytest.mark.property
@settings(max_examples=200, deadline=None)
@given(st.floats(0.2, 3.0), st.floats(0.2, 3.0), st.floats(0.05, 5.9))
def test_crossing_circles_are_refused_where_they_cross(radius, other, apart):
    """The common chord of two circles stands at (d^2 + r^2 - s^2) / 2d from the first center."""
    assume(abs(radius - other) + 0.01 < apart < radius + other - 0.01)
    x, y = refused_at((circle(diameter_in=2 * radius), circle(diameter_in=2 * other, center=(apart, 0.0))))
    chord_at = (apart**2 + radius**2 - other**2) / (2 * apart)
    assert x == pytest.approx(chord_at, abs=1e-9)
    assert abs(y) == pytest.approx(math.sqrt(radius**2 - chord_at**2), abs=1e-7)


def test_a_loop_given_twice_is_refused():
    ring = circle(diameter_in=1.0)
    assert np.hypot(*refused_at((ring, ring))) == pytest.approx(0.5, abs=1e-12)
    with pytest.raises(GeometryError, match="overlaps"):
        profile_of(ring, ring)


def test_a_side_run_twice_is_refused():
    """Two posts on a common foot whose sides between them lie on each other."""
    comb = straight([(0, 0), (4, 0), (4, 1), (3, 1), (3, 0), (1, 0), (1, 1), (0, 1)])
    x, y = refused_at((comb,))
    assert y == pytest.approx(0.0, abs=1e-12)
    assert 1.0 - 1e-12 <= x <= 3.0 + 1e-12


def test_a_loop_the_wrong_way_round_is_refused():
    with pytest.raises(GeometryError, match="wrong way around"):
        Profile((circle(diameter_in=1.0).reversed(),)).checked()


def test_a_hole_that_breaks_the_edge_is_refused():
    """The hole of radius .75 leaves the 1 in high plate at x = +-sqrt(.75^2 - .5^2)."""
    with pytest.raises(GeometryError) as refusal:
        profile_of(rounded_rectangle(width_in=4.0, height_in=1.0, radius_in=0.1), circle(diameter_in=1.5))
    assert np.abs(refusal.value.place) == pytest.approx((math.sqrt(0.3125), 0.5), abs=1e-9)


def test_an_offset_looks_at_its_profile_first():
    with pytest.raises(GeometryError, match="crosses"):
        grow(Profile((straight([(0, 0), (2, 2), (2, 0), (0, 2)]),)), 0.1)


def test_loops_may_touch_in_a_point():
    squares = (
        rounded_rectangle(width_in=2.0, height_in=2.0, radius_in=0.0),
        rounded_rectangle(width_in=2.0, height_in=2.0, radius_in=0.0, center=(2.0, 2.0)),
    )
    assert Profile(squares).checked().area_sq_in == pytest.approx(8.0, abs=1e-12)
