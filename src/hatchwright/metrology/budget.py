"""An uncertainty budget: what contributes, each with its limit, its law, its effect and its degrees of freedom.

Method: docs/theory/registration.md, eq. 11 to 13.   Source: [JCGM 100:2008], 4.3, 5.1.2 and G.4.1.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from msgspec import Struct

from hatchwright.errors import GeometryError

COVERAGE = 2.0
"""Factor of the uncertainties that people enter: about 95 % [-]. Source: [JCGM 100:2008], 6.3.3."""

STANDARD = 1.0
"""Divisor of what is a standard uncertainty already [-]."""

RECTANGULAR = math.sqrt(3.0)
"""Divisor of the half width of limits within which every value is as likely [-]. Source: [JCGM 100:2008], 4.3.7."""

RESOLUTION = math.sqrt(12.0)
"""Divisor of the whole width of such limits, as of a step of a display [-]. Source: [JCGM 100:2008], F.2.2.1."""


class Component(Struct, frozen=True):
    """One contribution to a budget.

    Args:
        name: by which it is told.
        limit: half width, whole width or standard uncertainty, as the divisor says [unit of its input].
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

    standard: float
    freedom: float


def budget(components: Iterable[Component]) -> Budget:
    """Combine components that don't depend on each other into one uncertainty.

    Raises:
        GeometryError: a divisor, a limit or a freedom that can't be.
    Method: docs/theory/registration.md, eq. 11 to 13.
    """
    variance = spread = 0.0
    for one in components:
        if not (one.divisor > 0.0 and one.limit >= 0.0 and one.freedom >= 1.0):
            raise GeometryError.saying("budget.no_component", name=one.name)
        variance += one.contribution**2
        spread += one.contribution**4 / one.freedom
    return Budget(math.sqrt(variance), variance**2 / spread if spread > 0.0 else math.inf)
