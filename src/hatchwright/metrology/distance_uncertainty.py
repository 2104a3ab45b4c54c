"""The uncertainty of a distance between two readings; everything that measures between two of them asks here."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


def distance_u(one: float, other: float, *, is_own: bool) -> float:
    """Of the distance between two readings.

    The u that is common to a set of readings is that of each distance taken with it, and counts once. As soon as one of
    the two names a u of its own, both stand for single readings that don't depend on each other.

    Args:
        one, other: expanded uncertainty of each reading, 0 for a drawn one [in].
        is_own: whether one of the two names its own.
    Returns:
        float: the greater of two common ones, else the root of the sum of squares [in].
    Method: docs/theory/conventions.md.   Source: [JCGM 100:2008], 5.1.2.

    >>> distance_u(0.003, 0.004, is_own=False), distance_u(0.003, 0.004, is_own=True)
    (0.004, 0.005)
    """
    return math.hypot(one, other) if is_own else max(one, other)


def distance_us(one: Floats, other: Floats, *, is_own: npt.NDArray[np.bool_]) -> Floats:
    """The same of many pairs at once, all of shape (n,) [in]; see `distance_u`."""
    return np.where(is_own, np.hypot(one, other), np.maximum(one, other))
