"""Hold of a pinned template, case C21.

Closed form, derived in docs/theory/pins.md: g = sqrt(1/n + |q-c|^2 / sum|p-c|^2); four pins at (+-5.5, +-3.5), worst
edge point (5, 3): sqrt(1/4 + 34/170) = sqrt(.45). Tolerance 1e-8, the printed digits.
"""

from __future__ import annotations

import math

import pytest

from hatchwright.making.pins.pins import hold_ratio


def test_c21_hold_of_four_pins():
    g = hold_ratio([(5.5, 3.5), (-5.5, 3.5), (-5.5, -3.5), (5.5, -3.5)], (5.0, 3.0))
    assert g == pytest.approx(0.670820393, abs=1e-8)
    assert g == pytest.approx(math.sqrt(0.45), abs=1e-12)
