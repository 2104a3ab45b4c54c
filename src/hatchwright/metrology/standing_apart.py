"""The reading that stands apart from the others, by the test of its greatest residual.

Method: docs/theory/trial.md, eq. 14.   Source: [GRUBBS-1969], [NIST-HANDBOOK] 1.3.5.17.1 and [ISO 5725-2].
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from hatchwright.metrology.real_offset import Floats, t_quantile

STRAGGLER_LEVEL = 0.95
"""A reading beyond this level is a straggler [-]. Source: [ISO 5725-2]."""

OUTLIER_LEVEL = 0.99
"""A reading beyond this level is an outlier [-]. Source: [ISO 5725-2]."""


class StandingApart(Struct, frozen=True):
    """A reading that the others do not bear out.

    Args:
        index: its place among the readings, from 0.
        beyond_in: what it reads beyond what the others would have [in].
        ratio: its residual over the standard deviation of the residuals; for single widths Grubbs' G [-].
        critical: what that ratio must not exceed at the outlier's level [-].
        is_outlier: whether it does; else it is a straggler.
    """

    index: int
    beyond_in: float
    ratio: float
    critical: float
    is_outlier: bool


def critical_ratio(count: int, *, unknowns: int = 1, level: float) -> float:
    """The greatest residual ratio that chance gives.

    Args:
        count: number of readings n, more than `unknowns` + 1.
        unknowns: that were fitted to them p, 1 for a mean alone.
        level: two-sided level of confidence [-].
    Returns:
        float: sqrt(nu t^2 / (nu - 1 + t^2)) times sqrt(1 - p/n) with nu = n - p and t the quantile of Student's t at
            (1 - level) / (2 n) for nu - 1 degrees of freedom; for p = 1 Grubbs' critical value [-].

    >>> round(critical_ratio(8, level=0.95), 3)
    2.126
    """
    freedom = count - unknowns
    t = t_quantile(1.0 - (1.0 - level) / (2.0 * count), freedom - 1)
    return math.sqrt(freedom / (freedom - 1 + t * t) * (1.0 - unknowns / count)) * t


def standing_apart(values_in: Floats, matrix: Floats, *, gauge_limit_in: float) -> StandingApart | None:
    """Look for the one reading that does not belong to the others; None when none does, or with fewer than p + 2.

    Args:
        values_in: readings, shape (n,) [in].
        matrix: what explains them, shape (n, p), a column of ones for readings of one size.
        gauge_limit_in: largest error of a reading either way; nothing below it is called out [in].
    """
    count, unknowns = matrix.shape
    freedom = count - unknowns
    if freedom < 2:
        return None
    inverse = np.linalg.pinv(matrix)
    residual = values_in - matrix @ (inverse @ values_in)
    variance = float(residual @ residual) / freedom + gauge_limit_in**2 / 3.0
    if variance <= 0.0:
        return None
    free = 1.0 - np.einsum("np,pn->n", matrix, inverse)
    steps = np.where(free > _TOLD, np.abs(residual) / np.sqrt(np.maximum(free, _TOLD)), 0.0)
    worst = int(np.argmax(steps))
    ratio = float(steps[worst]) / math.sqrt(variance) * math.sqrt(freedom / count)
    outlier = critical_ratio(count, unknowns=unknowns, level=OUTLIER_LEVEL)
    if ratio <= critical_ratio(count, unknowns=unknowns, level=STRAGGLER_LEVEL):
        return None
    return StandingApart(
        index=worst,
        beyond_in=float(residual[worst] / free[worst]),
        ratio=ratio,
        critical=outlier,
        is_outlier=ratio > outlier,
    )


_TOLD = 1e-9
"""A reading with a smaller share of freedom is one that nothing else checks [-]."""
