"""The real offset of a cutter from the widths of a trial cut, and effects in them, each with its uncertainty.

Method: docs/theory/trial.md, eq. 1 to 8.   Source: [JCGM 100:2008], 4.3.7, 5.1.2, G.2b and G.6.4.
"""

from __future__ import annotations

import math
from functools import lru_cache
from statistics import NormalDist

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.metrology.budget import RECTANGULAR, Component, budget

Floats = npt.NDArray[np.float64]

LEVEL = 0.95
"""Level of confidence of every expanded uncertainty here [-]."""

_WHOLE = 1e-9
"""Degrees of freedom that miss a whole number by less do so by the rounding of the arithmetic [-]."""

GUM = "JCGM 100:2008"
"""Key of the guide to the expression of uncertainty in the bibliography."""


@lru_cache(maxsize=4096)
def t_quantile(probability: float, freedom: float) -> float:
    """The value that a variable of Student's t stays below with a given probability.

    Args:
        probability: between 0 and 1, both excluded [-].
        freedom: degrees of freedom, whole or not, more than 0; infinite for the normal law [-].
    Method: docs/theory/trial.md, eq. 5.

    >>> round(t_quantile(0.975, 18), 3)
    2.101
    """
    if math.isinf(freedom):
        return NormalDist().inv_cdf(probability)
    from scipy.special import stdtrit

    return float(stdtrit(freedom, probability))


class RealOffset(Struct, frozen=True):
    """The offset as it showed on scrap.

    Args:
        offset_in: from the edge of the cut to the edge of the template [in].
        standard_in: standard uncertainty of the mean offset [in].
        freedom: effective degrees of freedom, infinite when the readings did not scatter [-].
        expanded_in: half width of the interval that holds the mean offset at the stated level [in].
        next_cut_in: standard uncertainty of the offset of the next single cut [in].
        next_cut_freedom: its effective degrees of freedom [-].
        next_cut_expanded_in: half width of the interval that holds that offset at the stated level [in].
        scatter_in: standard deviation of the readings [in].
    """

    offset_in: float
    standard_in: float
    freedom: float
    expanded_in: float
    next_cut_in: float
    next_cut_freedom: float
    next_cut_expanded_in: float
    scatter_in: float
    count: int


def real_offset(differences_in: Floats, *, gauge_limit_in: float, template_standard_in: float) -> RealOffset:
    """Evaluate what a trial template and its cut differ by.

    Args:
        differences_in: template less cut for a window, cut less template for a plug, shape (n,) [in].
        gauge_limit_in: largest error of the caliper either way, every error within it as likely [in].
        template_standard_in: standard uncertainty of the template's size [in].
    Raises:
        GeometryError: fewer than two readings, so that nothing is known of the scatter.
    Method: docs/theory/trial.md, eq. 1 to 5.
    """
    count = len(differences_in)
    if count < 2:
        raise GeometryError.saying("trial.one_reading", where="cuts")
    scatter_in = float(np.std(differences_in, ddof=1))
    common = (
        Component("gauge", gauge_limit_in, RECTANGULAR, 0.5),
        Component("template", template_standard_in, sensitivity=0.5),
    )
    mean, next_cut = (
        budget((Component("scatter", scatter_in, divisor, 0.5, count - 1), *common))
        for divisor in (math.sqrt(count), 1.0 / math.sqrt(1.0 + 1.0 / count))
    )
    return RealOffset(
        offset_in=float(np.mean(differences_in)) / 2.0,
        standard_in=mean.standard,
        freedom=mean.freedom,
        expanded_in=coverage_factor(mean.freedom) * mean.standard,
        next_cut_in=next_cut.standard,
        next_cut_freedom=next_cut.freedom,
        next_cut_expanded_in=coverage_factor(next_cut.freedom) * next_cut.standard,
        scatter_in=scatter_in,
        count=count,
    )


