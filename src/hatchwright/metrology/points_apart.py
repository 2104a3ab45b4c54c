"""Points that stand apart from a rigid fit of all others, by the test of the greatest residual of a pair of readings.

Method: docs/theory/registration.md, eq. 9 and 10.   Source: [ISO 5725-2] for the level, [NIST-HANDBOOK] 1.3.5.17.3.
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from hatchwright.metrology.real_offset import Floats
from hatchwright.metrology.registration import Registration, registered
from hatchwright.metrology.standing_apart import OUTLIER_LEVEL

FEWEST_POINTS = 4
"""With fewer, the fit without a point leaves nothing to hold it against [-]."""


class PointApart(Struct, frozen=True):
    """A point that the others do not bear out.

    Args:
        index: its place among the points, from 0.
        statistic: F of its residual [-].
        critical: what that must not exceed at the level asked for [-].
    """

    index: int
    statistic: float
    critical: float


def critical_statistic(count: int, *, level: float) -> float:
    """The greatest F that chance gives among the residuals of so many points.

    Args:
        count: number of points n, 4 or more.
    Method: docs/theory/registration.md, eq. 10: the tail of F with 2 and m = 2n - 5 degrees of freedom is
        (1 + 2F/m)^(-m/2).
    """
    m = 2.0 * count - 5.0
    return 0.5 * m * (math.pow((1.0 - level) / count, -2.0 / m) - 1.0)


def statistics(fit: Registration, drawn_in: Floats, *, own_in: Floats) -> Floats:
    """F of the residual of each point of a fit, shape (n,) [-].

    Args:
        drawn_in: as they were fitted, shape (n, 2) [in].
        own_in: as they were weighted, shape (n,) [in].
    Method: docs/theory/registration.md, eq. 9.
    """
    weights = 1.0 / own_in**2
    out = fit.placed(drawn_in) - fit.found_middle_in
    lever = float(weights @ (out**2).sum(axis=1))
    far = np.hypot(*out.T)
    ways = out / np.where(far > 0.0, far, 1.0)[:, None]
    radial = np.einsum("ij,ij->i", fit.residuals_in, ways)
    tangential = ways[:, 0] * fit.residuals_in[:, 1] - ways[:, 1] * fit.residuals_in[:, 0]
    of_shift = own_in**2 - 1.0 / weights.sum()
    of_both = of_shift - far**2 / lever
    beyond_radial = np.where(far > 0.0, radial, np.hypot(*fit.residuals_in.T)) ** 2 / of_shift
    told = of_both > _TOLD * own_in**2
    squares = beyond_radial + np.where(told, tangential**2 / np.where(told, of_both, 1.0), 0.0)
    left = float(weights @ (fit.residuals_in**2).sum(axis=1))
    others = np.maximum(1.0, (left - squares) / (fit.freedom - 2))
    found: Floats = squares / (2.0 * others)
    return found


_TOLD = 1e-9
"""A residual with a smaller share of freedom is one that nothing else checks [-]."""


def points_apart(
    drawn_in: Floats, measured_in: Floats, *, own_in: Floats, level: float = OUTLIER_LEVEL
) -> tuple[PointApart, ...]:
    """Look for the points that do not belong to the others, the farthest first.

    The worst is taken away and the rest asked again, up to a quarter of the points; all up to the last that is
    beyond chance stand apart, so that two do not hide each other.

    Args:
        drawn_in, measured_in, own_in: see `registration.registered`.
        level: of confidence, beyond which a point of the set is called out [-].
    """
    left = np.arange(len(drawn_in))
    found: list[PointApart] = []
    while len(left) >= FEWEST_POINTS and len(found) < max(1, len(drawn_in) // _PART):
        fit = registered(drawn_in[left], measured_in[left], own_in=own_in[left])
        told = statistics(fit, drawn_in[left], own_in=own_in[left])
        worst = int(np.argmax(told))
        critical = critical_statistic(len(left), level=level)
        found.append(PointApart(int(left[worst]), float(told[worst]), critical))
        left = np.delete(left, worst)
    last = max((k for k, one in enumerate(found, start=1) if one.statistic > one.critical), default=0)
    return tuple(found[:last])


_PART = 4
"""No more than one in so many is looked for: with more, there is no telling who is right; own choice, no source [-]."""
