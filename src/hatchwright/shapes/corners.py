"""Corners of a closed loop: where it turns, how sharply, and which way."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hatchwright.shapes.profile import Arc, Line, Loop, Profile

_SHARP_RAD = 1e-6
"""Neighboring pieces that turn by less are tangent [rad]."""


@dataclass(frozen=True, slots=True)
class Corner:
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
    """Every corner of a loop, in the order of its run.

    Args:
        loop: counter-clockwise [in].
    Returns:
        tuple: rounded corners by their arcs, sharp ones by their vertices.
    """
    pieces = list(loop.cleaned().pieces())
    found: list[Corner] = []
    for before, piece in zip(pieces[-1:] + pieces[:-1], pieces, strict=True):
        turn = _turn(_direction(before, at_end=True), _direction(piece, at_end=False))
        if abs(turn) > _SHARP_RAD:
            found.append(Corner(piece.start, piece.start, 0.0, turn))
        if isinstance(piece, Arc):
            found.append(Corner(_middle(piece), piece.center, piece.radius_in, piece.sweep_rad))
    return tuple(found)


def smallest_corner(loop: Loop, *, reentrant: bool | None = None) -> Corner | None:
    """The corner of the least radius.

    Args:
        loop: counter-clockwise [in].
        reentrant: only re-entrant corners, only the others, or both with None.
    """
    chosen = [corner for corner in corners(loop) if reentrant is None or corner.is_reentrant == reentrant]
    return min(chosen, key=lambda corner: corner.radius_in, default=None)


def least_corner(profile: Profile) -> Corner | None:
    """The sharpest corner of a cut that bulges out, None when it has none."""
    found = [corner for loop in profile.loops for corner in corners(loop) if not corner.is_reentrant]
    return min(found, key=lambda corner: corner.radius_in, default=None)


def _direction(piece: Line | Arc, *, at_end: bool) -> float:
    """Heading of a piece at one of its ends [rad]."""
    if isinstance(piece, Line):
        return math.atan2(piece.end[1] - piece.start[1], piece.end[0] - piece.start[0])
    x, y = piece.end if at_end else piece.start
    radial = math.atan2(y - piece.center[1], x - piece.center[0])
    return radial + math.copysign(math.pi / 2.0, piece.sweep_rad)


def _turn(before: float, after: float) -> float:
    turn = (after - before + math.pi) % (2.0 * math.pi) - math.pi
    return math.pi if turn == -math.pi else turn


def _middle(arc: Arc) -> tuple[float, float]:
    angle = math.atan2(arc.start[1] - arc.center[1], arc.start[0] - arc.center[0]) + arc.sweep_rad / 2.0
    return arc.center[0] + arc.radius_in * math.cos(angle), arc.center[1] + arc.radius_in * math.sin(angle)
