"""The circle that lies nearest to measured points, square to itself.

Method: docs/theory/registration.md, eq. 15 and 16.   Source: [GANDER-1994].
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.metrology.real_offset import Floats

_MOST_STEPS = 200
_SETTLED = 1e-12
"""A step that is a smaller part of the radius is none [-]."""

_DAMPED = 1e-3
"""Damping to begin with, as a part of the diagonal; it is divided or multiplied by ten at each step [-]."""

_IN_LINE = 1e-10
"""Points whose second spread is a smaller part of the first lie in a line [-]."""

_FARTHEST = 1e4
"""A radius that is so many times the spread of the points is that of a line [-]."""


class Circle(Struct, frozen=True):
    """A fitted circle.

    Args:
        center_in: (x, y) [in].
    """

    center_in: tuple[float, float]
    radius_in: float


_UNKNOWNS = 3


def fitted_circle(points_in: Floats) -> Circle:
    """Fit a circle by the least sum of squared distances from it.

    Args:
        points_in: shape (n, 2) [in].
    Raises:
        GeometryError: too few points, points in one line, or none that the search comes to.
    Method: docs/theory/registration.md, eq. 15 and 16, damped least squares from the linear fit.
    """
    if len(points_in) < _UNKNOWNS:
        raise GeometryError.saying("fit.few_points", n=len(points_in), least=_UNKNOWNS)
    middle = points_in.mean(axis=0)
    apart = points_in - middle
    spread = np.linalg.svd(apart, compute_uv=False)
    if spread[1] <= _IN_LINE * spread[0]:
        raise GeometryError.saying("fit.in_line")
    size = float(spread[0]) / math.sqrt(len(points_in))
    try:
        x = _settled(apart / size)
    except np.linalg.LinAlgError:
        raise GeometryError.saying("fit.no_circle") from None
    return Circle((float(middle[0] + size * x[0]), float(middle[1] + size * x[1])), float(size * x[2]))


def _settled(points: Floats) -> Floats:
    """Center and radius where the sum of squares is least, shape (3,)."""
    x = _linear(points)
    damping = _DAMPED
    residual, slopes = _slopes(points, x)
    for _ in range(_MOST_STEPS):
        matrix = slopes.T @ slopes
        step = np.linalg.solve(matrix + damping * np.diag(np.diag(matrix)), slopes.T @ residual)
        tried = x + step
        its_residual, its_slopes = _slopes(points, tried)
        if its_residual @ its_residual <= residual @ residual:
            x, residual, slopes, damping = tried, its_residual, its_slopes, damping / 10.0
        else:
            damping *= 10.0
        if x[2] > _FARTHEST:
            break
        if np.linalg.norm(step) <= _SETTLED * x[2]:
            return x
    raise GeometryError.saying("fit.no_circle")


def _linear(points: Floats) -> Floats:
    """Center and radius by the linear fit of x^2 + y^2, from which the search sets out, shape (3,)."""
    matrix = np.column_stack([2.0 * points, np.ones(len(points))])
    x, y, rest = np.linalg.lstsq(matrix, (points**2).sum(axis=1), rcond=None)[0]
    return np.array([x, y, math.sqrt(max(rest + x * x + y * y, 0.0))])


def _slopes(points: Floats, x: Floats) -> tuple[Floats, Floats]:
    """Residuals, shape (n,), and how much an unknown changes the fitted distance of each point, shape (n, 3)."""
    out = points - x[:2]
    far = np.maximum(np.hypot(*out.T), np.finfo(float).tiny)
    return far - x[2], np.column_stack([out / far[:, None], np.ones(len(points))])
