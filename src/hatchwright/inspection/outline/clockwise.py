"""The order in which holes round an edge are counted."""

from __future__ import annotations

import math
from collections.abc import Sequence

_SAME_RAD = 1e-9


def clockwise(places: Sequence[tuple[float, float]]) -> list[int]:
    """Numbers of places (x, y) clockwise about their middle, from the one farthest to the upper left.

    >>> clockwise([(1.0, 1.0), (-1.0, -1.0), (-1.0, 1.0), (1.0, -1.0)])
    [2, 0, 3, 1]
    """
    if not places:
        return []
    x, y = (0.5 * (min(one[k] for one in places) + max(one[k] for one in places)) for k in (0, 1))
    turns = [math.atan2(one[1] - y, one[0] - x) for one in places]
    first = turns[max(range(len(places)), key=lambda number: places[number][1] - places[number][0])]
    return sorted(
        range(len(places)), key=lambda number: (first - turns[number] + _SAME_RAD) % (2.0 * math.pi)
    )
