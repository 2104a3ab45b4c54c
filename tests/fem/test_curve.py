"""Closed profiles measured along their length."""

from __future__ import annotations

import numpy as np
import pytest

from fem.outlines import ellipse
from hatchwright.fem.curve import Curve
from hatchwright.shapes.outlines import circle, polygon, rounded_rectangle


def test_a_circle_has_its_length_points_and_normals():
    curve = Curve.of(circle(diameter_in=4.0, center=(1.0, 2.0)))
    assert curve.length.sum() == pytest.approx(4 * np.pi)
    points, normals = curve.at(np.array([0.0, np.pi, 3 * np.pi]))
    assert points == pytest.approx(np.array([[3, 2], [1, 4], [1, 0]]))
    assert normals == pytest.approx(np.array([[1, 0], [0, 1], [0, -1]]), abs=1e-8)


def test_a_hole_drawn_clockwise_is_read_anticlockwise():
    loop = rounded_rectangle(width_in=5, height_in=4, radius_in=0.75)
    points, normals = Curve.of(loop.reversed()).at(np.linspace(0, 10, 40))
    assert ((points * normals).sum(axis=1) > 0).all()


def test_normals_at_a_sharp_corner_point_midway():
    curve = Curve.of(polygon([(0, 0), (2, 0), (2, 1), (0, 1)]))
    assert curve.sharp.all()
    assert curve.at(np.array([2.0]))[1] == pytest.approx(np.sqrt([[0.5, 0.5]]) * [[1, -1]])


def test_an_ellipse_of_arcs_has_no_sharp_corner():
    assert not Curve.of(ellipse(a=3, b=1)).sharp.any()


@pytest.mark.parametrize("angle", np.linspace(0.03, 6.2, 23))
def test_rays_meet_lines_and_arcs_where_they_should(angle):
    """A rounded rectangle is known from its signed distance: nought at the point that the ray meets."""
    curve = Curve.of(rounded_rectangle(width_in=5, height_in=4, radius_in=1.2))
    origin, direction = np.array([[0.3, -0.2]]), np.array([[np.cos(angle), np.sin(angle)]])
    met = (origin + curve.reach(origin, direction)[:, None] * direction)[0]
    inset = np.abs(met) - np.array([2.5, 2.0]) + 1.2
    distance = np.hypot(*np.maximum(inset, 0)) + min(max(inset), 0) - 1.2
    assert distance == pytest.approx(0, abs=1e-12)


def test_a_ray_from_outside_that_misses_is_endless():
    curve = Curve.of(circle(diameter_in=1.0))
    assert curve.reach(np.array([[3.0, 0.0]]), np.array([[0.0, 1.0]])) == np.inf
