"""The best estimate of a place that was found by several routes, and whether the routes agree within their u.

Method: docs/theory/site.md, eq. 3 to 6.   Source: [JCGM 100:2008], 5.1, 5.2 and G.4.1.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.metrology.budget import COVERAGE
from hatchwright.metrology.propagated import Propagated, combined, covariance

Place = tuple[Propagated, Propagated]
"""X and Y of a place as one route gives it [in]."""


class BestPlace(Struct, frozen=True):
    """The place that several routes give together.

    Args:
        place: X and Y, with all readings that they rest on [in].
        chi_square: of the routes about it; with one route 0 [-].
        freedom: degrees of freedom of that, 2 for each route but one [-].
        chance: that routes which agree within their u lie this far apart or farther [-].
    """

    place: Place
    chi_square: float
    freedom: int
    chance: float

    @property
    def at_in(self) -> tuple[float, float]:
        """X and Y [in]."""
        return self.place[0].value, self.place[1].value


def best_place(routes: Sequence[Place]) -> BestPlace:
    """Weigh routes by their covariance, so that what two of them share counts once.

    Raises:
        GeometryError: there is no route, or two rest on the same readings alone, which is one route told twice.
    Method: docs/theory/site.md, eq. 3 to 5.
    """
    if not routes:
        raise GeometryError.saying("routes.none")
    numbers = [one for place in routes for one in place]
    values = np.array([one.value for one in numbers])
    try:
        inverse = np.linalg.inv(np.linalg.cholesky(covariance(numbers)))
    except np.linalg.LinAlgError:
        raise GeometryError.saying("routes.same") from None
    weights = inverse.T @ inverse
    every = np.tile(np.eye(2), (len(routes), 1))
    gain = np.linalg.solve(every.T @ weights @ every, every.T @ weights)
    x, y = gain @ values
    off = values - every @ np.array([x, y])
    chi_square, freedom = float(off @ weights @ off), 2 * len(routes) - 2
    place = tuple(
        combined(float(at), list(zip(map(float, rates), numbers, strict=True)))
        for at, rates in zip((x, y), gain, strict=True)
    )
    return BestPlace((place[0], place[1]), chi_square, freedom, _chance(chi_square, freedom))


def _chance(chi_square: float, freedom: int) -> float:
    """That a sum of `freedom` squared normal deviates is this large or larger: for an even number, a finite sum.

    Source: [JCGM 100:2008] names the law; the closed form is elementary, docs/theory/site.md, eq. 5.

    >>> round(_chance(5.991, 2), 4)
    0.05
    """
    half = chi_square / 2.0
    term = total = 1.0
    for k in range(1, freedom // 2):
        term *= half / k
        total += term
    return math.exp(-half) * total


def chi_square_point(chance: float, freedom: int) -> float:
    """What a sum of `freedom` squared normal deviates reaches or passes with a given chance [-].

    Source: [JCGM 100:2008] names the law; docs/theory/site.md, eq. 5.

    >>> round(chi_square_point(0.05, 2), 3), round(chi_square_point(0.05, 4), 3)
    (5.991, 9.488)
    """
    if freedom == 2:
        return -2.0 * math.log(chance)
    from scipy.special import chdtri  # for three routes and more

    return float(chdtri(freedom, chance))


class Apart(Struct, frozen=True):
    """How far two places lie apart.

    Args:
        distance_in: between them [in].
        u_in: expanded uncertainty of that [in].
    """

    distance_in: float
    u_in: float


def apart(one: Place, other: Place) -> Apart:
    """The gap between two places with its u along the gap; where they coincide, the greatest of any direction.

    Method: docs/theory/site.md, eq. 6.
    """
    steps = [combined(b.value - a.value, [(1.0, b), (-1.0, a)]) for a, b in zip(one, other, strict=True)]
    spread = covariance(steps)
    step = np.array([each.value for each in steps])
    distance_in = float(np.hypot(*step))
    greatest = float(np.linalg.eigvalsh(spread)[-1])
    way = step / distance_in if distance_in > 0.0 else None
    variance = greatest if way is None else float(way @ spread @ way)
    return Apart(distance_in, COVERAGE * math.sqrt(max(variance, 0.0)))
