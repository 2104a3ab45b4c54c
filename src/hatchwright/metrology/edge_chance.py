"""The chance that an edge distance comes out short of its limit, from the shop's own scatter.

Method: docs/theory/edge_chance.md.
"""

from __future__ import annotations

import math


def edge_deviation_in(
    *, drill_in: float, placement_in: float, turn_rad: float, edge_in: float, lever_in: float
) -> float:
    """Standard deviation of one edge distance, to the first order, from those of what moves a hole against an edge.

    Args:
        drill_in: of the hole's center about its mark, along one axis [in].
        placement_in: of the place at which the pattern is laid on, along one axis [in].
        turn_rad: of the angle at which it is laid on [rad].
        edge_in: of the edge about its line [in].
        lever_in: by how much the distance changes for each radian that the pattern is turned [in].
    Method: docs/theory/edge_chance.md, eq. 1.
    """
    return math.hypot(drill_in, placement_in, turn_rad * lever_in, edge_in)


def short_chance(*, nominal_in: float, limit_in: float, deviation_in: float) -> float:
    """Chance that a normally scattered edge distance comes out below its limit.

    Method: docs/theory/edge_chance.md, eq. 2: Phi((limit - nominal)/s).

    >>> round(short_chance(nominal_in=0.30, limit_in=0.25, deviation_in=0.025), 4)
    0.0228
    """
    return 0.5 * math.erfc((nominal_in - limit_in) / (deviation_in * math.sqrt(2.0)))
