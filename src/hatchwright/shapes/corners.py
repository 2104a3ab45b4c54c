"""Corners of a closed loop: where it turns, how sharply, and which way."""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from hatchwright.shapes.pieces import pair_of, preceding
from hatchwright.shapes.profile import Loop

_SHARP_RAD = 1e-6
"""Neighboring pieces that turn by less are tangent [rad]."""


class Corner(Struct, frozen=True):
    """One corner of a counter-clockwise loop.

    Args:
        place: middle of its arc, or its vertex when it is sharp (x, y) [in].
        center: center of its arc, or its vertex (x, y) [in].
        radius_in: 0 when it is sharp [in].
        turn_rad: angle turned through, positive where the region bulges out, negative where it is re-entrant [rad].
    """

    place: tuple[float, float]
    center: tuple[float, float]
    radius_in: float
    turn_rad: float

    @property
    def is_reentrant(self) -> bool:
        """Whether what is outside the loop points into it here."""
        return self.turn_rad < 0.0


def corners(loop: Loop) -> tuple[Corner, ...]:
    """Every corner of a counter-clockwise loop in the order of its run: rounded ones by their arcs, sharp ones by their
    vertices."""
    parts = loop.cleaned().working_form()
    sets_out, arrives = parts.tangents()
    turn_rad = np.angle(sets_out * preceding(arrives).conj())
    turn_rad = np.where(turn_rad == -np.pi, np.pi, turn_rad)  # a reversal counts as bulging out
    sweep_rad, start_rad = parts.sweep_rad, np.angle(parts.start - parts.center)
    found: list[Corner] = []
    for k in range(parts.count):
        if abs(turn_rad[k]) > _SHARP_RAD:
            vertex = pair_of(parts.start[k])
            found.append(Corner(vertex, vertex, 0.0, float(turn_rad[k])))
        if parts.bulge[k] != 0.0:
            (x, y), radius_in = pair_of(parts.center[k]), float(parts.radius[k])
            half_way = float(start_rad[k] + sweep_rad[k] / 2.0)
            place = (x + radius_in * math.cos(half_way), y + radius_in * math.sin(half_way))
            found.append(Corner(place, (x, y), radius_in, float(sweep_rad[k])))
    return tuple(found)


def smallest_corner(*loops: Loop, reentrant: bool | None = None) -> Corner | None:
    """The corner of the least radius among counter-clockwise loops, None where there is none.

    Args:
        reentrant: only re-entrant corners, only the others, or both with None.
    """
    every = (corner for loop in loops for corner in corners(loop))
    chosen = (corner for corner in every if reentrant is None or corner.is_reentrant == reentrant)
    return min(chosen, key=lambda corner: corner.radius_in, default=None)
