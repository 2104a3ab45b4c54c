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

_AT_ONCE = 1_000_000
"""Numbers that are worked out together: large jobs take no more room than small ones [-]."""

SEED = 20
"""Of the scrambling of the points, so that the same job gets the same figure [-]."""


def any_below(
    mean: Floats, own: Floats, shared: Floats, tied: Integers, *, points: int = POINTS, seed: int = SEED
) -> float:
    """Chance that at least one of m values is below nought.

    Given what is shared, values that are not tied don't depend on each other, and where none are tied the answer is
    exact. Two that are tied are taken as never below nought together, the most that a tie can add: exact for pairs that
    are so and share no value, and to the second order never too small.

    Args:
        mean: of each value, shape (m,) [any unit].
        own: standard deviation of what it has by itself, shape (m,) [same unit].
        shared: change of each value by each standard deviation of a shared error, shape (m, k) [same unit].
        tied: pairs of values that have more in common than what is shared, shape (q, 2).
        points: a power of two [-].
    """
    if not len(mean):
        return 0.0
    from scipy.special import ndtr

    felt, is_sure = shared[:, shared.any(axis=0)], own <= 0.0
    scale = np.where(is_sure, 1.0, own)
    normal = _normal(felt.shape[1], points, seed)
    together = max(1, _AT_ONCE // (len(mean) + len(tied)))
    found = []
    for some in np.split(normal, range(together, len(normal), together)):
        given = mean + some @ felt.T
        short = np.where(is_sure, given < 0.0, ndtr(-given / scale))
        with np.errstate(divide="ignore", over="ignore"):
            odds = short / np.maximum(1.0 - short, 1e-300)
            both = np.minimum(odds[:, tied[:, 0]] * odds[:, tied[:, 1]], 1.0)
            any_of = -np.expm1(np.log1p(-short).sum(axis=1) + np.log1p(-both).sum(axis=1))
        found.append(np.minimum(any_of, short.sum(axis=1)))
    return float(np.mean(np.concatenate(found)))


def _normal(dimensions: int, points: int, seed: int) -> Floats:
    """Sobol points as normal values, shape (points, dimensions) [-]."""
    if not dimensions:
        return np.zeros((1, 0))
    from scipy.special import ndtri
    from scipy.stats import qmc

    even = qmc.Sobol(dimensions, scramble=True, rng=seed).random(points)
    normal: Floats = ndtri(np.clip(even, 1e-12, 1.0 - 1e-12))
    return normal
