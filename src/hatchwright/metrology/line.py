"""The straight line that lies nearest to measured points, square to itself.

Method: docs/theory/registration.md, eq. 17.   Source: [PEARSON-1901].
"""

from __future__ import annotations

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
    """

    middle_in: tuple[float, float]
    along: tuple[float, float]


def fitted_line(points_in: Floats) -> Line:
    """Fit a line by the least sum of squared distances from it.

    Args:
        points_in: shape (n, 2) [in].
    Raises:
        GeometryError: fewer than two points, or all in one place.
    Method: docs/theory/registration.md, eq. 17.
    """
    if len(points_in) < 2:
        raise GeometryError.saying("fit.few_points", n=len(points_in), least=2)
    middle = points_in.mean(axis=0)
    _, spread, ways = np.linalg.svd(points_in - middle, full_matrices=False)
    if spread[0] <= _ONE_PLACE:
        raise GeometryError.saying("fit.one_place")
    along = ways[0] * np.sign(ways[0][np.argmax(np.abs(ways[0]))])
    return Line((float(middle[0]), float(middle[1])), (float(along[0]), float(along[1])))
