"""Which of many values to judge: those that may give the worst answer, measured ones with their uncertainty."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import numpy.typing as npt

from hatchwright.finding import Finding


def least_sure(margin_in: npt.ArrayLike, uncertainty_in: npt.ArrayLike) -> tuple[int, ...]:
    """Where the worst judgement may lie among values that must not miss their limits.

    A value misses beyond doubt by its margin and its uncertainty together, and cannot be shown to pass by its margin
    less its uncertainty; a measured value may so be worse than a drawn one that is nearer to the limit.

    Args:
        margin_in: value less limit, or limit less value where that must not be above, shape (n,) [in].
        uncertainty_in: of each value, 0 for a drawn one, shape (n,) [in].
    Returns:
        tuple: one index, or two where measured and drawn values lie together; the one least sure to pass first.

    >>> least_sure([0.000, 0.002], [0.0, 0.005])
    (1, 0)
    """
    margin, u = np.asarray(margin_in, dtype=float), np.asarray(uncertainty_in, dtype=float)
    return tuple(dict.fromkeys((int(np.argmin(margin - u)), int(np.argmin(margin + u)))))


def worst(findings: Iterable[Finding]) -> Finding:
    """The worst of some findings, the first of those with the same answer."""
    return min(findings, key=lambda found: found.status.severity)
