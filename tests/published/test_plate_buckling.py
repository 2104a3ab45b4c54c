"""Buckling of plates against exact solutions and independent computations.

Sources: simply supported square in compression, exact double sine, k = 4; the other factors were computed independently
with fifth-order triangles (Argyris, converged; 14.64 and 10.07 for clamped edges), see docs/theory/fem.md, section 7.
Textbooks print 9.34 and 14.71 in shear (from memory, unverified). k is the load times b^2 / (pi^2 D).

Tolerance 0.005: what the last refinement of the grid still changes; 0.01 with a hole, by which the two independent
computations differ.
"""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.fem.analysis import analyze
from hatchwright.fem.buckling import State, panel
from hatchwright.fem.model import OpeningModel, Sheet
from hatchwright.shapes.outlines import circle, rounded_rectangle

B, THICKNESS, MODULUS, NU = 10.0, 0.1, 1e7, 0.3
PER_K = np.pi**2 / B**2 * MODULUS * THICKNESS**3 / 12 / (1 - NU**2)


def plate(*, a=B, hole=1.0):
    edge = rounded_rectangle(width_in=a, height_in=B, radius_in=0.0)
    return analyze(OpeningModel(Sheet("skin", edge, circle(diameter_in=hole), THICKNESS, MODULUS, NU)))


@pytest.mark.parametrize(
    ("load", "clamped", "k"),
    [
        ({"nx_lbf_in": -1.0}, False, 4.0),
        ({"q_lbf_in": 1.0}, False, 9.3245),
        ({"nx_lbf_in": -1.0}, True, 10.07),
        ({"q_lbf_in": 1.0}, True, 14.64),
    ],
)
def test_square_plate(load, clamped, k):
    found = panel(plate(), State.AS_IT_WAS, clamped=clamped).buckle(**load)
    assert found.factor / PER_K == pytest.approx(k, rel=0.005)
    assert abs(found.factor / PER_K / k - 1) < found.grid_error_ratio + 1e-3


@pytest.mark.parametrize(("ratio", "k"), [(2.0, 6.546), (4.0, 5.6245), (8.0, 5.4146), (12.0, 5.3726)])
def test_long_plate_in_shear(ratio, k):
    found = panel(plate(a=ratio * B), State.AS_IT_WAS).buckle(q_lbf_in=1.0)
    assert found.factor / PER_K == pytest.approx(k, rel=0.005)


@pytest.mark.parametrize(("ratio", "k"), [(0.1, 8.55), (0.3, 5.46), (0.5, 3.04)])
def test_square_plate_with_a_hole_in_shear(ratio, k):
    """Independent computations: 8.55, 5.46, 3.04 (Argyris) and 8.53, 5.45, 3.02 (CalculiX 2.20, S8R shells)."""
    found = panel(plate(hole=ratio * B), State.CUT).buckle(q_lbf_in=1.0)
    assert found.factor / PER_K == pytest.approx(k, rel=0.01)
