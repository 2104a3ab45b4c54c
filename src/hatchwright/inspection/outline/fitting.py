"""Known shapes fitted to the points of an edge as a whole: rounded rectangle, circle, obround.

Method: docs/theory/scan.md, eq. 5 and 6: exact distances, and a loss under which glints and dust count for little.
"""

from __future__ import annotations

import math
from typing import Any, Literal

import numpy as np
from msgspec import Struct

from hatchwright.metrology.robust import MAD
from hatchwright.shapes.pieces import Floats

ShapeKind = Literal["rounded", "circle", "obround"]

_MOST_POINTS = 3000
"""Points of an edge that a fit takes, evenly spread: neighbors share their errors."""

_LEAST_RADIUS_IN = 1e-4

_NINE_TENTHS = 1.6449
"""Half width of nine tenths of the normal law, in standard deviations [-]. Source: any table of it."""


class Fitted(Struct, frozen=True):
    """A shape fitted to points.

    Args:
        kind: which shape.
        numbers: x, y [in], turn [rad], width, height, radius [in].
        spread_in: of the nine tenths of the points that lie nearest to it, as a standard deviation [in].
    """

    kind: ShapeKind
    numbers: tuple[float, float, float, float, float, float]
    spread_in: float

    def distances(self, points: Floats) -> Floats:
        """How far points (n, 2) lie outside the shape, negative within it [in]."""
        return distances(points, self.numbers)

    def normals(self, points: Floats) -> Floats:
        """Directions away from the shape at points (n, 2), shape (n, 2) [-]."""
        step = 1e-5
        slopes = [
            self.distances(points + shift) - self.distances(points - shift)
            for shift in (np.array((step, 0.0)), np.array((0.0, step)))
        ]
        along = np.column_stack(slopes)
        normals: Floats = along / np.maximum(np.hypot(*along.T), 1e-12)[:, None]
        return normals


def distances(points: Floats, numbers: Any) -> Floats:
    """Signed distance of points (n, 2) to a rounded rectangle x, y, turn, width, height, radius [in], [rad]."""
    x, y, turn, width, height, radius = numbers
    local = _local(points, x, y, turn)
    beyond = np.abs(local) - (0.5 * width - radius, 0.5 * height - radius)
    outside = np.hypot(*np.maximum(beyond, 0.0).T)
    signed: Floats = outside + np.minimum(beyond.max(axis=1), 0.0) - radius
    return signed


def _local(points: Floats, x: float, y: float, turn: float) -> Floats:
    cos, sin = math.cos(turn), math.sin(turn)
    moved = points - (x, y)
    return np.column_stack([moved @ (cos, sin), moved @ (-sin, cos)])


def fit(points: Floats, kind: ShapeKind | Literal["auto"]) -> Fitted:
    """Fit one shape, or of "auto" the plainest that fits about as well as a rounded rectangle does.

    Args:
        points: in the order of the edge, shape (n, 2) [in].
    """
    thin = points[:: max(1, len(points) // _MOST_POINTS)]
    if kind != "auto":
        return _fit(thin, kind)
    general = _fit(thin, "rounded")
    for plain in ("circle", "obround"):
        tried = _fit(thin, plain)
        if tried.spread_in <= 1.25 * general.spread_in + 5e-5:
            return tried
    return general


def _fit(points: Floats, kind: ShapeKind) -> Fitted:
    free = _Free(kind)
    start = _start(points, kind)
    found = start
    for loss in ("soft_l1", "cauchy"):
        left = distances(points, free.whole(found))
        scale = max(2.0 * MAD * float(np.median(np.abs(left - np.median(left)))), 2e-5)
        found = least(lambda trial: distances(points, free.whole(trial)), found, loss=loss, scale=scale)
    numbers = free.whole(found)
    left = distances(points, numbers)
    return Fitted(kind, _tidy(numbers), float(np.percentile(np.abs(left), 90.0)) / _NINE_TENTHS)


class _Free(Struct, frozen=True):
    """Which numbers of a shape are free."""

    kind: ShapeKind

    def whole(self, free: Any) -> tuple[Any, ...]:
        if self.kind == "circle":
            x, y, across = free
            return x, y, 0.0, across, across, 0.5 * across
        if self.kind == "obround":
            return (*free, 0.5 * min(free[3], free[4]))
        x, y, turn, width, height, radius = free
        return x, y, turn, width, height, min(max(radius, _LEAST_RADIUS_IN), 0.5 * min(width, height))


def _start(points: Floats, kind: ShapeKind) -> Floats:
    """From the smallest upright-most box and the area within the points."""
    import cv2

    (x, y), (width, height), turned = cv2.minAreaRect(points.astype(np.float32))
    turn = math.radians(turned)
    quarters = round(turn / (0.5 * math.pi))
    turn -= 0.5 * math.pi * quarters
    if quarters % 2:
        width, height = height, width
    after = np.roll(points, -1, axis=0)
    area = 0.5 * abs(float(np.sum(points[:, 0] * after[:, 1] - after[:, 0] * points[:, 1])))
    corner = math.sqrt(max(width * height - area, 0.0) / (4.0 - math.pi))
    radius = min(max(corner, 0.01), 0.45 * min(width, height))
    if kind == "circle":
        return np.array((x, y, 2.0 * math.sqrt(area / math.pi)))
    return np.array((x, y, turn, width, height) + ((radius,) if kind == "rounded" else ()))


def least(residuals: Any, start: Floats, *, loss: str, scale: float) -> Floats:
    """Robust least squares with exact distances [in]."""
    from scipy.optimize import least_squares

    found = least_squares(
        residuals, start, loss=loss, f_scale=scale, x_scale="jac", method="trf", max_nfev=60
    )
    numbers: Floats = found.x
    return numbers


def _tidy(numbers: tuple[Any, ...]) -> tuple[float, float, float, float, float, float]:
    x, y, turn, width, height, radius = (float(one) for one in numbers)
    quarters = round(turn / (0.5 * math.pi))
    if quarters % 2:
        width, height = height, width
    return x, y, turn - 0.5 * math.pi * quarters, width, height, radius


def corner_radii(points: Floats, fitted: Fitted) -> tuple[float, ...]:
    """The radius of each corner by itself, tangent to the sides of the whole fit, from the corner at +x +y
    counterclockwise [in]; None of them where a corner has no points."""
    x, y, turn, width, height, radius = fitted.numbers
    local = _local(points, x, y, turn)
    radii = []
    for sign in ((1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)):
        corner = local * sign - (0.5 * width, 0.5 * height)
        near = corner[(corner > -1.2 * radius).all(axis=1)]
        if len(near) < 8:
            return ()

        def left(trial: Floats, near: Floats = near) -> Floats:
            inner = np.maximum(near + trial[0], 0.0)
            beyond: Floats = np.hypot(*inner.T) + np.minimum((near + trial[0]).max(axis=1), 0.0) - trial[0]
            return beyond

        scale = max(2.0 * fitted.spread_in, 2e-5)
        radii.append(float(least(left, np.array([radius]), loss="cauchy", scale=scale)[0]))
    return tuple(radii)
