"""What pictures of the analysis are drawn from: plain arrays, in the job's frame."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hatchwright.fem.buckling import State, panel
from hatchwright.fem.running import crossing_loads
from hatchwright.strength.load_case import Case
from hatchwright.strength.opening_analysis import BucklingFactor, CaseAnalysis, OpeningAnalysis

Floats = NDArray[np.float64]

_SAME_IN = 1e-4


@dataclass(frozen=True, slots=True, eq=False)
class StressField:
    """Equivalent stress of the skin on a grid round the opening, at ultimate load.

    Args:
        places_in: crossings of rings and spokes, the first spoke repeated at the end, shape (rings, spokes, 2) [in].
        stress_psi: von Mises stress there, shape (rings, spokes) [psi].
    """

    places_in: Floats
    stress_psi: Floats


@dataclass(frozen=True, slots=True, eq=False)
class EdgeCurve:
    """Stress along the edge of the opening, before and after the doubler, at ultimate load.

    Args:
        places_in: anticlockwise from the middle of the side at the greatest X, and back to it, shape (k, 2) [in].
        way_in: along the edge to each place, shape (k,) [in].
        after_psi: with the doubler, shape (k,) [psi].
        before_psi: without it, at the same places, shape (k,) [psi].
    """

    places_in: Floats
    way_in: Floats
    after_psi: Floats
    before_psi: Floats


@dataclass(frozen=True, slots=True, eq=False)
class ModeShape:
    """How the reinforced panel buckles, sheets bending by themselves.

    Args:
        points_in: corners of triangles, shape (n, 2) [in].
        triangles: numbers of the three corners of each, shape (t, 3).
        height: deflection, the greatest being 1, shape (n,) [-].
        factor: how many times the load buckles it, lowered as for its margin [-].
    """

    points_in: Floats
    triangles: NDArray[Any]
    height: Floats
    factor: float


def stress_field(found: CaseAnalysis) -> StressField:
    """Equivalent stress of the skin.

    Args:
        found: one case.
    Returns:
        StressField: formed after the unit cases are superposed.
    Raises:
        SolveError: the skin was meshed with triangles, since its edges could not be mapped.
    """
    unit = found.response.unit
    places, loads = crossing_loads(unit, "skin")
    nx, ny, nxy = np.moveaxis(loads @ found.response.load_lbf_in, -1, 0) / unit.model.skin.thickness_in
    return StressField(places, np.sqrt(nx**2 - nx * ny + ny**2 + 3 * nxy**2))


def edge_curve(found: CaseAnalysis) -> EdgeCurve:
    """Stress along the edge before and after.

    Args:
        found: one case.
    Returns:
        EdgeCurve: both at the same places.
    """
    after, before = found.response.edge(), found.bare.edge()
    around = np.arange(len(after.points) + 1) + farthest(after.points, np.array([1.0, 0.0]))
    order = around % len(after.points)
    places = after.points[order]
    steps = np.hypot(*np.diff(places, axis=0).T)
    return EdgeCurve(
        places_in=places,
        way_in=np.concatenate([[0.0], np.cumsum(steps)]),
        after_psi=after.stress_psi[order],
        before_psi=before.at(places),
    )


def farthest(places: Floats, along: Floats) -> int:
    """The place that lies farthest in a direction; of a whole side that does, the one next to its middle.

    Args:
        places: round an edge, shape (k, 2) [in].
        along: a unit vector, shape (2,).
    Returns:
        int: its number.
    """
    level = places @ along
    side = places[level > level.max() - _SAME_IN]
    return int(np.hypot(*(places - (side.min(axis=0) + side.max(axis=0)) / 2).T).argmin())


def mode_shape(analysis: OpeningAnalysis, case: Case) -> ModeShape | None:
    """How the reinforced panel buckles, its cover carrying nothing.

    Args:
        analysis: of the opening.
        case: load case; on the restore basis its direct load is turned round.
    Returns:
        ModeShape | None: None when nothing is compressed.
    Raises:
        SolveError: the panel cannot be mapped.
    """
    sign = -1.0 if case.is_restored else 1.0
    nx, ny, q = case.load_lbf_in.tolist()
    found = panel(analysis.idle.fine, State.SHEETS_APART).buckle(
        nx_lbf_in=sign * nx, ny_lbf_in=sign * ny, q_lbf_in=q
    )
    if not np.isfinite(found.factor):
        return None
    points = found.mesh.points
    factor = BucklingFactor(State.SHEETS_APART, float(found.factor), float(found.grid_error_ratio))
    return ModeShape(points, found.mesh.corners, found.mode, factor.lowered)
