"""Where grid lines leave the innermost loop."""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.fem.curve import Curve
from hatchwright.fem.stations import stations
from hatchwright.shapes.outlines import circle, rounded_rectangle


def test_a_circle_has_even_stations_in_four_equal_quarters():
    at = stations(Curve.of(circle(diameter_in=2)), per_quarter=6, cap_in=np.inf, fan_in=0.0)
    assert len(at) == 2 * 24
    assert np.diff(at) == pytest.approx(2 * np.pi / 48)


def test_corner_arcs_start_and_end_on_grid_lines():
    curve = Curve.of(rounded_rectangle(width_in=5, height_in=4, radius_in=0.75))
    at = stations(curve, per_quarter=8, cap_in=np.inf, fan_in=0.0)
    joints = np.cumsum(curve.length)[:-1]
    assert np.abs(at[::2][:, None] - joints).min(axis=0) == pytest.approx(0, abs=1e-12)
    piece = np.searchsorted(np.cumsum(curve.length), at[1::2] % curve.length.sum())
    assert (np.bincount(piece)[curve.sweep > 0] >= 8).all()


def test_neighbors_differ_by_little_and_none_is_longer_than_the_cap():
    curve = Curve.of(rounded_rectangle(width_in=8, height_in=4, radius_in=0.2))
    element = np.diff(stations(curve, per_quarter=8, cap_in=0.5, fan_in=0.0)[::2])
    assert element.max() <= 0.5 * 1.05
    assert (element[1:] / element[:-1]).max() < 1.5


def test_a_cap_on_a_loop_outside_counts_the_fan_of_the_corners():
    curve = Curve.of(circle(diameter_in=2))
    at = stations(curve, per_quarter=6, cap_in=0.3, fan_in=2.0)
    assert 2 * np.pi * 3 / (len(at) / 2) <= 0.3 * 1.05
