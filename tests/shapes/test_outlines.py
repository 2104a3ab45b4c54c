"""Outlines against closed forms of elementary geometry."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.errors import GeometryError
from hatchwright.shapes.outlines import circle, d_shape, obround, polygon, rounded_rectangle
from hatchwright.shapes.profile import Profile

TOL_IN = 1e-12


@pytest.mark.parametrize("radius_in", [0.0, 0.25, 1.0, 3.0])
def test_rounded_rectangle(radius_in):
    loop = rounded_rectangle(width_in=10.0, height_in=6.0, radius_in=radius_in, center=(1.0, 2.0))
    assert loop.area_sq_in == pytest.approx(60.0 - (4.0 - math.pi) * radius_in**2, abs=TOL_IN)
    assert loop.bounds == pytest.approx((-4.0, -1.0, 6.0, 5.0), abs=TOL_IN)


def test_a_rectangle_rounded_to_the_full_is_an_obround_or_a_circle():
    slot = rounded_rectangle(width_in=4.0, height_in=2.0, radius_in=1.0)
    assert len(slot.rows) == 4
    assert slot.area_sq_in == pytest.approx(4.0 + math.pi, abs=TOL_IN)
    assert len(rounded_rectangle(width_in=2.0, height_in=2.0, radius_in=1.0).rows) == 2


def test_circle():
    loop = circle(diameter_in=3.0, center=(1.0, -1.0))
    assert loop.area_sq_in == pytest.approx(math.pi * 2.25, abs=TOL_IN)
    assert loop.bounds == pytest.approx((-0.5, -2.5, 2.5, 0.5), abs=TOL_IN)


def test_obround_at_an_angle():
    """The ends of a slot of length 4 and width 1 at 30 deg are circles of .5 at 1.5 (cos 30, sin 30)."""
    loop = obround(length_in=4.0, width_in=1.0, center=(0.0, 0.0), angle_deg=30.0)
    assert loop.area_sq_in == pytest.approx(3.0 + math.pi / 4, abs=TOL_IN)
    reach = (1.5 * math.cos(math.pi / 6) + 0.5, 1.5 * 0.5 + 0.5)
    assert loop.bounds == pytest.approx((-reach[0], -reach[1], *reach), abs=TOL_IN)
    assert len(obround(length_in=1.0, width_in=1.0).rows) == 2


def test_d_shape():
    """Half circle pi h^2/8 beside a rectangle (w - h/2) h that loses (1 - pi/4) r^2 at two corners."""
    loop = d_shape(width_in=6.0, height_in=4.0, radius_in=0.5, center=(3.0, 0.0))
    expected = math.pi * 16 / 8 + 4.0 * 4.0 - 2 * (1.0 - math.pi / 4) * 0.25
    assert loop.area_sq_in == pytest.approx(expected, abs=TOL_IN)
    assert loop.bounds == pytest.approx((0.0, -2.0, 6.0, 2.0), abs=TOL_IN)
    assert sorted(set(np.round(loop.working_form().radius, 12))) == [0.0, 0.5, 2.0]


def test_polygon_with_an_inside_and_a_reentrant_fillet():
    """An L of 12 sq in: five inside fillets take (1 - pi/4) r^2 each, the re-entrant one adds it."""
    points = [(0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4)]
    radii = [0.2, 0.2, 0.2, 0.5, 0.2, 0.2]
    loop = polygon(points, radii)
    corner = 1.0 - math.pi / 4
    expected = 12.0 - 5 * corner * 0.04 + corner * 0.25
    assert loop.area_sq_in == pytest.approx(expected, abs=TOL_IN)
    clockwise = polygon(points[::-1], radii[::-1])
    assert clockwise.area_sq_in == pytest.approx(expected, abs=TOL_IN)


def test_a_fillet_touches_both_sides():
    """In a corner of angle t the fillet's center lies r / sin(t/2) from the vertex, on the bisector."""
    height = 3.0 * math.sqrt(3.0)
    loop = polygon([(0.0, 0.0), (6.0, 0.0), (3.0, height)], [0.5, 0.0, 0.0])
    arc = next(piece for piece in loop.pieces() if hasattr(piece, "center"))
    assert arc.center == pytest.approx((math.cos(math.pi / 6), 0.5), abs=TOL_IN)
    assert arc.radius_in == pytest.approx(0.5, abs=TOL_IN)


