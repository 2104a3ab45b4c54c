"""What a join must not part: a hole with its cross, its ring, its number and the leader to it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from hatchwright.drawings.boxes import Floats, sides_of
from hatchwright.drawings.ink import Circle, Ink, Line, Text
from hatchwright.drawings.writers.tiling import OVERLAP_IN

_SAME_IN = 1e-6


def boxes_together(parts: Sequence[Ink]) -> Floats:
    """Of each piece of ink the box that a page must show whole to show it: round it and what belongs to its hole.

    Returns:
        Floats: shape (n, 4) [in]; for what belongs to a hole no larger than the overlap, so that some page shows it; of
            a hole whose number stands farther off, each for itself.
    """
    sides = sides_of(part.box() for part in parts)
    members: dict[int, list[int]] = {}
    hole_at: dict[tuple[int, int], int] = {}
    for place, part in enumerate(parts):
        if isinstance(part, Circle) and part.hole is not None:
            members.setdefault(part.hole, []).append(place)
            hole_at[_grid(part.center)] = part.hole
    for place, part in enumerate(parts):
        hole = _hole_of(part, hole_at, members)
        if hole is not None:
            members[hole].append(place)
    for group in members.values():
        box = np.concatenate([sides[group, :2].min(axis=0), sides[group, 2:].max(axis=0)])
        if (box[2:] - box[:2] <= OVERLAP_IN).all():
            sides[group] = box
    return sides


def _hole_of(part: Ink, hole_at: dict[tuple[int, int], int], known: dict[int, list[int]]) -> int | None:
    """The hole that a number names, or in the middle of which a short line lies."""
    if isinstance(part, Text) and part.css == "hole-number":
        number = int(part.note_id.removeprefix("hole-"))
        return number if number in known else None
    if isinstance(part, Line) and len(part.points) == 2:
        (a, b), (c, d) = part.points
        return hole_at.get(_grid((0.5 * (a + c), 0.5 * (b + d))))
    return None


def _grid(point: tuple[float, float]) -> tuple[int, int]:
    return round(point[0] / _SAME_IN), round(point[1] / _SAME_IN)
