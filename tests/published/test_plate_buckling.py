"""Buckling of plates against exact solutions and independent computations.

Sources: simply supported square in compression, exact double sine, k = 4; the other factors were computed independently
with fifth-order triangles (Argyris, converged; 14.64 and 10.07 for clamped edges), see docs/theory/fem.md, section 7.
Textbooks print 9.34 and 14.71 in shear (from memory, unverified). k is the load times b^2 / (pi^2 D).

Tolerance 0.005 for triangles: what the last refinement of the grid still changes; 5e-4 for double sine waves: the
rounding of what is known; 0.01 with a hole, by which the two independent
computations differ.
"""

from __future__ import annotations

import numpy as np
import pytest

from fem.plates import extrapolated
from hatchwright.fem.analysis import analyze
from hatchwright.fem.buckling import State, panel
from hatchwright.fem.model import OpeningModel, Sheet
from hatchwright.fem.whole_plate import WholePlate
from hatchwright.shapes.outlines import circle, rounded_rectangle

B, THICKNESS, MODULUS, NU = 10.0, 0.1, 1e7, 0.3
SHEAR = np.array([0.0, 0.0, 1.0])
PER_K = np.pi**2 / B**2 * MODULUS * THICKNESS**3 / 12 / (1 - NU**2)


def plate(*, a=B, hole=1.0):
    edge = rounded_rectangle(width_in=a, height_in=B, radius_in=0.0)
    return analyze(OpeningModel(Sheet("skin", edge, circle(diameter_in=hole), THICKNESS, MODULUS, NU)))


@pytest.mark.parametrize(
    ("load", "clamped", "k"),
    [
        ((-1.0, 0.0, 0.0), False, 4.0),
        ((0.0, 0.0, 1.0), False, 9.3245),
        ((-1.0, 0.0, 0.0), True, 10.07),
        ((0.0, 0.0, 1.0), True, 14.64),
    ],
)
def test_square_plate_of_triangles(load, clamped, k):
    assert extrapolated(load, clamped=clamped) == pytest.approx(k, rel=0.005)


@pytest.mark.parametrize(("load", "k"), [((-1.0, 0.0, 0.0), 4.0), ((0.0, 0.0, 1.0), 9.3245)])
def test_square_plate_as_it_was(load, k):
    found = panel(plate(), State.AS_IT_WAS).buckle(np.array(load))
    assert found.factor / PER_K == pytest.approx(k, rel=5e-4)


@pytest.mark.parametrize(("ratio", "k"), [(2.0, 6.546), (4.0, 5.6245), (8.0, 5.4146), (12.0, 5.3726)])
def test_long_plate_in_shear(ratio, k):
    found = panel(plate(a=ratio * B), State.AS_IT_WAS).buckle(SHEAR)
    assert found.factor / PER_K == pytest.approx(k, rel=5e-4)


@pytest.mark.parametrize(
    ("width", "height", "k"), [(4.0, 3.0, 7.474), (5.0, 2.5, 6.547), (9.0, 3.0, 5.842), (11.0, 2.5, 5.589)]
)
def test_cells_of_a_bay_in_shear(width, height, k):
    """Another double sine, of 22 x 22 waves, by the review of strength."""
    factor, _ = WholePlate((width, height), 1.0).factor(SHEAR)
    assert factor * min(width, height) ** 2 / np.pi**2 == pytest.approx(k, rel=6e-4)


@pytest.mark.parametrize(("ratio", "k"), [(0.1, 8.55), (0.3, 5.46), (0.5, 3.04)])
def test_square_plate_with_a_hole_in_shear(ratio, k):
    """Independent computations: 8.55, 5.46, 3.04 (Argyris) and 8.53, 5.45, 3.02 (CalculiX 2.20, S8R shells)."""
    found = panel(plate(hole=ratio * B), State.CUT).buckle(SHEAR)
    assert found.factor / PER_K == pytest.approx(k, rel=0.01)