def coverage_factor(freedom: float, level: float = LEVEL) -> float:
    """How many standard uncertainties the interval of a level of confidence reaches either way [-].

    Args:
        freedom: degrees of freedom, cut down to a whole number, 1 or more [-].
    Source: [JCGM 100:2008], G.6.4.
    """
    whole = math.floor(freedom + _WHOLE) if math.isfinite(freedom) else freedom
    return t_quantile(0.5 + level / 2.0, whole)


class Effect(Struct, frozen=True):
    """Something that may or may not show in the readings.

    Args:
        size_in: its estimate [in], a turn in [rad].
        expanded_in: half width of its interval at the stated level [same unit].
    """

    size_in: float
    expanded_in: float

    @property
    def shows(self) -> bool:
        """Whether it is too large to be scatter."""
        return abs(self.size_in) > self.expanded_in


def effect(
    size: float, *, scattered: float, freedom: float, limited: float = 0.0, level: float = LEVEL
) -> Effect:
    """Put a size together with what its readings scatter and what their gauge is worth.

    Args:
        size: the estimate [any unit].
        scattered: variance from the scatter of the readings, type A [unit^2].
        limited: variance from limits of error, type B [unit^2].
    Method: docs/theory/trial.md, eq. 4 and 5.
    """
    scatter = Component("scatter", math.sqrt(scattered), freedom=freedom)
    found = budget((scatter, Component("limits", math.sqrt(limited))))
    return Effect(size, coverage_factor(found.freedom, level) * found.standard)


def drift(runs_in: tuple[Floats, ...], *, gauge_limit_in: float = 0.0) -> Effect | None:
    """How the width of the cut drifts from the first reading to the last: a blade that wears.

    Args:
        runs_in: widths in the order of the cut, one array of shape (n,) for each direction [in].
        gauge_limit_in: largest error of a reading either way, 0 to judge by the scatter alone [in].
    Returns:
        Effect | None: change over the longest run; None when there are too few readings to tell.
    Method: docs/theory/trial.md, eq. 6: one slope for all runs, each with a mean of its own.
    """
    runs = [run for run in runs_in if len(run) >= 2]
    freedom = sum(len(run) - 1 for run in runs) - 1
    if freedom < 1:
        return None
    pairs = [(np.arange(len(run)) - 0.5 * (len(run) - 1), run) for run in runs]
    spread = sum(float(o @ o) for o, _ in pairs)
    slope = sum(float(o @ run) for o, run in pairs) / spread
    left = sum(float(np.sum((run - np.mean(run) - slope * o) ** 2)) for o, run in pairs)
    steps = max(len(run) for run in runs) - 1
    return effect(
        slope * steps,
        scattered=left / freedom / spread * steps**2,
        freedom=freedom,
        limited=2.0 * gauge_limit_in**2 / 3.0,
    )


def between_directions(
    along_x_in: Floats, along_y_in: Floats, *, gauge_limit_in: float = 0.0, template_standard_in: float = 0.0
) -> Effect | None:
    """How much wider the cut is along X than along Y; None when there are too few readings to tell.

    Args:
        along_x_in: widths of the cut along X, shape (n,), and along Y, shape (m,) [in].
        gauge_limit_in: largest error of a reading either way, 0 to judge by the scatter alone [in].
        template_standard_in: standard uncertainty of the template's size in each direction [in].
    Method: docs/theory/trial.md, eq. 7: difference of two means with one scatter.
    """
    n, m = len(along_x_in), len(along_y_in)
    if n == 0 or m == 0 or n + m < 3:
        return None
    squares = float(np.var(along_x_in) * n + np.var(along_y_in) * m)
    return effect(
        float(np.mean(along_x_in) - np.mean(along_y_in)),
        scattered=squares / (n + m - 2) * (1.0 / n + 1.0 / m),
        freedom=n + m - 2,
        limited=2.0 * (gauge_limit_in**2 / 3.0 + template_standard_in**2),
    )
