"""Growth, shift, turn and eccentricity from distances between a datum cross and the cut edge.

Method: docs/theory/trial.md, eq. 8 to 10.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hatchwright.shapes.pieces import Floats
from hatchwright.tooling.real_offset import LEVEL, Effect
from hatchwright.tooling.students_t import t_quantile


@dataclass(frozen=True, slots=True)
class EdgeRun:
    """The edge of one trial cut at its numbered places.

    Args:
        places: where the edge should be, from the datum cross, shape (n, 2) [in].
        normals: directions out of the opening there, shape (n, 2) [-].
        beyond_in: how far the cut reaches beyond the place, shape (n,) [in].
        turned: whether the template was turned half round from the first cut.
    """

    places: Floats
    normals: Floats
    beyond_in: Floats
    turned: bool


@dataclass(frozen=True, slots=True)
class EdgeFit:
    """What explains the readings best.

    Args:
        growth: how far the whole edge reaches beyond its line [in].
        shift: how far the template lies off along X and Y [in]; with one cut, or cuts of one heading only, the
            eccentricity is in it.
        turn_rad: how far the template is turned [rad]; None on a disc, which does not show it.
        eccentricity: how far the cut lies off its guide along X and Y, the tool's heading kept to the room [in];
            None when it cannot be told from the shift.
        scatter_in: what is left unexplained, one standard deviation [in].
        rank: number of unknowns that the readings tell apart.
    """

    growth: Effect
    shift: tuple[Effect, Effect]
    turn_rad: Effect | None
    eccentricity: tuple[Effect, Effect] | None
    scatter_in: float
    rank: int


_LEVERLESS_IN = 1e-9


def fit_edges(runs: tuple[EdgeRun, ...]) -> EdgeFit | None:
    """Least squares over all trial cuts.

    Args:
        runs: one or more cuts.
    Returns:
        EdgeFit | None: None when there are no more readings than unknowns.
    Method: docs/theory/trial.md, eq. 8: beyond = growth + n . shift (sign turned with the template)
        + (r x n) turn + n . eccentricity.
    """
    normals = np.vstack([run.normals for run in runs])
    places = np.vstack([run.places for run in runs])
    beyond = np.concatenate([run.beyond_in for run in runs])
    sign = np.concatenate([np.full(len(run.beyond_in), -1.0 if run.turned else 1.0) for run in runs])
    lever = places[:, 0] * normals[:, 1] - places[:, 1] * normals[:, 0]
    has_lever = bool(np.abs(lever).max() > _LEVERLESS_IN)
    is_apart = len({run.turned for run in runs}) == 2
    columns = [np.ones(len(beyond)), sign * normals[:, 0], sign * normals[:, 1]]
    columns += [normals[:, 0], normals[:, 1]] if is_apart else []
    columns += [lever] if has_lever else []
    matrix = np.column_stack(columns)
    freedom = len(beyond) - matrix.shape[1]
    if freedom < 1:
        return None
    found, _, rank, _ = np.linalg.lstsq(matrix, beyond, rcond=None)
    scatter_in = float(np.linalg.norm(beyond - matrix @ found) / np.sqrt(freedom))
    unit = np.sqrt(np.diag(np.linalg.inv(matrix.T @ matrix)))
    half = t_quantile(0.5 + LEVEL / 2.0, freedom) * scatter_in * unit
    effects = [Effect(float(value), float(width)) for value, width in zip(found, half, strict=True)]
    return EdgeFit(
        growth=effects[0],
        shift=(effects[1], effects[2]),
        turn_rad=effects[-1] if has_lever else None,
        eccentricity=(effects[3], effects[4]) if is_apart else None,
        scatter_in=scatter_in,
        rank=int(rank),
    )
