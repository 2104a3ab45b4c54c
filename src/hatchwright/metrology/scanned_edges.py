"""Shift, turn and eccentricity of a trial cut from where it lay in one scan, or in two.

Method: docs/theory/trial.md, eq. 9 and 18.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from hatchwright.metrology.edge_fit import EdgeFit
from hatchwright.metrology.real_offset import Effect, coverage_factor


class ScannedPose(Struct, frozen=True):
    """Where one cut lay from the datum cross.

    Args:
        shift_in: of its middle along X and Y [in].
        shift_standard_in: standard uncertainty of either [in].
        turn_rad: counterclockwise [rad].
        turn_standard_rad: its standard uncertainty [rad].
        turned: whether its template was turned half round from the first one's.
    """

    shift_in: tuple[float, float]
    shift_standard_in: float
    turn_rad: float
    turn_standard_rad: float
    turned: bool


def scanned_edges(poses: Sequence[ScannedPose], *, growth: Effect, scatter_in: float) -> EdgeFit | None:
    """What explains where the cuts lie; None without any.

    A shift of the template turns with it, an eccentricity keeps its heading: with both kinds of cut their half
    difference is the one and their half sum the other; else they are together.

    Args:
        growth: how far the whole edge reaches beyond its line [in].
        scatter_in: of single places of the edge, one standard deviation [in].
    """
    kinds = [[one for one in poses if one.turned is turned] for turned in (False, True)]
    if not poses:
        return None
    turn = _mean([(one.turn_rad, one.turn_standard_rad) for one in poses])
    if not all(kinds):
        x, y = (_mean([(one.shift_in[k], one.shift_standard_in) for one in poses]) for k in (0, 1))
        shift, eccentricity = (_effect(x), _effect(y)), None
    else:
        plain, other = (
            [_mean([(one.shift_in[k], one.shift_standard_in) for one in kind]) for k in (0, 1)]
            for kind in kinds
        )
        pairs = list(zip(plain, other, strict=True))
        halves = [0.5 * math.hypot(a[1], b[1]) for a, b in pairs]
        differ = [_effect((0.5 * (a[0] - b[0]), u)) for (a, b), u in zip(pairs, halves, strict=True)]
        agree = [_effect((0.5 * (a[0] + b[0]), u)) for (a, b), u in zip(pairs, halves, strict=True)]
        shift, eccentricity = (differ[0], differ[1]), (agree[0], agree[1])
    return EdgeFit(
        growth=growth,
        shift=shift,
        turn_rad=_effect(turn),
        eccentricity=eccentricity,
        sides=(),
        apart=None,
        scatter_in=scatter_in,
        rank=4 if eccentricity is None else 6,
    )


def _mean(values: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Mean of values with their standard uncertainties, and its own."""
    count = len(values)
    return sum(one for one, _ in values) / count, math.hypot(*(u for _, u in values)) / count


def _effect(value: tuple[float, float]) -> Effect:
    return Effect(value[0], coverage_factor(math.inf) * value[1])
