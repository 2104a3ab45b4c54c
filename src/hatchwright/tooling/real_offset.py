"""The real offset of a cutter from the widths of a trial cut, with its uncertainty.

Method: docs/theory/trial.md, eq. 1 to 5.   Source: [JCGM 100:2008], 5.1.2, G.2b and G.6.4.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.shapes.pieces import Floats
from hatchwright.tooling.students_t import t_quantile

LEVEL = 0.95
"""Level of confidence of every expanded uncertainty here [-]."""

GUM = "JCGM 100:2008"
"""Key of the guide to the expression of uncertainty in the bibliography."""


@dataclass(frozen=True, slots=True)
class RealOffset:
    """The offset as it showed on scrap.

    Args:
        offset_in: from the edge of the cut to the edge of the template [in].
        standard_in: standard uncertainty of the mean offset [in].
        freedom: effective degrees of freedom, infinite when the readings did not scatter [-].
        expanded_in: half width of the interval that holds the mean offset at the stated level [in].
        next_cut_in: standard uncertainty of the offset of the next single cut [in].
        scatter_in: standard deviation of the readings [in].
        count: number of readings.
    """

    offset_in: float
    standard_in: float
    freedom: float
    expanded_in: float
    next_cut_in: float
    scatter_in: float
    count: int


def real_offset(differences_in: Floats, *, gauge_limit_in: float, template_standard_in: float) -> RealOffset:
    """Evaluate what a trial template and its cut differ by.

    Args:
        differences_in: template less cut for a window, cut less template for a plug, shape (n,) [in].
        gauge_limit_in: largest error of the caliper either way, every error within it as likely [in].
        template_standard_in: standard uncertainty of the template's size [in].
    Returns:
        RealOffset: half the mean difference, and what it is worth.
    Raises:
        GeometryError: fewer than two readings, so that nothing is known of the scatter.
    Method: docs/theory/trial.md, eq. 1 to 5.
    """
    count = len(differences_in)
    if count < 2:
        raise GeometryError(
            "one reading says nothing of the scatter", where="cuts", remedy="Take at least two, better five"
        )
    scatter_in = float(np.std(differences_in, ddof=1))
    of_mean, of_gauge = scatter_in**2 / count, gauge_limit_in**2 / 3.0
    variance = of_mean + of_gauge + template_standard_in**2
    standard_in = 0.5 * math.sqrt(variance)
    freedom = variance**2 / (of_mean**2 / (count - 1)) if of_mean > 0.0 else math.inf
    whole = math.floor(freedom) if math.isfinite(freedom) else freedom
    return RealOffset(
        offset_in=float(np.mean(differences_in)) / 2.0,
        standard_in=standard_in,
        freedom=freedom,
        expanded_in=t_quantile(0.5 + LEVEL / 2.0, whole) * standard_in,
        next_cut_in=0.5 * math.sqrt(variance + scatter_in**2),
        scatter_in=scatter_in,
        count=count,
    )


@dataclass(frozen=True, slots=True)
class Effect:
    """Something that may or may not show in the readings.

    Args:
        size_in: its estimate [in].
        expanded_in: half width of its interval at the stated level [in].
    """

    size_in: float
    expanded_in: float

    @property
    def shows(self) -> bool:
        """Whether it is too large to be scatter."""
        return abs(self.size_in) > self.expanded_in


def drift(runs_in: tuple[Floats, ...]) -> Effect | None:
    """How the width of the cut drifts from the first reading to the last: a blade that wears.

    Args:
        runs_in: widths in the order of the cut, one array of shape (n,) for each direction [in].
    Returns:
        Effect | None: change over the longest run; None when there are too few readings to tell.
    Method: docs/theory/trial.md, eq. 6: one slope for all runs, each with a mean of its own.
    """
    runs = [run for run in runs_in if len(run) >= 2]
    freedom = sum(len(run) - 1 for run in runs) - 1
    if freedom < 1:
        return None
    order = [np.arange(len(run)) - 0.5 * (len(run) - 1) for run in runs]
    spread = sum(float(o @ o) for o in order)
    slope = sum(float(o @ run) for o, run in zip(order, runs, strict=True)) / spread
    left = sum(
        float(np.sum((run - np.mean(run) - slope * o) ** 2)) for o, run in zip(order, runs, strict=True)
    )
    steps = max(len(run) for run in runs) - 1
    standard = math.sqrt(left / freedom / spread)
    return Effect(slope * steps, t_quantile(0.5 + LEVEL / 2.0, freedom) * standard * steps)


def between_directions(along_x_in: Floats, along_y_in: Floats) -> Effect | None:
    """How much wider the cut is along X than along Y.

    Args:
        along_x_in: widths of the cut along X, shape (n,) [in].
        along_y_in: widths of the cut along Y, shape (m,) [in].
    Returns:
        Effect | None: None when there are too few readings to tell.
    Method: docs/theory/trial.md, eq. 7: difference of two means with one scatter.
    """
    n, m = len(along_x_in), len(along_y_in)
    if n == 0 or m == 0 or n + m < 3:
        return None
    squares = float(np.var(along_x_in) * n + np.var(along_y_in) * m)
    standard = math.sqrt(squares / (n + m - 2) * (1.0 / n + 1.0 / m))
    size_in = float(np.mean(along_x_in) - np.mean(along_y_in))
    return Effect(size_in, t_quantile(0.5 + LEVEL / 2.0, n + m - 2) * standard)
