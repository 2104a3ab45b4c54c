"""An uncertainty budget: what contributes, each with its limit, its law, its effect and its degrees of freedom.

Method: docs/theory/registration.md, eq. 11 to 14.   Source: [JCGM 100:2008], 4.3, 5.1.2, 5.2.2, G.4.1 and G.4.2.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

import numpy as np
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.metrology.real_offset import LEVEL, coverage_factor

STANDARD = 1.0
"""Divisor of what is a standard uncertainty already [-]."""

RECTANGULAR = math.sqrt(3.0)
"""Divisor of the half width of limits within which every value is as likely [-]. Source: [JCGM 100:2008], 4.3.7."""

TRIANGULAR = math.sqrt(6.0)
"""Divisor of the half width of limits within which the middle is most likely [-]. Source: [JCGM 100:2008], 4.3.9."""

U_SHAPED = math.sqrt(2.0)
"""Divisor of the half width of what swings between its limits [-]. Source: [JCGM 100:2008], H.1.3.4."""

RESOLUTION = math.sqrt(12.0)
"""Divisor of a whole step of a display [-]. Source: [JCGM 100:2008], F.2.2.1."""


class Component(Struct, frozen=True):
    """One contribution to a budget.

    Args:
        name: by which a correlation names it.
        limit: half width, step or standard uncertainty, as the divisor says [unit of its input].
        divisor: that makes a standard uncertainty of it: one of this file, the factor k of a stated U, or sqrt(n) of a
            mean of n readings [-].
        sensitivity: change of the result for each unit of the input [unit of the result / unit of the input].
        freedom: degrees of freedom, infinite for limits that are sure [-].
    """

    name: str
    limit: float
    divisor: float = STANDARD
    sensitivity: float = 1.0
    freedom: float = math.inf

    @property
    def contribution(self) -> float:
        """What it adds to the result, with the sign of its sensitivity [unit of the result]."""
        return self.sensitivity * self.limit / self.divisor


class Budget(Struct, frozen=True):
    """The components put together.

    Args:
        standard: combined standard uncertainty [unit of the result].
        freedom: effective degrees of freedom, infinite where no component has fewer [-].
    """

    components: tuple[Component, ...]
    standard: float
    freedom: float

    def factor(self, level: float = LEVEL) -> float:
        """Coverage factor at a level of confidence, for the freedom cut down to a whole number [-]."""
        return coverage_factor(self.freedom, level)

    def expanded(self, level: float = LEVEL) -> float:
        """Half width of the interval that holds the result at a level of confidence [unit of the result]."""
        return self.factor(level) * self.standard


def budget(
    components: Iterable[Component], *, correlated: Mapping[tuple[str, str], float] | None = None
) -> Budget:
    """Combine components into one uncertainty.

    Args:
        correlated: two names to the coefficient of their correlation, from -1 to 1 [-].
    Raises:
        GeometryError: a divisor, a limit or a freedom that can't be, a name that no component has or that two have,
            or coefficients that no set of errors has.
    Method: docs/theory/registration.md, eq. 11 to 13. The effective degrees of freedom of eq. 13 hold for components
        that don't depend on each other: correlated ones enter it as one, with the least freedom of them.
    """
    parts = tuple(components)
    for one in parts:
        if not (one.divisor > 0.0 and one.limit >= 0.0 and one.freedom >= 1.0):
            raise GeometryError.saying("budget.no_component", name=one.name)
    at = {one.name: index for index, one in enumerate(parts)}
    matrix = np.eye(len(parts))
    for pair, coefficient in (correlated or {}).items():
        if len(at) < len(parts) or not set(pair) <= at.keys() or pair[0] == pair[1]:
            raise GeometryError.saying("budget.no_pair", first=pair[0], second=pair[1])
        first, second = (at[name] for name in pair)
        matrix[first, second] = matrix[second, first] = coefficient
    if len(parts) and np.linalg.eigvalsh(matrix)[0] < -_ROUNDING:
        raise GeometryError.saying("budget.no_correlation")
    shares = np.array([one.contribution for one in parts])
    variance = max(0.0, float(shares @ matrix @ shares))
    joined = np.flatnonzero((matrix != 0.0).sum(axis=1) > 1)
    terms = [(parts[k].contribution ** 2, parts[k].freedom) for k in range(len(parts)) if k not in joined]
    if len(joined):
        group = float(shares[joined] @ matrix[np.ix_(joined, joined)] @ shares[joined])
        terms.append((group, min(parts[k].freedom for k in joined)))
    spread = sum(share**2 / freedom for share, freedom in terms)
    return Budget(parts, math.sqrt(variance), variance**2 / spread if spread > 0.0 else math.inf)


_ROUNDING = 1e-9
"""A correlation matrix whose least eigenvalue is not lower misses a sound one by rounding only [-]."""


def freedom_of(relative: float) -> float:
    """Degrees of freedom of an uncertainty that is itself only known to a part of it.

    Args:
        relative: how uncertain it is, as a part of itself [-].
    Method: docs/theory/registration.md, eq. 14: nu = 1/2 (du/u)^-2.

    >>> freedom_of(0.25), freedom_of(0.5)
    (8.0, 2.0)
    """
    return 0.5 * relative**-2 if relative > 0.0 else math.inf
