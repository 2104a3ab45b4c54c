"""Fasteners that yield: each carries its strength at most, slips on under it, and leaves the rest to the others.

Method: docs/theory/load_sharing.md, eq. 6 to 8.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from msgspec import Struct
from scipy.optimize import brentq

from hatchwright.errors import SolveError
from hatchwright.fem.coupling import flexibilities, slip_influence
from hatchwright.fem.curve import Array
from hatchwright.fem.solution import Response

_STEPS = 2000
_SETTLED_RATIO = 1e-6
_MOST_GROWTH = 64.0
"""Past this many times the load at which the first fastener yields nobody asks how far it slips [-]."""


class Yielded(Struct, frozen=True, eq=False):
    """The fasteners under one load, once they have evened out.

    Args:
        force_lbf: on the second sheet that each joins, shape (m, 2) [lbf].
        slip_in: by how much each has slipped for good, nought below its strength, shape (m,) [in].
    """

    force_lbf: Array
    slip_in: Array

    @property
    def at_strength(self) -> npt.NDArray[np.bool_]:
        """Whether each carries its strength, shape (m,)."""
        return self.slip_in > 0.0


class Yielding(Struct, frozen=True, eq=False):
    """A load on fasteners that are elastic up to their strength, and slip under it.

    Args:
        elastic_lbf: their forces under the load if none yielded, shape (m, 2) [lbf].
        strength_lbf: what each carries at most, infinite for one that is held to nothing, shape (m,) [lbf].
        flexibility_in_per_lbf: of each below its strength, shape (m,) [in/lbf].
        influence_lbf_in: what all lose for a slip of each, shape (2 m, 2 m) [lbf/in].
    """

    elastic_lbf: Array
    strength_lbf: Array
    flexibility_in_per_lbf: Array
    influence_lbf_in: Array

    def at(self, growth: float) -> Yielded:
        """The forces and slips under so many times the load.

        Every fastener takes the flexibility with which it just carries its strength where it gives as far as it does:
        the secant of its curve, found again until none changes.

        Raises:
            SolveError: the forces do not settle.
        """
        elastic = growth * self.elastic_lbf
        first, force, more = self.flexibility_in_per_lbf, elastic, np.zeros(len(elastic))
        for _ in range(_STEPS):
            size = np.hypot(*force.T)
            now = np.maximum((first + more) * size / self.strength_lbf - first, 0.0)
            if np.abs(now - more).max(initial=0.0) <= _SETTLED_RATIO * (first + more).max(initial=0.0):
                return Yielded(force, more * size)
            more = now
            force = self._softened(elastic, more)
        raise SolveError.saying("error.yielding_forces", where="yielding")

    def growth_until(self, slip_in: Array) -> float:
        """So many times the load until a fastener has slipped so far, shape (m,) [in].

        Raises:
            SolveError: the forces do not settle.
        """
        low, high = self.first, 2.0 * self.first

        def beyond(growth: float) -> float:
            return float((self.at(growth).slip_in / slip_in).max() - 1.0)

        while beyond(high) < 0.0:
            low, high = high, 2.0 * high
            if high > _MOST_GROWTH * self.first:
                return low
        return float(brentq(beyond, low, high, rtol=1e-4))

    @property
    def first(self) -> float:
        """So many times the load until the first fastener is at its strength."""
        return float((self.strength_lbf / np.maximum(np.hypot(*self.elastic_lbf.T), 1e-300)).min())

    def _softened(self, elastic: Array, more: Array) -> Array:
        """Forces where each fastener gives that much more for each lbf than below its strength, shape (m, 2) [lbf]."""
        soft = np.flatnonzero(more)
        own = (2 * soft[:, None] + np.arange(2)).ravel()
        gives = np.repeat(more[soft], 2)
        carried = np.linalg.solve(
            np.eye(len(own)) + self.influence_lbf_in[np.ix_(own, own)] * gives, elastic.ravel()[own]
        )
        lost: Array = self.influence_lbf_in[:, own] @ (gives * carried)
        return elastic - lost.reshape(-1, 2)


def yielding(response: Response, strength_lbf: Array, *, times: float = 1.0) -> Yielding:
    """The fasteners of a response, ready to yield; those of a sheet that takes no part are left out.

    Args:
        strength_lbf: of every fastener of the model, infinite for one that is held to nothing, shape (m,) [lbf].
        times: what its load is multiplied by, such as a special factor [-].
    """
    model, working = response.unit.model, response.unit.model.working
    gives = flexibilities(model, response.unit.formula)
    return Yielding(
        elastic_lbf=times * response.fastener_lbf[working],
        strength_lbf=strength_lbf[working],
        flexibility_in_per_lbf=gives,
        influence_lbf_in=slip_influence(model, response.unit.gives, gives),
    )
