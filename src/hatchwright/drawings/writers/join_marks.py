"""Joins: what lays one page truly on the next, crosses at both ends and in the middle, and a bar to prove it.

Two crosses L apart, each laid wrong by e to the other side, turn the next page by 2 e / L and put a point D beyond the
join wrong by 2 e D / L: so the crosses stand as far apart as the page allows, and D is kept short.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from hatchwright.drawings.boxes import sides_of
from hatchwright.drawings.ink import Ink, Layer, Line, Point, Style, box_of
from hatchwright.drawings.near import touching_pairs
from hatchwright.drawings.traces import Traces, traced
from hatchwright.drawings.writers.check_bars import check_bar
from hatchwright.drawings.writers.tiling import Join
from hatchwright.said import said
from hatchwright.units import MM_PER_IN, Unit
from hatchwright.words.tell import tell

_BARS = {
    "in": tuple((inches, f"{inches:.3f} in", round(inches)) for inches in (4.0, 3.0, 2.0)),
    "mm": tuple((mm / MM_PER_IN, f"{mm} mm", mm // 25) for mm in (100, 75, 50)),
}
"""Bars that run over a join, the longest first: length [in], how it is lettered, graduations."""

_MARKS_IN = ((0.2, 0.1), (0.12, 0.07))
"""Half sizes of a cross and of its diamond, those of the smaller where the larger finds no room [in]."""

_STEP_IN = 0.05
_MOST_IN = 4.0
"""How far a mark may move along its join to stand on nothing [in]."""

_CLEAR_IN = 0.04
_BEFORE_IN = 0.32
_WORDS_OFF_IN = 0.32
_END_IN = 0.45


def join_ink(
    joins: Sequence[Join], drawn: Traces, unit: Unit, window_in: tuple[float, float]
) -> tuple[Ink, ...]:
    """Marks, bars and dotted lines of all joins, on the sheet.

    Args:
        drawn: ink of the drawing, which the marks keep off.
        window_in: of a tile, half of which a bar has on each side of a join [in].
    """
    made: list[Ink] = []
    taken = drawn
    for join in joins:
        marks = tuple(_marks(join, taken))
        taken = taken.beside(Traces(np.empty((0, 4)), sides_of(map(box_of, marks))))
        made += (part for mark in marks for part in mark)
    for join in joins:
        bar = _bar(join, taken, unit, window_in)
        taken = taken.beside(traced(bar))
        made += bar
    for join in joins:
        made += _dotted(join, taken)
    return tuple(made)


def _marks(join: Join, drawn: Traces) -> Iterator[tuple[Ink, ...]]:
    """Crosses at both ends of a join and in its middle, each moved along it until it stands on nothing."""
    middle = 0.5 * (join.low_in + join.high_in)
    steps = np.arange(0.0, min(_MOST_IN, 0.4 * (join.high_in - join.low_in)), _STEP_IN)
    both_ways = np.stack([steps, -steps], axis=1).ravel()
    for places in (join.low_in + steps, middle + both_ways, join.high_in - steps):
        at = [join.place(along_in) for along_in in places.tolist()]
        yield _least_in_the_way([_mark(*place, *size) for size in _MARKS_IN for place in at], drawn)


def _least_in_the_way(tried: Sequence[tuple[Ink, ...]], drawn: Traces) -> tuple[Ink, ...]:
    """The first of some ink that stands on nothing; else on no lettering or hole; else on the fewest of them."""
    sides = sides_of(box_of(ink).grown(_CLEAR_IN) for ink in tried)
    for of_lines in (True, False):
        clear = drawn.is_clear(sides, of_lines=of_lines)
        if any(clear):
            return tried[clear.index(True)]
    met, _ = touching_pairs(sides, drawn.boxes)
    return tried[int(np.argmin(np.bincount(met, minlength=len(tried))))]


def _mark(x: float, y: float, arm: float, half: float) -> tuple[Ink, ...]:
    """A thin cross in a diamond, so that nobody takes it for the center of a hole."""
    diamond = ((x - half, y), (x, y - half), (x + half, y), (x, y + half), (x - half, y))
    lines = (((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm)), diamond)
    return tuple(Line(points, Layer.CHECK, css="tile-mark") for points in lines)


def _bar(join: Join, drawn: Traces, unit: Unit, window_in: tuple[float, float]) -> tuple[Ink, ...]:
    """The longest bar over a join that finds a place on nothing; else the longest there is, on the least."""
    across_in = window_in[0 if join.along == "y" else 1]
    fitting = [bar for bar in _BARS[unit] if 0.5 * bar[0] <= across_in - _END_IN] or [_BARS[unit][-1]]
    places = np.arange(join.low_in + _BEFORE_IN, join.high_in - _BEFORE_IN, _STEP_IN).tolist() or [
        join.low_in
    ]
    return _least_in_the_way([_bar_at(join, along_in, *bar) for bar in fitting for along_in in places], drawn)


def _bar_at(join: Join, along_in: float, length_in: float, words: str, spaces: int) -> tuple[Ink, ...]:
    """A bar across a join, lettered on both sides of it, so that each page shows its words whole."""
    start: Point = join.place(along_in, -0.5 * length_in)
    told = tell(said("bar.over_the_join", length=words)) if length_in > 3.5 else words
    words_at = (0.12, 0.5 * length_in + _WORDS_OFF_IN)
    return check_bar(start, "x" if join.along == "y" else "y", length_in, spaces, told, words_at)


def _dotted(join: Join, drawn: Traces) -> Iterator[Line]:
    """The line of a join, interrupted where something is lettered or drilled."""
    low, high = join.low_in - 0.25, join.high_in + 0.25
    axis = 0 if join.along == "y" else 1
    boxes = drawn.boxes[
        (drawn.boxes[:, axis] < join.at_in + _CLEAR_IN) & (drawn.boxes[:, axis + 2] > join.at_in - _CLEAR_IN)
    ]
    hidden = sorted((float(box[1 - axis]) - _CLEAR_IN, float(box[3 - axis]) + _CLEAR_IN) for box in boxes)
    at = low
    for start, end in [*hidden, (high, high)]:
        if min(start, high) - at > _CLEAR_IN:
            yield Line((join.place(at), join.place(min(start, high))), Layer.CHECK, Style.JOIN)
        at = max(at, end)
