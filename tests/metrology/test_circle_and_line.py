"""Circle and line fits against SciPy. Published examples are in tests/published."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import least_squares

from hatchwright.errors import GeometryError
from hatchwright.metrology.circle import fitted_circle
from hatchwright.metrology.line import fitted_line


def arc(count, sweep_rad, radius=0.5, center=(3.0, -2.0)):
    angle = np.linspace(0.0, sweep_rad, count)
    return np.array(center) + radius * np.column_stack([np.cos(angle), np.sin(angle)])


@pytest.mark.parametrize("sweep_rad", [0.3, 1.5, 6.0])
def test_circle_is_that_of_an_independent_search(sweep_rad):
    rng = np.random.default_rng(2)
    points = arc(25, sweep_rad) + 0.001 * rng.normal(size=(25, 2))
    searched = least_squares(
        lambda p: np.hypot(*(points - p[:2]).T) - p[2], [3.0, -2.0, 0.5], xtol=1e-15, ftol=1e-15, gtol=1e-15
    )
    fit = fitted_circle(points)
    assert (*fit.center_in, fit.radius_in) == pytest.approx(searched.x, abs=1e-7)


def test_line_that_stands_upright():
    fit = fitted_line(np.array([[1.0, 0.0], [1.0, 2.0], [1.0, 5.0]]))
    assert fit.along == pytest.approx((0.0, 1.0))
    assert fit.middle_in[0] == pytest.approx(1.0)


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
