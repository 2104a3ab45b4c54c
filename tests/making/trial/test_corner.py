"""Corner radius from diagonals, against points walked round an outline by code of this test."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hatchwright.making.trial.corner import diagonal_in, trial_corner


def farthest_in(width_in: float, height_in: float, radius_in: float) -> float:
    """The farthest two points of opposite corner arcs, walked in steps of a hundredth of a degree."""
    angle = np.linspace(0.0, math.pi / 2.0, 9001)
    x = width_in / 2.0 - radius_in + radius_in * np.cos(angle)
    y = height_in / 2.0 - radius_in + radius_in * np.sin(angle)
    return 2.0 * float(np.hypot(x, y).max())  # the opposite point is its image through the middle


@pytest.mark.parametrize("radius", [0.0, 0.0965, 0.735])
def test_diagonal_is_as_far_as_jaws_go(radius):
    assert diagonal_in(2.970, radius) == pytest.approx(farthest_in(2.970, 2.970, radius), abs=1e-6)


def measured(diagonals, **changed):
    given = {
        "width_in": 2.970,
        "scatter_in": 0.0,
        "widths": 10,
        "gauge_limit_in": 0.001,
        "predicted_in": 0.735,
        "finished_in": farthest_in(3.000, 3.000, 0.750),
    }
    return trial_corner(np.array(diagonals), **(given | changed))


@pytest.mark.parametrize("radius", [0.0, 0.5, 0.735, 0.9])
def test_radius_comes_back(radius):
    found = measured([farthest_in(2.970, 2.970, radius)] * 2)
    assert found.radius_in == pytest.approx(radius, abs=2e-6)
    assert found.beyond.shows == (radius != 0.735)


def test_a_cut_a_little_longer_one_way_gives_nearly_the_same():
    """4 thousandths between X and Y: their mean stands for the width, to a ten thousandth of the radius."""
    found = measured([farthest_in(2.972, 2.968, 0.735)])
    assert found.radius_in == pytest.approx(0.735, abs=1e-4)


def test_uncertainty_by_simulation():
    """Readings that scatter, each size with one error of the caliper of its own: the interval holds 95 of 100."""
    random = np.random.default_rng(5)
    true, trials, held = farthest_in(2.970, 2.970, 0.735), 4000, 0
    for _ in range(trials):
        widths = 2.970 + random.normal(0, 0.0015, 10) + random.uniform(-0.001, 0.001)
        diagonals = true + random.normal(0, 0.0015, 2) + random.uniform(-0.001, 0.001)
        found = measured(diagonals, width_in=widths.mean(), scatter_in=float(np.std(widths, ddof=1)))
        held += abs(found.radius_in - 0.735) <= found.beyond.expanded_in
    assert held / trials == pytest.approx(0.95, abs=0.014)


def test_metal_left_in_the_corner():
    """Concentric corners, .015 to file: .015 along the diagonal too; a corner sharper by .1 has .0414 less."""
    assert measured([farthest_in(2.970, 2.970, 0.735)]).left_in == pytest.approx(0.015, abs=1e-6)
    sharper = measured([farthest_in(2.970, 2.970, 0.635)])
    assert sharper.left_in == pytest.approx(0.015 - 0.1 * (math.sqrt(2.0) - 1.0), abs=1e-6)
