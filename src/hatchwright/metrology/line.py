"""The straight line that lies nearest to measured points, square to itself, with the uncertainty of its place and turn.

Method: docs/theory/registration.md, eq. 18 and 19.   Source: [PEARSON-1901].
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.metrology.real_offset import Floats

_ONE_PLACE = 1e-12
"""Points that spread no farther lie in one place [in]."""


class Line(Struct, frozen=True):
    """A fitted line.

    Args:
        middle_in: mean of the points, on the line (x, y) [in].
        along: its direction, a unit vector with the greater part positive (x, y) [-].
        residuals_in: distance of each point from the line, to the left of its direction positive, shape (n,) [in].
        scatter_in: standard deviation of the points about it [in].
        place_standard_in: standard uncertainty of its middle, square to it [in].
        turn_standard_rad: of its direction [rad].
    """

    middle_in: tuple[float, float]
    along: tuple[float, float]
    residuals_in: Floats
    freedom: int
    scatter_in: float
    place_standard_in: float
    turn_standard_rad: float

    @property
    def square(self) -> tuple[float, float]:
        """The unit vector to the left of its direction (x, y) [-]."""
        return -self.along[1], self.along[0]

    def distances_in(self, points_in: Floats) -> Floats:
        """How far points lie to the left of the line, shape (n,) [in]."""
        apart: Floats = (points_in - self.middle_in) @ self.square
        return apart

    def standard_at_in(self, along_in: float) -> float:
        """Standard uncertainty of the line square to itself, so far from its middle [in]."""
        return math.hypot(self.place_standard_in, along_in * self.turn_standard_rad)


def fitted_line(points_in: Floats, *, own_in: float = 0.0) -> Line:
    """Fit a line by the least sum of squared distances from it.

    Args:
        points_in: shape (n, 2) [in].
        own_in: standard uncertainty of each point square to the line; a larger scatter counts instead [in].
    Raises:
        GeometryError: fewer than two points, or all in one place.
    Method: docs/theory/registration.md, eq. 18 and 19.
    """
    if len(points_in) < 2:
        raise GeometryError.saying("fit.few_points", n=len(points_in), least=2)
    middle = points_in.mean(axis=0)
    _, spread, ways = np.linalg.svd(points_in - middle, full_matrices=False)
    if spread[0] <= _ONE_PLACE:
        raise GeometryError.saying("fit.one_place")
    along = ways[0] * np.sign(ways[0][np.argmax(np.abs(ways[0]))])
    residuals = (points_in - middle) @ np.array([-along[1], along[0]])
    freedom = len(points_in) - 2
    scatter = float(np.linalg.norm(residuals)) / math.sqrt(freedom) if freedom else 0.0
    each = max(scatter, own_in)
    return Line(
        middle_in=(float(middle[0]), float(middle[1])),
        along=(float(along[0]), float(along[1])),
        residuals_in=residuals,
        freedom=freedom,
        scatter_in=scatter,
        place_standard_in=each / math.sqrt(len(points_in)),
        turn_standard_rad=each / float(spread[0]),
    )
