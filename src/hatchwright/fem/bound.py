"""How far the answer may be off for its grid alone: the same model on two grids."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from msgspec import Struct

from hatchwright.fem.analysis import analyze
from hatchwright.fem.curve import Array
from hatchwright.fem.model import OpeningModel
from hatchwright.fem.solution import EdgeStress, Response, UnitSolution
from hatchwright.fem.stations import Fineness

_COARSER_BY = 0.6
"""By how much larger the elements of the coarser grid are at the fasteners [-]."""


class GridError(Struct, frozen=True):
    """Difference between two grids, the coarser with elements 1.6 times as large, over the finer one's value.

    The edge's error falls faster than the size of its elements, so that of the finer grid is below the difference. A
    fastener's falls about as that size, since its disc cuts through the elements: it is the difference over .6, which
    CalculiX on another program's mesh stays within (docs/theory/fem.md, section 9). They say nothing of what the model
    leaves out (section 8).

    Args:
        edge_ratio: of the stress anywhere along the edge of the opening, over the greatest of it [-].
        fastener_ratio: of any fastener force, over the greatest of them [-].
        deflection_ratio: of the deflection of the opening [-].
    """

    edge_ratio: float
    fastener_ratio: float
    deflection_ratio: float


class TwiceSolved(Struct, frozen=True, eq=False):
    """Unit solutions on two grids: the finer to use, the coarser to measure its error by."""

    fine: UnitSolution
    coarse: UnitSolution

    def changed(self, model: OpeningModel) -> TwiceSolved:
        """The same geometry with other thicknesses and moduli; see `UnitSolution.changed`."""
        return TwiceSolved(self.fine.changed(model=model), self.coarse.changed(model=model))

    def edge_error(self, load_lbf_in: Array, stress: Callable[[Response], EdgeStress]) -> float:
        """The same for the stress of any free edge, over the greatest of it [-].

        Args:
            load_lbf_in: Nx, Ny and q, shape (3,) [lbf/in].
            stress: of one of the edges.
        """
        nx, ny, q = load_lbf_in.tolist()
        fine, coarse = (
            stress(unit.combine(nx_lbf_in=nx, ny_lbf_in=ny, q_lbf_in=q)) for unit in (self.fine, self.coarse)
        )
        return _ratio(_edge_difference(fine, coarse), fine.peak.stress_psi)

    def grid_error(
        self, *, nx_lbf_in: float = 0.0, ny_lbf_in: float = 0.0, q_lbf_in: float = 0.0
    ) -> GridError:
        """Bound of the error of the finer grid under a load; arguments as for `UnitSolution.combine`."""
        fine, coarse = (
            unit.combine(nx_lbf_in=nx_lbf_in, ny_lbf_in=ny_lbf_in, q_lbf_in=q_lbf_in)
            for unit in (self.fine, self.coarse)
        )
        apart = np.hypot(*(fine.fastener_lbf - coarse.fastener_lbf).T)
        return GridError(
            edge_ratio=_ratio(_edge_difference(fine.edge(), coarse.edge()), fine.edge().peak[0]),
            fastener_ratio=_ratio(
                apart.max(initial=0.0) / _COARSER_BY, fine.fastener_load_lbf.max(initial=0.0)
            ),
            deflection_ratio=_ratio(fine.deflection_in - coarse.deflection_in, fine.deflection_in),
        )


def analyze_twice(model: OpeningModel) -> TwiceSolved:
    """Analyze an opening on two grids, so that the error of the grid is known.

    Raises:
        SolveError: as `analyze`.
    """
    fineness = Fineness()
    return TwiceSolved(analyze(model, fineness=fineness), analyze(model, fineness=fineness.coarser()))


def _edge_difference(fine: EdgeStress, coarse: EdgeStress) -> float:
    """Greatest difference between two stress curves round the same edge, at the places of the coarser [psi].

    Two peaks may agree by chance, two whole curves do not.
    """
    return float(np.abs(fine.at(coarse.points) - coarse.stress_psi).max())


def _ratio(difference: float, value: float) -> float:
    return abs(float(difference) / float(value)) if value else 0.0
