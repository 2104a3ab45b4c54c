"""Statistics that single values which stand apart hardly move."""

from __future__ import annotations

import numpy as np

from hatchwright.metrology.real_offset import Floats

MAD = 1.4826
"""Standard deviation over median deviation of the normal law [-]. Source: Huber, Robust Statistics, section 5.1."""

_ROUNDS = 5
_CAUCHY = 2.385
"""Tuning constant in standard deviations, 95 % efficient. Source: Holland and Welsch, 1977 [-]."""


def robust_fit(matrix: Floats, values: Floats) -> Floats:
    """Least squares, weighted anew until single values that stand apart count for little.

    Args:
        matrix: shape (n, unknowns).
        values: shape (n,).
    """
    weight = np.ones(len(values))
    found: Floats = np.zeros(matrix.shape[1])
    for _ in range(_ROUNDS):
        root = np.sqrt(weight)
        found = np.asarray(
            np.linalg.lstsq(matrix * root[:, None], values * root, rcond=None)[0], dtype=np.float64
        )
        left = values - matrix @ found
        spread = max(MAD * float(np.median(np.abs(left))), 1e-7)
        weight = 1.0 / (1.0 + (left / (_CAUCHY * spread)) ** 2)
    return found
