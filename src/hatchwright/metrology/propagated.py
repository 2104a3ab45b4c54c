"""Numbers worked out from readings, each of which knows what every reading does to it, so that a shared one is shared.

Method: docs/theory/site.md, eq. 1 and 2.   Source: [JCGM 100:2008], 5.1.2 and F.1.2.3.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
import numpy.typing as npt
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.metrology.budget import COVERAGE, Budget, Component, budget
from hatchwright.metrology.real_offset import coverage_factor

Floats = npt.NDArray[np.float64]


class Propagated(Struct, frozen=True):
    """A number with all that went into it.

    Args:
        value: the number [unit].
        parts: what contributes; parts of one name are the same reading, of two names don't depend on each other.
    """

    value: float
    parts: tuple[Component, ...] = ()

    @property
    def budget(self) -> Budget:
        """Its standard uncertainty and degrees of freedom."""
        return budget(self.parts)

    @property
    def u(self) -> float:
        """Its expanded uncertainty, by the factor of every u that is entered, or Student's if that is more [unit]."""
        whole = self.budget
        factor = COVERAGE if math.isinf(whole.freedom) else max(COVERAGE, coverage_factor(whole.freedom))
        return factor * whole.standard

    @property
    def names(self) -> frozenset[str]:
        """The readings that it rests on."""
        return frozenset(part.name for part in self.parts if part.contribution)


def as_read(name: str, value: float, u: float, *, freedom: float = math.inf) -> Propagated:
    """A reading, by a name that no other reading bears.

    Args:
        u: expanded uncertainty as entered, 0 for what is sure by agreement, such as an origin [unit].

    >>> round(as_read("a", 1.0, 0.02).u, 6)
    0.02
    """
    return Propagated(value, (Component(name, u, COVERAGE, 1.0, freedom),))


def combined(value: float, terms: Iterable[tuple[float, Propagated]]) -> Propagated:
    """A number that changes with others at these rates.

    Args:
        terms: rate and what it is the rate of; for a sum or a difference the rates are 1 and -1.

    >>> one = as_read("a", 1.0, 0.02)
    >>> combined(0.0, [(1.0, one), (-1.0, one)]).u  # the same reading twice
    0.0
    """
    found: dict[str, Component] = {}
    for rate, number in terms:
        for part in number.parts:
            before = found[part.name].sensitivity if part.name in found else 0.0
            found[part.name] = replace(part, sensitivity=before + rate * part.sensitivity)
    return Propagated(value, tuple(found.values()))


def added(*numbers: Propagated) -> Propagated:
    """Their sum."""
    return combined(sum(one.value for one in numbers), [(1.0, one) for one in numbers])


def less(one: Propagated, other: Propagated) -> Propagated:
    """One less the other."""
    return combined(one.value - other.value, [(1.0, one), (-1.0, other)])


def covariance(numbers: Iterable[Propagated]) -> Floats:
    """Covariance of several numbers, shape (n, n) [product of their units].

    Source: [JCGM 100:2008], F.1.2.3, eq. F.2.
    """
    every = list(numbers)
    names = sorted({part.name for one in every for part in one.parts})
    at = {name: k for k, name in enumerate(names)}
    effects = np.zeros((len(every), len(names)))
    for row, one in enumerate(every):
        for part in one.parts:
            effects[row, at[part.name]] += part.contribution
    found: Floats = effects @ effects.T
    return found
