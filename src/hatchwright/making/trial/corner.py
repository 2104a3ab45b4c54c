"""The corner of a trial cut from its diagonals, against the corner that the cutter was to leave.

Method: docs/theory/trial.md, eq. 15 to 17.
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from hatchwright.metrology.real_offset import Effect, effect
from hatchwright.shapes.pieces import Floats

_ROOT = math.sqrt(2.0)


class TrialCorner(Struct, frozen=True):
    """The corners of a trial cut.

    Args:
        radius_in: by the diagonals, a mean of the corners that they end in [in].
        predicted_in: that the cutter was to leave [in].
        beyond: radius less the predicted one [in].
        left_in: metal left to be filed in the corner, along the diagonal [in].
    """

    radius_in: float
    predicted_in: float
    beyond: Effect
    left_in: float
    count: int


def diagonal_in(width_in: float, radius_in: float) -> float:
    """Across a square from corner to corner, each rounded: sqrt 2 width - 2 (sqrt 2 - 1) radius [in].

    >>> round(diagonal_in(2.0, 1.0), 9), round(diagonal_in(1.0, 0.0), 4)
    (2.0, 1.4142)
    """
    return _ROOT * width_in - 2.0 * (_ROOT - 1.0) * radius_in


def trial_corner(
    diagonals_in: Floats,
    *,
    width_in: float,
    scatter_in: float,
    widths: int,
    gauge_limit_in: float,
    predicted_in: float,
    finished_in: float,
) -> TrialCorner:
    """Work out the corner radius from diagonals.

    Args:
        diagonals_in: from corner to corner as far apart as they go, shape (n,), one or more [in].
        width_in: mean of the widths along X and along Y [in].
        scatter_in: standard deviation of those widths [in].
        widths: how many of them, two or more.
        gauge_limit_in: largest error of a reading either way [in].
        finished_in: diagonal of the finished piece [in].
    """
    count = len(diagonals_in)
    diagonal = float(np.mean(diagonals_in))
    share = 2.0 * (_ROOT - 1.0)
    radius_in = (_ROOT * width_in - diagonal) / share
    scattered = scatter_in**2 * (2.0 / widths + 1.0 / count) / share**2
    limited = gauge_limit_in**2 / share**2
    beyond = effect(radius_in - predicted_in, scattered=scattered, freedom=widths - 1, limited=limited)
    left_in = (finished_in - diagonal) / 2.0
    return TrialCorner(radius_in, predicted_in, beyond, left_in=left_in, count=count)