def test_a_polygon_goes_straight_on_at_a_flat_corner():
    loop = polygon([(0, 0), (1, 0), (2, 0), (2, 2), (0, 2)], [0, 0.5, 0, 0, 0])
    assert loop.area_sq_in == pytest.approx(4.0, abs=TOL_IN)
    assert len(loop.rows) == 4


@pytest.mark.parametrize(
    ("build", "where", "what"),
    [
        (
            lambda: rounded_rectangle(width_in=0.0, height_in=1.0, radius_in=0.0),
            "width_in",
            ".000 in is not a size",
        ),
        (lambda: rounded_rectangle(width_in=4.0, height_in=2.0, radius_in=1.1), "radius_in", "doesn't fit"),
        (
            lambda: rounded_rectangle(width_in=4.0, height_in=2.0, radius_in=-0.1),
            "radius_in",
            "-.100 in is not a radius",
        ),
        (lambda: rounded_rectangle(width_in=math.inf, height_in=2.0, radius_in=0.1), "width_in", "inf"),
        (lambda: rounded_rectangle(width_in=math.nan, height_in=2.0, radius_in=0.1), "width_in", "nan"),
        (lambda: circle(diameter_in=-1.0), "diameter_in", "-1"),
        (lambda: obround(length_in=1.0, width_in=2.0), "length_in", "can't be 2.000 in wide"),
        (lambda: d_shape(width_in=2.0, height_in=4.0, radius_in=0.5), "width_in", "2.500 in or more"),
        (lambda: d_shape(width_in=6.0, height_in=4.0, radius_in=2.5), "radius_in", "2.000 in or less"),
        (lambda: polygon([(0, 0), (1, 0)]), "points", "at least three corners"),
        (lambda: polygon([(0, 0), (1, 0), (0, 1)], [0.1]), "radii", "corners: 3, radii: 1"),
    ],
)
def test_sizes_that_cannot_be_are_refused_by_name(build, where, what):
    with pytest.raises(GeometryError, match=what) as refusal:
        build()
    assert refusal.value.where == where


@pytest.mark.parametrize(
    ("points", "radii", "what", "place"),
    [
        ([(0, 0), (4, 0), (4, 2), (0, 2)], [0.5, 0.5, 0.5, 1.6], "corner 4 has a fillet", (0.0, 2.0)),
        ([(0, 2), (4, 2), (4, 0), (0, 0)], [1.6, 0.5, 0.5, 0.5], "corner 1 has a fillet", (0.0, 2.0)),
        ([(0, 0), (4, 0), (4, 0), (0, 2)], 0.0, "corner [23] repeats", (4.0, 0.0)),
        ([(0, 0), (4, 0), (2, 0), (2, 2)], 0.0, "corner 2 turns straight back", (4.0, 0.0)),
    ],
)
def test_a_bad_corner_is_named(points, radii, what, place):
    with pytest.raises(GeometryError, match=what) as refusal:
        polygon(points, radii)
    assert refusal.value.place == pytest.approx(place, abs=TOL_IN)


def test_every_outline_is_sound():
    for loop in (
        rounded_rectangle(width_in=2.0, height_in=1.0, radius_in=0.5),
        circle(diameter_in=1.0),
        obround(length_in=3.0, width_in=1.0, angle_deg=77.0),
        d_shape(width_in=2.5, height_in=4.0, radius_in=0.5),
        d_shape(width_in=2.0, height_in=4.0, radius_in=0.0),
    ):
        assert Profile((loop,)).checked().area_sq_in > 0.0
