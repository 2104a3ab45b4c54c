"""Hold of a pinned template, case C21.

Closed form, derived in docs/theory/pins.md: g = sqrt(1/n + |q-c|^2 / sum|p-c|^2); four pins at (+-5.5, +-3.5), worst
edge point (5, 3): sqrt(1/4 + 34/170) = sqrt(.45). Tolerance 1e-8, the printed digits.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.making.pins.pins import worst_holds


def test_c21_hold_of_four_pins():
    pins = np.array([5.5 + 3.5j, -5.5 + 3.5j, -5.5 - 3.5j, 5.5 - 3.5j])
    (g,), _ = worst_holds(pins, np.array([5.0 + 3.0j]), np.full((1, 4), True), np.full((1, 1), True))
    assert g == pytest.approx(0.670820393, abs=1e-8)
    assert g == pytest.approx(math.sqrt(0.45), abs=1e-12)
