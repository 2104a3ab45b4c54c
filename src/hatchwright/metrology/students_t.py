"""Quantiles of Student's t for any degrees of freedom, whole or not. Method: docs/theory/trial.md, eq. 5."""

from __future__ import annotations

import math
from functools import lru_cache
from statistics import NormalDist


@lru_cache(maxsize=4096)
def t_quantile(probability: float, freedom: float) -> float:
    """The value that a t variable stays below with a given probability.

    Args:
        probability: between 0 and 1, both excluded [-].
        freedom: degrees of freedom, more than 0; infinite for the normal law [-].

    >>> round(t_quantile(0.975, 18), 3)
    2.101
    """
    if math.isinf(freedom):
        return NormalDist().inv_cdf(probability)
    from scipy.special import stdtrit

    return float(stdtrit(freedom, probability))
