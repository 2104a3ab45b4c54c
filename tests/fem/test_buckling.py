"""Buckling of plates: interaction, bounds of the doubler, modes, and what has no known supports.

Factors of known plates stand in tests/published/test_plate_buckling.py. k is the load times b^2 / (pi^2 D).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from fem.models import reinforced
from hatchwright.errors import SolveError
from hatchwright.fem.analysis import analyze
from hatchwright.fem.buckling import State, panel
from hatchwright.fem.model import OpeningModel, Sheet, wide_panel
from hatchwright.fem.plate import geometric_matrix, stiffness_matrix, triangulate
from hatchwright.shapes.outlines import circle, polygon, rounded_rectangle

B, THICKNESS, MODULUS, NU = 10.0, 0.1, 1e7, 0.3
PER_K = np.pi**2 / B**2 * MODULUS * THICKNESS**3 / 12 / (1 - NU**2)


def plate(*, a=B, hole=1.0):
    edge = rounded_rectangle(width_in=a, height_in=B, radius_in=0.0)
    return analyze(OpeningModel(Sheet("skin", edge, circle(diameter_in=hole), THICKNESS, MODULUS, NU)))


def test_shear_and_compression_interact_as_a_parabola():
    """Rc + Rs^2 = 1 for a long plate, nearly so for a square. Source: NACA TN 2661 and handbooks; 3 % is its fit."""
    square = panel(plate(), State.AS_IT_WAS)
    both = square.buckle(nx_lbf_in=-2.0, q_lbf_in=4.66).factor / PER_K
    assert 2.0 * both / 4.0 + (4.66 * both / 9.3245) ** 2 == pytest.approx(1.0, abs=0.03)


def test_a_plate_in_tension_does_not_buckle():
    assert panel(plate(), State.AS_IT_WAS).buckle(nx_lbf_in=1.0, ny_lbf_in=0.2).factor == np.inf


def test_the_mode_of_a_square_is_a_half_wave():
    found = panel(plate(), State.AS_IT_WAS).buckle(nx_lbf_in=-1.0)
    x, y = found.mesh.points.T
    assert np.abs(found.mode) == pytest.approx(np.cos(np.pi * x / B) * np.cos(np.pi * y / B), abs=0.02)


def test_a_doubler_stiffens_between_its_two_bounds():
    unit = analyze(reinforced())
    for load in ({"nx_lbf_in": -1.0}, {"q_lbf_in": 1.0}):
        cut, apart, together = (
            panel(unit, state).buckle(**load).factor
            for state in (State.CUT, State.SHEETS_APART, State.SHEETS_TOGETHER)
        )
        assert cut < apart < together


def test_a_doubler_of_its_own_opening_is_a_plate_of_its_own_there():
    for width, height in ((4.0, 2.4), (5.3, 3.7)):
        inner = rounded_rectangle(width_in=width, height_in=height, radius_in=0.9)
        unit = analyze(reinforced(inner=inner))
        assert (
            panel(unit, State.SHEETS_APART).buckle(q_lbf_in=1.0).factor
            > panel(unit, State.CUT).buckle(q_lbf_in=1.0).factor
        )


def test_thicker_by_a_factor_buckles_at_its_cube():
    thin = panel(plate(), State.CUT).buckle(q_lbf_in=1.0).factor
    skin = replace(plate().model.skin, thickness_in=2 * THICKNESS)
    assert panel(analyze(OpeningModel(skin)), State.CUT).buckle(q_lbf_in=1.0).factor == pytest.approx(
        8 * thin
    )


def test_a_wide_panel_has_no_supports_to_buckle_between():
    hole = circle(diameter_in=2.0)
    unit = analyze(OpeningModel(Sheet("skin", wide_panel(hole), hole, 0.04, 1e7)))
    for state in State:
        with pytest.raises(SolveError, match=r"skin.outer: its edge is curved.*Enter the bay"):
            panel(unit, state)


def test_an_uncut_panel_of_five_sides_is_not_known():
    edge = polygon([(-5, -5), (5, -5), (5, 5), (0, 7), (-5, 5)])
    unit = analyze(OpeningModel(Sheet("skin", edge, circle(diameter_in=2.0), 0.04, 1e7)))
    with pytest.raises(SolveError, match=r"skin.outer: it is not four-sided.*Enter the bay"):
        panel(unit, State.AS_IT_WAS)
    assert 0 < panel(unit, State.CUT).buckle(q_lbf_in=1.0).factor < np.inf


def test_plate_matrices_are_exact_for_constant_curvature():
    random = np.random.default_rng(5)
    x, y = np.meshgrid(np.linspace(0, 3, 5), np.linspace(2, 0, 4))
    lattice = np.stack([x, y], axis=-1)
    lattice[1:-1, 1:-1] += random.uniform(-0.15, 0.15, (2, 3, 2))
    mesh = triangulate(lattice, closed=False)
    assert mesh.areas.min() > 0
    assert mesh.areas.sum() == pytest.approx(6.0)
    a, b, c = 0.7, -0.4, 0.3
    px, py = mesh.points.T
    side = mesh.points[mesh.sides[:, 1]] - mesh.points[mesh.sides[:, 0]]
    normal = np.stack([side[:, 1], -side[:, 0]], axis=1) / np.hypot(*side.T)[:, None]
    mx, my = mesh.middles.T
    slope = (2 * a * mx + c * my) * normal[:, 0] + (2 * b * my + c * mx) * normal[:, 1]
    shape = np.concatenate([a * px**2 + b * py**2 + c * px * py, slope])
    bend = np.array([[2.0, 0.6, 0], [0.6, 2.0, 0], [0, 0, 0.7]])
    stiff = stiffness_matrix(mesh, np.broadcast_to(bend, (len(mesh.corners), 3, 3)))
    curvature = np.array([2 * a, 2 * b, 2 * c])
    assert shape @ stiff @ shape == pytest.approx(6.0 * curvature @ bend @ curvature)
    running = np.broadcast_to([1.5, -0.5, 0.8], (len(mesh.corners), 3, 3))
    wanted = _energy(a, b, c)
    assert shape @ geometric_matrix(mesh, running) @ shape == pytest.approx(wanted)


def _energy(a, b, c):
    """Integral of 1.5 wx^2 - 0.5 wy^2 + 1.6 wx wy over 3 x 2, by Gauss points."""
    at, weight = np.polynomial.legendre.leggauss(3)
    x, y = np.meshgrid(1.5 + 1.5 * at, 1 + at)
    wx, wy = 2 * a * x + c * y, 2 * b * y + c * x
    return float((np.outer(weight, weight) * 1.5 * (1.5 * wx**2 - 0.5 * wy**2 + 1.6 * wx * wy)).sum())
