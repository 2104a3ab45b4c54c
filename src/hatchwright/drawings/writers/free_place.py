"""Whether ink really comes into a box on the page: its lines and arcs, not the box round them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Circle, Ink, Line, Outline, Point, Text

_CHORD_IN = 0.01  # a label may come that near to an arc


def is_free(box: Box, ink: Iterable[Ink]) -> bool:
    """Whether no ink comes into a box; lettering counts by the box round it, all else by its lines and arcs."""
    return not any(part.box().touches(box) and _comes_into(box, part) for part in ink)


def _comes_into(box: Box, part: Ink) -> bool:
    if isinstance(part, Text):
        return True
    if isinstance(part, Circle):
        x, y = part.center
        off_x, off_y = max(box.left - x, 0.0, x - box.right), max(box.bottom - y, 0.0, y - box.top)
        return bool(off_x**2 + off_y**2 <= (0.5 * part.diameter_in) ** 2)
    return any(_crosses(box, start, end) for start, end in _lines(part))


def _lines(part: Ink) -> Iterator[tuple[Point, Point]]:
    if isinstance(part, Outline):
        points = [(float(x), float(y)) for x, y in part.loop.points(_CHORD_IN)]
        yield from pairwise((*points, points[0]))
    elif isinstance(part, Line):
        yield from pairwise(part.points)
    elif not isinstance(part, Circle | Text):
        yield from pairwise((*part.points, part.points[0]))


def _crosses(box: Box, start: Point, end: Point) -> bool:
    """Whether a straight line has a point in the box, by clipping it at the four sides."""
    enter, leave = 0.0, 1.0
    sides = ((box.left, box.right), (box.bottom, box.top))
    for a, b, (low, high) in zip(start, end, sides, strict=True):
        if a == b:
            if not low <= a <= high:
                return False
            continue
        near, far = sorted(((low - a) / (b - a), (high - a) / (b - a)))
        enter, leave = max(enter, near), min(leave, far)
    return enter <= leave
