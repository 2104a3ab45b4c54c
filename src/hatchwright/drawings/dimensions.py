"""Dimensions: lettered horizontally in a break of the line, from one datum, the longest outermost.

That is how a shop of inch drawings expects them. Gaps and overruns are from memory, unverified
(ASME Y14.2, Y14.5).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from hatchwright.drawings.ink import Anchor, Ink, Line, Point, Solid, Text
from hatchwright.drawings.layers import Layer
from hatchwright.drawings.lettering import SMALL_IN, text_width_in
from hatchwright.drawings.marks import HEAD_IN, arrowhead

_GAP_IN = 0.06
_OVERRUN_IN = 0.10


@dataclass(frozen=True, slots=True)
class Dimension:
    """A level or upright dimension between two points.

    Args:
        start: the datum (x, y) [in].
        along: "x" measures to the right, "y" upward.
        line_at: y of a level dimension line, x of an upright one [in].
        words: the figure with its unit mark or prefix, such as ``5.000`` or ``(4.00)``.
    """

    start: Point
    end: Point
    along: Literal["x", "y"]
    line_at: float
    words: str
    height_in: float = SMALL_IN

    def parts(self) -> tuple[Ink, ...]:
        """Two extension lines, the broken dimension line with its heads, and the figure."""
        axis = 0 if self.along == "x" else 1
        first, last = sorted((self.start, self.end), key=lambda point: point[axis])
        low, high = first[axis], last[axis]
        width_in = text_width_in(self.words, height_in=self.height_in)
        break_in = (width_in if self.along == "x" else self.height_in) + 0.12
        tail_in = 2.0 * HEAD_IN
        fits = high - low >= break_in + 2.6 * HEAD_IN
        if fits:
            middle = 0.5 * (low + high)
            runs = ((low, middle - 0.5 * break_in), (middle + 0.5 * break_in, high))
        else:  # the heads come from outside and the figure stands beyond
            middle = high + tail_in + 0.5 * break_in
            runs = ((low - tail_in, low), (high, high + tail_in))
        x, y = self._on_line(middle)
        return (
            self._extension(low, first[1 - axis]),
            self._extension(high, last[1 - axis]),
            *(Line((self._on_line(u), self._on_line(v)), Layer.DIMENSION) for u, v in runs),
            self._head(low, -1.0 if fits else 1.0),
            self._head(high, 1.0 if fits else -1.0),
            Text((x, y - 0.5 * self.height_in), self.words, self.height_in, anchor=Anchor.MIDDLE),
        )

    def _on_line(self, u: float, off: float = 0.0) -> Point:
        """A point of the dimension line, `u` along it and `off` beside it."""
        return (u, self.line_at + off) if self.along == "x" else (self.line_at + off, u)

    def _head(self, u: float, direction: float) -> Solid:
        return arrowhead(
            self._on_line(u), (direction, 0.0) if self.along == "x" else (0.0, direction), HEAD_IN
        )

    def _extension(self, u: float, foot: float) -> Line:
        out = math.copysign(1.0, self.line_at - foot)
        near = self._on_line(u, foot + _GAP_IN * out - self.line_at)
        return Line((near, self._on_line(u, _OVERRUN_IN * out)), Layer.DIMENSION)


def baseline(
    datum: Point,
    ends: Sequence[tuple[Point, str]],
    *,
    along: Literal["x", "y"],
    first_line_at: float,
    spacing_in: float = 0.35,
) -> tuple[Dimension, ...]:
    """Dimension several points from one datum, never in a chain, the longest outermost.

    Args:
        datum: the point that all are measured from (x, y) [in].
        ends: each point (x, y) [in] with the figure to letter.
        first_line_at: where the innermost dimension line lies: y for "x", x for "y" [in].
        spacing_in: from line to line; they step away from the datum's side of the part [in].
    """
    axis = 0 if along == "x" else 1
    out = math.copysign(spacing_in, first_line_at - datum[1 - axis])
    by_length = sorted(ends, key=lambda end: abs(end[0][axis] - datum[axis]))
    return tuple(
        Dimension(datum, point, along, first_line_at + step * out, words)
        for step, (point, words) in enumerate(by_length)
    )
