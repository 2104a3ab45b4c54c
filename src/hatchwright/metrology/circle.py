"""The circle that lies nearest to measured points, square to itself, with the uncertainty of its center and radius.

Method: docs/theory/registration.md, eq. 15 to 17.   Source: [GANDER-1994].
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
        residuals_in: distance of each point from the center less the radius, shape (n,) [in].
        freedom: degrees of freedom of the fit [-].
        scatter_in: standard deviation of the points about it [in].
        center_standard_in: standard uncertainty of the center along X and Y [in].
        radius_standard_in: of the radius, 0 where it was given [in].
    """

    center_in: tuple[float, float]
    radius_in: float
    residuals_in: Floats
    freedom: int
    scatter_in: float
    center_standard_in: tuple[float, float]
    radius_standard_in: float


def fitted_circle(points_in: Floats, *, own_in: float = 0.0, radius_in: float | None = None) -> Circle:
    """Fit a circle by the least sum of squared distances from it.

    Args:
        points_in: shape (n, 2) [in].
        own_in: standard uncertainty of each point square to the circle; a larger scatter counts instead [in].
        radius_in: of a circle that is known, whose center alone is looked for; None where both are [in].
    Raises:
        GeometryError: too few points, points in one line, or none that the search comes to.
    Method: docs/theory/registration.md, eq. 15 to 17, damped least squares from the linear fit.
    """
    unknowns = 3 if radius_in is None else 2
    if len(points_in) < unknowns:
        raise GeometryError.saying("fit.few_points", n=len(points_in), least=unknowns)
    middle = points_in.mean(axis=0)
    apart = points_in - middle
    spread = np.linalg.svd(apart, compute_uv=False)
    if spread[1] <= _IN_LINE * spread[0]:
        raise GeometryError.saying("fit.in_line")
    size = float(spread[0]) / math.sqrt(len(points_in))
    try:
        x, matrix = _settled(apart / size, None if radius_in is None else radius_in / size)
        inverse = np.linalg.inv(matrix)
    except np.linalg.LinAlgError:
        raise GeometryError.saying("fit.no_circle") from None
    residuals = (np.hypot(*(apart / size - x[:2]).T) - x[2]) * size
    freedom = len(points_in) - unknowns
    scatter = float(np.linalg.norm(residuals)) / math.sqrt(freedom) if freedom else 0.0
    spreads = max(scatter, own_in) * np.sqrt(np.diag(inverse))
    return Circle(
        center_in=(float(middle[0] + size * x[0]), float(middle[1] + size * x[1])),
        radius_in=float(size * x[2]) if radius_in is None else radius_in,
        residuals_in=residuals,
        freedom=freedom,
        scatter_in=scatter,
        center_standard_in=(float(spreads[0]), float(spreads[1])),
        radius_standard_in=float(spreads[2]) if radius_in is None else 0.0,
    )


def _settled(points: Floats, radius: float | None) -> tuple[Floats, Floats]:
    """Center and radius where the sum of squares is least, shape (3,), and the normal matrix there."""
    unknowns = 3 if radius is None else 2
    x = _linear(points)
    if radius is not None:
        x[2] = radius
    damping = _DAMPED
    residual, slopes = _slopes(points, x)
    for _ in range(_MOST_STEPS):
        matrix = slopes[:, :unknowns].T @ slopes[:, :unknowns]
        down = slopes[:, :unknowns].T @ residual
        step = np.zeros(3)
        step[:unknowns] = np.linalg.solve(matrix + damping * np.diag(np.diag(matrix)), down)
        tried = x + step
        its_residual, its_slopes = _slopes(points, tried)
        if its_residual @ its_residual <= residual @ residual:
            x, residual, slopes, damping = tried, its_residual, its_slopes, damping / 10.0
        else:
            damping *= 10.0
        if x[2] > _FARTHEST:
            break
        if np.linalg.norm(step) <= _SETTLED * x[2]:
            return x, slopes[:, :unknowns].T @ slopes[:, :unknowns]
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
