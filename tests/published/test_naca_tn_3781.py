"""Shear buckling of flat plates, against published coefficients.

Source: NACA Technical Note 3781 (Gerard and Becker, 1957) and Timoshenko and Gere, Theory of Elastic
Stability, art. 9.7: a simply supported square in shear has Ks = 9.34, the endless plate 5.34; the closed form
5.34 + 4 (b/a)^2 lies within 3.5 percent of the exact values between. In compression a simply supported plate
has 4.00 at every whole ratio of sides.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.fem.whole_plate import WholePlate
from hatchwright.strength.panel_buckling import shear_buckling
from hatchwright.tables.allowables import allowables
from hatchwright.tables.materials import sheet
from hatchwright.tables.strength_values import shear_buckling_coefficient

CLAD = allowables(sheet("2024", "T3", True), thickness_in=0.032)


def test_square_plate_in_shear() -> None:
    """9.34 is printed with three figures and is known to be high by 0.17 percent."""
    assert shear_buckling_coefficient(side_ratio=1.0).value == pytest.approx(9.34, rel=2e-3)


@pytest.mark.parametrize("side_ratio", [1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 10.0, 50.0])
def test_the_closed_form_is_near(side_ratio: float) -> None:
    closed = 5.34 + 4.0 / side_ratio**2
    assert shear_buckling_coefficient(side_ratio=side_ratio).value == pytest.approx(closed, rel=0.035)


def test_a_panel_of_six_by_nine() -> None:
    """By the closed form, E 10.5e6: Ks 7.118, 1962 psi; here with Ec 10.7e6 and the exact 7.07."""
    found = shear_buckling(CLAD, thickness_in=0.032, sides_in=(9.0, 6.0))
    assert found.value == pytest.approx(1962 * 10.7 / 10.5 * 7.07 / 7.118, rel=2e-3)


@pytest.mark.parametrize(
    ("length_in", "coefficient"), [(1, 4.0), (2, 4.0), (3, 4.0), (math.sqrt(2), 4.5), (0.5, 6.25)]
)
def test_compression(length_in: float, coefficient: float) -> None:
    """On the side across the load; the waves that the plate takes are among those of the sum, so that it is exact."""
    factor, change = WholePlate((length_in, 1.0), 1.0).factor(np.array([-1.0, 0.0, 0.0]))
    assert factor / math.pi**2 == pytest.approx(coefficient, rel=1e-12)
    assert change == pytest.approx(0.0, abs=1e-9)
