"""Tidying ink: nothing drawn twice, nothing of no length, and no hatching through lettering."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import compress

import numpy as np
import numpy.typing as npt
from msgspec.structs import replace

from hatchwright.drawings.boxes import Box, Floats, sides_of, touching
from hatchwright.drawings.ink import LEAST_IN, Circle, Ink, Layer, Line, Outline, Point, Solid, Text

Bools = npt.NDArray[np.bool_]

_TEXT_ROOM_IN = 0.04
_BEHIND_TEXT = frozenset((Layer.KEEP_OUT, Layer.STRUCTURE))


def without_repeats(parts: Iterable[Ink]) -> tuple[Ink, ...]:
    """Drop ink that repeats ink of the same layer, which a machine would run twice, and ink of no length."""
    drawn = tuple(parts)
    return tuple(compress(drawn, _fresh(drawn, sides_of(part.box() for part in drawn))))


def tidied(parts: Sequence[Ink], sides: Floats) -> tuple[Ink, ...]:
    """Drop what `without_repeats` drops, and interrupt hatching and structure round lettering, as a draughtsman does.

    Args:
        sides: of the box round each, shape (n, 4) [in].
    Returns:
        tuple[Ink, ...]: the ink in the same order; lines on KEEP_OUT and STRUCTURE are cut into what shows.
    """
    fresh = _fresh(parts, sides)
    drawn, sides = tuple(compress(parts, fresh)), sides[fresh]
    words = [place for place, part in enumerate(drawn) if isinstance(part, Text)]
    lines = ((place, part) for place, part in enumerate(drawn) if isinstance(part, Line))
    behind = [place for place, line in lines if line.layer in _BEHIND_TEXT and len(line.points) == 2]
    boxes = sides[words] + _TEXT_ROOM_IN * np.array([-1.0, -1.0, 1.0, 1.0])
    crossed: dict[int, list[Box]] = {}
    for line, box in np.argwhere(touching(sides[behind], boxes)).tolist():
        crossed.setdefault(behind[line], []).append(Box(*boxes[box].tolist()))
    shown: list[Ink] = []
    for place, part in enumerate(drawn):
        if place in crossed and isinstance(part, Line):
            runs = outside((part.points[0], part.points[1]), crossed[place])
            shown.extend(replace(part, points=run) for run in runs)
        else:
            shown.append(part)
    return tuple(shown)


def _fresh(parts: Sequence[Ink], sides: Floats) -> Bools:
    """Which ink has a length and repeats none before it; only ink with the same box need be compared."""
    fresh = np.ones(len(parts), dtype=np.bool_)
    if not len(parts):
        return fresh
    grid = np.round(sides / LEAST_IN)
    order = np.lexsort(grid.T)
    same = (np.diff(grid[order], axis=0) == 0.0).all(axis=1)
    alike = np.zeros(len(parts), dtype=np.bool_)
    alike[order[1:]] |= same
    alike[order[:-1]] |= same
    has_no_size = (grid[:, :2] == grid[:, 2:]).all(axis=1)
    seen: set[object] = set()
    for place in np.flatnonzero(alike | has_no_size).tolist():
        part, key = parts[place], _place_of(parts[place])
        name = type(part), part.layer, key
        fresh[place] = key is not None and name not in seen
        seen.add(name)
    return fresh


def outside(ends: tuple[Point, Point], boxes: list[Box]) -> list[tuple[Point, Point]]:
    """The runs of a straight line that lie in none of the boxes."""
    (x, y), (run, rise) = ends[0], (ends[1][0] - ends[0][0], ends[1][1] - ends[0][1])
    met = (box for box in boxes if not ((run == 0.0 and x in box[::2]) or (rise == 0.0 and y in box[1::2])))
    shares = (box.clipped(*ends) for box in met)  # a line along the side of a box shows
    hidden = sorted((enter, leave) for enter, leave in shares if enter < leave)
    shown = []
    at, least = 0.0, LEAST_IN / math.hypot(run, rise)
    for enter, leave in hidden:
        if enter - at > least:
            shown.append((at, enter))
        at = max(at, leave)
    if 1.0 - at > least:
        shown.append((at, 1.0))
    return [((x + a * run, y + a * rise), (x + b * run, y + b * rise)) for a, b in shown]


def _place_of(part: Ink) -> object | None:
    """What makes ink the same as other ink, on a grid of `LEAST_IN`; None when it has no length."""
    match part:
        case Outline(loop=loop):
            one_way = loop if loop.area_sq_in > 0.0 else loop.reversed()
            rows = [_rounded(row) for row in one_way.rows.tolist()]
            start = rows.index(min(rows))
            return (*rows[start:], *rows[:start])
        case Circle(center=center, diameter_in=diameter_in):
            return _rounded((*center, diameter_in))
        case Line(points=points) | Solid(points=points):
            places = tuple(_rounded(point) for point in points)
            return min(places, places[::-1]) if len(set(places)) > 1 else None
        case Text(at=at, words=words, angle_deg=angle_deg):
            return (_rounded(at), words, angle_deg) if words.strip() else None


def _rounded(values: Iterable[float]) -> tuple[int, ...]:
    return tuple([round(value / LEAST_IN) for value in values])
