"""The chance that any of many normal values comes out under nought, where some of their errors are shared.

Method: docs/theory/risk.md, eq. 7.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Integers = npt.NDArray[np.intp]

POINTS = 1024
"""Sobol points of the integral over what is shared; the spread between seeds is under a thousandth of the chance
[studies/risk_points.py]."""

SEED = 20
"""Of the scrambling of the points, so that the same job gets the same figure [-]."""


def any_below(
    mean: Floats, own: Floats, shared: Floats, group: Integers, *, points: int = POINTS, seed: int = SEED
) -> float:
    """Chance that at least one of m values is below nought.

    Given what is shared, the groups don't depend on each other. Chances of one group are added up, so that
    the answer is exact where each group holds one value, and never too small where one holds more.

    Args:
        mean: of each value, shape (m,) [any unit].
        own: standard deviation of what it has by itself, shape (m,) [same unit].
        shared: change of each value by each standard deviation of a shared error, shape (m, k) [same unit].
        group: number of the group of each, 0 and up, shape (m,).
        points: a power of two [-].
    """
    if not len(mean):
        return 0.0
    from scipy.special import ndtr

    felt = shared[:, shared.any(axis=0)]
    given = mean + _normal(felt.shape[1], points, seed) @ felt.T
    sure = own <= 0.0
    scaled = given / np.where(sure, 1.0, own)
    short: Floats = np.where(sure, given < 0.0, ndtr(-scaled))
    order = np.argsort(group, kind="stable")
    begins = np.flatnonzero(np.diff(group[order], prepend=-1))
    of_group = np.minimum(np.add.reduceat(short[:, order], begins, axis=1), 1.0)
    with np.errstate(divide="ignore"):
        none = np.log1p(-of_group).sum(axis=1)
    return float(np.mean(-np.expm1(none)))


def _normal(dimensions: int, points: int, seed: int) -> Floats:
    """Sobol points as normal values, shape (points, dimensions) [-]."""
    if not dimensions:
        return np.zeros((1, 0))
    from scipy.special import ndtri
    from scipy.stats import qmc

    even = qmc.Sobol(dimensions, scramble=True, rng=seed).random(points)
    normal: Floats = ndtri(np.clip(even, 1e-12, 1.0 - 1e-12))
    return normal
