"""What pictures of the analysis are drawn from: plain arrays, in the job's frame."""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from hatchwright.fem.grid import Grid
from hatchwright.fem.running import crossing_loads, running_loads
from hatchwright.fem.solution import EdgeStress, Response, UnitSolution
from hatchwright.fem.soundness import profile
from hatchwright.shapes.distance import distances
from hatchwright.strength.opening_analysis import CaseAnalysis

Floats = NDArray[np.float64]

_SAME_IN = 1e-4
_SAMPLES = 161
_BEYOND_RATIO = 0.12


class StressField(Struct, frozen=True, eq=False):
    """Equivalent stress of the skin on a grid, at ultimate load.

    Args:
        places_in: crossings of rings and spokes, the first spoke repeated at the end, or of rows and columns, shape
            (m, n, 2) [in].
        stress_psi: von Mises stress there, nan away from the metal, shape (m, n) [psi].
    """

    places_in: Floats
    stress_psi: Floats


class EdgeCurve(Struct, frozen=True, eq=False):
    """Stress along the edge of the opening, before and after the doubler, at ultimate load.

    Args:
        places_in: anticlockwise from the middle of the side at the greatest X, and back to it, shape (k, 2) [in].
        way_in: along the edge to each place, shape (k,) [in].
        after_psi: with the doubler, shape (k,) [psi].
        before_psi: without it, at the same places, shape (k,) [psi].
        window_way_in: along the doubler's inner edge from the same side, drawn out to the same length, shape (m,) [in].
        window_psi: stress there, shape (m,); nothing in a doubler without one [psi].
    """

    places_in: Floats
    way_in: Floats
    after_psi: Floats
    before_psi: Floats
    window_way_in: Floats
    window_psi: Floats


def stress_field(found: CaseAnalysis) -> StressField:
    """Equivalent stress of the skin.

    Returns:
        StressField: formed after the unit cases are superposed; on rings where there are any, else on rows and columns.
    """
    unit = found.response.unit
    if isinstance(unit.gives["skin"].mesh, Grid):
        places, loads = crossing_loads(unit, "skin")
        return StressField(places, _von_mises(loads @ found.response.load_lbf_in, unit))
    return _sampled(found.response)


def _sampled(response: Response) -> StressField:
    """On rows and columns over the doublers and a little beyond; off the metal only so far that no edge stays bare."""
    unit = response.unit
    bounds = np.array([sheet.outer.bounds for sheet in unit.model.doublers])
    low, high = bounds[:, :2].min(axis=0), bounds[:, 2:].max(axis=0)
    margin = _BEYOND_RATIO * (high - low).max()
    across, up = (np.linspace(low[k] - margin, high[k] + margin, _SAMPLES) for k in (0, 1))
    places = np.stack(np.meshgrid(across, up), axis=-1)
    flat = places.reshape(-1, 2)
    apart = distances(profile(unit.model.skin), flat)
    near = apart.inside | (apart.distance_in < np.hypot(across[1] - across[0], up[1] - up[0]))
    stress = np.full(len(flat), np.nan)
    stress[near] = _von_mises(running_loads(unit, "skin", flat[near]) @ response.load_lbf_in, unit)
    return StressField(places, stress.reshape(places.shape[:2]))


def _von_mises(loads_lbf_in: Floats, unit: UnitSolution) -> Floats:
    nx, ny, nxy = np.moveaxis(loads_lbf_in, -1, 0) / unit.model.skin.thickness_in
    return np.asarray(np.sqrt(nx**2 - nx * ny + ny**2 + 3 * nxy**2))


def edge_curve(found: CaseAnalysis) -> EdgeCurve:
    """Stress along the edge before and after."""
    after, before = found.response.edge(), found.bare.edge()
    places, way_in, after_psi = _once_round(after)
    if found.response.unit.sheet("doubler").inner is None:
        window_way_in = window_psi = np.zeros(0)
    else:
        _, window_way_in, window_psi = _once_round(found.response.edge("doubler"))
        window_way_in = window_way_in * way_in[-1] / window_way_in[-1]
    return EdgeCurve(places, way_in, after_psi, before.at(places), window_way_in, window_psi)


def _once_round(edge: EdgeStress) -> tuple[Floats, Floats, Floats]:
    """Places, way along the edge and stress, from the middle of the side at the greatest X and back to it."""
    around = np.arange(len(edge.points) + 1) + farthest(edge.points, np.array([1.0, 0.0]))
    order = around % len(edge.points)
    places = edge.points[order]
    way_in = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(places, axis=0).T))])
    return places, way_in, edge.stress_psi[order]


def farthest(places: Floats, along: Floats) -> int:
    """The place that lies farthest in a direction; of a whole side that does, the one next to its middle.

    Args:
        places: round an edge, shape (k, 2) [in].
        along: a unit vector, shape (2,).
    """
    level = places @ along
    side = places[level > level.max() - _SAME_IN]
    return int(np.hypot(*(places - (side.min(axis=0) + side.max(axis=0)) / 2).T).argmin())
