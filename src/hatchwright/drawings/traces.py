"""Traces of ink as plain arrays: where its lines run and what its lettering, circles and arrowheads cover."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

import numpy as np
from msgspec import Struct

from hatchwright.drawings.boxes import Box, Floats, sides_of
from hatchwright.drawings.ink import Circle, Ink, Line, Outline
from hatchwright.drawings.near import boxes_of_lines, divided, touching_pairs

_CHORD_IN = 0.01
_LARGE_IN = 0.5  # a circle as large is a line round a room, a smaller one is a mark


class Traces(Struct, frozen=True):
    """Where some ink lies on the page.

    Args:
        lines: of edges and lines in short pieces, start and end of each, shape (n, 4) [in].
        boxes: round lettering, circles and arrowheads, shape (m, 4) [in].
    """

    lines: Floats
    boxes: Floats

    @property
    def pieces(self) -> Floats:
        """Boxes round all of it, piece by piece, shape (n + m, 4) [in]."""
        return np.concatenate([boxes_of_lines(self.lines), self.boxes])

    def beside(self, other: Traces) -> Traces:
        """Both together."""
        return Traces(
            np.concatenate([self.lines, other.lines]),
            np.concatenate([self.boxes, other.boxes]),
        )

    def moved(self, right_in: float, up_in: float) -> Traces:
        """The same, moved over the page [in]."""
        by = np.array([right_in, up_in, right_in, up_in])
        return Traces(self.lines + by, self.boxes + by)

    def is_clear(self, boxes: Floats, *, of_lines: bool = True) -> list[bool]:
        """Whether each box of shape (k, 4) holds none of it, or no lettering, circle or arrowhead [in]."""
        met, _ = touching_pairs(boxes, self.pieces if of_lines else self.boxes)
        clear = np.ones(len(boxes), dtype=np.bool_)
        clear[met] = False
        flags: list[bool] = clear.tolist()
        return flags


def traced(parts: Iterable[Ink]) -> Traces:
    """The traces of some ink."""
    lines: list[tuple[float, float, float, float]] = []
    loops: list[Floats] = []
    boxes: list[Box] = []
    for part in parts:
        if isinstance(part, Line):
            lines += ((*start, *end) for start, end in pairwise(part.points))
        elif isinstance(part, Outline):
            points = part.loop.points(_CHORD_IN)
            loops.append(np.hstack([points, np.roll(points, -1, axis=0)]))
        elif isinstance(part, Circle) and part.diameter_in > _LARGE_IN:
            loops.append(_round(part))
        else:
            boxes.append(part.box())
    drawn = np.concatenate([np.array(lines, dtype=np.float64).reshape(-1, 4), *loops])
    return Traces(divided(drawn), sides_of(boxes))


def _round(circle: Circle) -> Floats:
    angle = np.linspace(0.0, 2.0 * np.pi, 72)
    points = np.array(circle.center) + 0.5 * circle.diameter_in * np.stack(
        [np.cos(angle), np.sin(angle)], axis=1
    )
    return np.hstack([points[:-1], points[1:]])
