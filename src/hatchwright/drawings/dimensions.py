"""Dimensions: lettered horizontally in a break of the line, from one datum, the longest outermost.

That is how a shop of inch drawings expects them. Gaps and overruns are from memory, unverified
(ASME Y14.2, Y14.5).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Literal

from hatchwright.drawings.ink import Anchor, Ink, Layer, Line, Point, Text
from hatchwright.drawings.lettering import SMALL_IN, text_width_in
from hatchwright.drawings.marks import HEAD_IN, arrowhead

_GAP_IN = 0.06
_OVERRUN_IN = 0.10


def dimension(
    start: Point,
    end: Point,
    along: Literal["x", "y"],
    line_at: float,
    words: str,
    height_in: float = SMALL_IN,
    css: str = "",
    part: str = "",
) -> tuple[Ink, ...]:
    """A level or upright dimension between two points: extension lines, the broken line with its heads, the figure.

    Args:
        start: the datum (x, y) [in].
        along: "x" measures to the right, "y" upward.
        line_at: y of a level dimension line, x of an upright one [in].
        words: the figure with its unit mark or prefix, such as ``5.000`` or ``(4.00)``.
        css: class of all its ink, beside ``dimension``; "" for neither.
        part: place in the job file that the figure comes from.
    """
    axis = 0 if along == "x" else 1
    css = f"dimension {css}" if css else ""

    def on_line(u: float, off: float = 0.0) -> Point:
        """A point of the dimension line, `u` along it and `off` beside it."""
        return (u, line_at + off) if along == "x" else (line_at + off, u)

    def extension(u: float, foot: float) -> Line:
        out = math.copysign(1.0, line_at - foot)
        near = on_line(u, foot + _GAP_IN * out - line_at)
        return Line((near, on_line(u, _OVERRUN_IN * out)), Layer.DIMENSION, css=css)

    def head(u: float, direction: float) -> Ink:
        return arrowhead(on_line(u), (direction, 0.0) if along == "x" else (0.0, direction), HEAD_IN, css)

    first, last = sorted((start, end), key=lambda point: point[axis])
    low, high = first[axis], last[axis]
    break_in = (text_width_in(words, height_in=height_in) if along == "x" else height_in) + 0.12
    tail_in = 2.0 * HEAD_IN
    fits = high - low >= break_in + 2.6 * HEAD_IN
    if fits:
        middle = 0.5 * (low + high)
        runs = ((low, middle - 0.5 * break_in), (middle + 0.5 * break_in, high))
    else:  # the heads come from outside and the figure stands beyond
        middle = high + tail_in + 0.5 * break_in
        runs = ((low - tail_in, low), (high, high + tail_in))
    x, y = on_line(middle)
    return (
        extension(low, first[1 - axis]),
        extension(high, last[1 - axis]),
        *(Line((on_line(u), on_line(v)), Layer.DIMENSION, css=css) for u, v in runs),
        head(low, -1.0 if fits else 1.0),
        head(high, 1.0 if fits else -1.0),
        Text(
            (x, y - 0.5 * height_in),
            words,
            height_in,
            anchor=Anchor.MIDDLE,
            css=f"{css} along-{along}" if css else "",
            part=part,
            span=(start, end),
        ),
    )


def baseline(
    datum: Point,
    ends: Sequence[tuple[Point, str]],
    *,
    along: Literal["x", "y"],
    first_line_at: float,
    spacing_in: float = 0.35,
    css: str = "",
) -> Iterator[Ink]:
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
    for step, (point, words) in enumerate(by_length):
        yield from dimension(datum, point, along, first_line_at + step * out, words, css=css)
