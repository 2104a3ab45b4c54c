"""Circle and line fits against simulation and SciPy. Published examples are in tests/published."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import least_squares

from hatchwright.errors import GeometryError
from hatchwright.metrology.circle import fitted_circle
from hatchwright.metrology.line import fitted_line

RUNS = 800
WITHIN = 4.0 / math.sqrt(2.0 * RUNS)
"""Four standard errors of a standard deviation found from so many runs."""


def arc(count, sweep_rad, radius=0.5, center=(3.0, -2.0)):
    angle = np.linspace(0.0, sweep_rad, count)
    return np.array(center) + radius * np.column_stack([np.cos(angle), np.sin(angle)])


@pytest.mark.parametrize("known", [None, 0.5])
def test_circle_scatters_as_told(known):
    rng = np.random.default_rng(1)
    points = arc(40, 1.6)
    fits = [
        fitted_circle(points + 0.0005 * rng.normal(size=points.shape), radius_in=known) for _ in range(RUNS)
    ]
    told = fitted_circle(points, own_in=0.0005, radius_in=known)
    found = np.std([(*fit.center_in, fit.radius_in) for fit in fits], axis=0)
    assert found == pytest.approx((*told.center_standard_in, told.radius_standard_in), rel=WITHIN)


@pytest.mark.parametrize("sweep_rad", [0.3, 1.5, 6.0])
def test_circle_is_that_of_an_independent_search(sweep_rad):
    rng = np.random.default_rng(2)
    points = arc(25, sweep_rad) + 0.001 * rng.normal(size=(25, 2))
    searched = least_squares(
        lambda p: np.hypot(*(points - p[:2]).T) - p[2], [3.0, -2.0, 0.5], xtol=1e-15, ftol=1e-15, gtol=1e-15
    )
    fit = fitted_circle(points)
    assert (*fit.center_in, fit.radius_in) == pytest.approx(searched.x, abs=1e-7)


def test_line_scatters_as_told():
    rng = np.random.default_rng(3)
    points = np.column_stack([np.linspace(0.0, 5.0, 30), np.linspace(1.0, 2.0, 30)])
    fits = [fitted_line(points + 0.001 * rng.normal(size=points.shape)) for _ in range(RUNS)]
    told = fitted_line(points, own_in=0.001)
    turns = [math.atan2(fit.along[1], fit.along[0]) for fit in fits]
    places = [float(told.distances_in(np.array([fit.middle_in]))[0]) for fit in fits]
    assert np.std(turns) == pytest.approx(told.turn_standard_rad, rel=WITHIN)
    assert np.std(places) == pytest.approx(told.place_standard_in, rel=WITHIN)
    ends = [
        float(np.array(fit.middle_in) @ told.square + 3.0 * np.array(fit.along) @ told.square) for fit in fits
    ]
    assert np.std(ends) == pytest.approx(told.standard_at_in(3.0), rel=WITHIN)


def test_line_that_stands_upright():
    fit = fitted_line(np.array([[1.0, 0.0], [1.0, 2.0], [1.0, 5.0]]))
    assert fit.along == pytest.approx((0.0, 1.0))
    assert fit.distances_in(np.array([[0.5, 7.0]])) == pytest.approx([0.5])


@pytest.mark.parametrize(
    ("fit", "points", "said"),
    [
        (fitted_circle, [[0, 0], [1, 0]], "too few"),
        (fitted_circle, [[0, 0], [1, 1], [2, 2], [5, 5]], "one line"),
        (fitted_circle, [[1, 1]] * 4, "one line"),
        (fitted_line, [[0, 0]], "too few"),
        (fitted_line, [[1, 2], [1, 2]], "one place"),
    ],
)
def test_what_cannot_be_fitted_is_refused(fit, points, said):
    with pytest.raises(GeometryError, match=said):
        fit(np.array(points, dtype=float))
