"""Growth, shift, turn and eccentricity from distances between a datum cross and the cut edge.

Method: docs/theory/trial.md, eq. 9 to 13.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from hatchwright.metrology.real_offset import LEVEL, Effect, Floats, effect
from hatchwright.metrology.standing_apart import StandingApart, standing_apart


class EdgeRun(Struct, frozen=True):
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


class EdgeFit(Struct, frozen=True):
    """What explains the readings best.

    Args:
        growth: how far the whole edge reaches beyond its line [in].
        shift: how far the template lies off along X and Y [in]; with one cut, or cuts of one heading only, the
            eccentricity is in it.
        turn_rad: how far the template is turned [rad]; None on a disc, which does not show it.
        eccentricity: how far the cut lies off its guide along X and Y, the tool's heading kept to the room [in];
            None when it cannot be told from the shift.
        sides: how far each straight side is turned by itself, in the order of the places; empty on a disc.
        apart: the reading that the others do not bear out, counted over all cuts, None when there is none.
        scatter_in: what is left unexplained, one standard deviation [in].
        rank: number of unknowns that the readings tell apart.
    """

    growth: Effect
    shift: tuple[Effect, Effect]
    turn_rad: Effect | None
    eccentricity: tuple[Effect, Effect] | None
    sides: tuple[SideTurn, ...]
    apart: StandingApart | None
    scatter_in: float
    rank: int

    @property
    def sides_disagree(self) -> bool:
        """Whether the sides are not turned alike, so that there is no one turn."""
        return any(side.against_all.shows for side in self.sides)


class SideTurn(Struct, frozen=True):
    """The turn of one straight side.

    Args:
        normal: direction out of the opening (u, v) [-].
        turn_rad: by its own places alone [rad].
        against_all: that less the turn of all sides together [rad].
    """

    normal: tuple[float, float]
    turn_rad: float
    against_all: Effect


_LEVERLESS_IN = 1e-9


def fit_edges(runs: tuple[EdgeRun, ...], *, gauge_limit_in: float = 0.0) -> EdgeFit | None:
    """Least squares over all trial cuts; None when there are no more readings than unknowns.

    Args:
        gauge_limit_in: largest error of a reading either way, 0 to judge by the scatter alone [in].
    Method: docs/theory/trial.md, eq. 9: beyond = growth + n . shift (sign turned with the template)
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
    weights = np.linalg.pinv(matrix)
    effects = [
        effect(
            float(value),
            scattered=float(row @ row) * scatter_in**2,
            freedom=freedom,
            limited=(gauge_limit_in * float(np.abs(row).sum())) ** 2 / 3.0,
        )
        for value, row in zip(found, weights, strict=True)
    ]
    return EdgeFit(
        growth=effects[0],
        shift=(effects[1], effects[2]),
        turn_rad=effects[-1] if has_lever else None,
        eccentricity=(effects[3], effects[4]) if is_apart else None,
        sides=_sides(normals, lever, beyond, len(runs), gauge_limit_in) if has_lever else (),
        apart=standing_apart(beyond, matrix, gauge_limit_in=gauge_limit_in),
        scatter_in=scatter_in,
        rank=int(rank),
    )


def _sides(
    normals: Floats, lever: Floats, beyond: Floats, cuts: int, gauge_limit_in: float
) -> tuple[SideTurn, ...]:
    """Each straight side by itself; every cut has a reach of its own there, and all of them one turn."""
    ways = list(dict.fromkeys(map(tuple, normals.tolist())))
    members = [np.flatnonzero((normals == way).all(axis=1)).reshape(cuts, -1) for way in ways]
    apart = [(lever[m] - lever[m].mean(axis=1, keepdims=True)).ravel() for m in members]
    reach = [(beyond[m] - beyond[m].mean(axis=1, keepdims=True)).ravel() for m in members]
    spread = [float(a @ a) for a in apart]
    turns = [float(a @ r) / q for a, r, q in zip(apart, reach, spread, strict=True)]
    common = sum(t * q for t, q in zip(turns, spread, strict=True)) / sum(spread)
    freedom = len(beyond) - (cuts + 1) * len(ways)
    left = sum(float(np.sum((r - t * a) ** 2)) for r, t, a in zip(reach, turns, apart, strict=True))
    return tuple(
        SideTurn(
            normal=way,
            turn_rad=turn,
            against_all=effect(
                turn - common,
                scattered=left / freedom * (1.0 / q - 1.0 / sum(spread)),
                freedom=freedom,
                limited=2.0 * gauge_limit_in**2 / 3.0 / float(np.ptp(a)) ** 2,
                level=1.0 - (1.0 - LEVEL) / len(ways),
            ),
        )
        for way, turn, q, a in zip(ways, turns, spread, apart, strict=True)
    )
