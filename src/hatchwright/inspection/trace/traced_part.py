"""What a traced drawing shows: the edge of a part, the opening in it, its holes."""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from hatchwright.errors import EntryError
from hatchwright.inspection.outline.drawn_outline import departure_in
from hatchwright.inspection.outline.fitting import fit
from hatchwright.inspection.scan.window import OPENING_IN
from hatchwright.said import inch
from hatchwright.shapes.outlines import circle
from hatchwright.shapes.pieces import Floats, complex_of, pieces_of

_LEAST_ROUND = 0.9
"""Area of a loop over that of the circle round its perimeter, below which it is looked at as no hole [-]."""


class TracedHole(Struct, frozen=True):
    """A round hole: its center (x, y), its diameter, and how far its trace departs from it [in]."""

    at: tuple[float, float]
    diameter_in: float
    departure_in: float


class TracedPart(Struct, frozen=True):
    """The loops of a drawing by what they are.

    Args:
        outline: the edge round all others, None in a drawing of holes alone; closed polygon, shape (n, 2) [in].
        opening: the largest edge in it, None without one an inch across.
        left: x, y and larger side of each loop that is neither of these nor a round hole [in].
    """

    outline: Floats | None
    opening: Floats | None
    holes: tuple[TracedHole, ...]
    left: tuple[tuple[float, float, float], ...]

    @property
    def edge(self) -> Floats | None:
        """The edge of an opening: that in the part, or the outline of a part without one."""
        return self.outline if self.opening is None else self.opening


def part_of(loops: tuple[Floats, ...], *, within_in: float, name: str) -> TracedPart:
    """Tell outline, opening and holes of a drawing apart: a circle under an inch across is a hole.

    Args:
        loops: closed polygons, each of shape (n, 2) [in].
        within_in: how far the trace of a hole may lie from its circle [in].
    Raises:
        EntryError: two parts lie side by side, or two edges cross.
    """
    loops = tuple(_without_twins(loops, within_in))
    holes = [] if len(loops) == 1 else [(loop, _hole(loop, within_in)) for loop in loops]
    round_ones = [hole for _, hole in holes if hole]
    edges = [loop for loop, hole in holes if not hole] if holes else list(loops)
    edges.sort(key=lambda loop: -abs(_area(loop)))
    if not edges:
        return TracedPart(None, None, tuple(_single(round_ones, within_in)), ())
    outline, *inner = edges
    around = pieces_of(np.column_stack([outline, np.zeros(len(outline))]))
    apart = [loop for loop in inner if not around.inside(complex_of(loop)).all()]
    if apart:
        x, y, _ = _spot(apart[0])
        raise EntryError.saying("trace.apart", where=name, n=len(apart) + 1, x=inch(x), y=inch(y))
    is_open = bool(inner) and float(np.ptp(inner[0], axis=0).max()) >= OPENING_IN
    opening, left = (inner[0], inner[1:]) if is_open else (None, inner)
    return TracedPart(outline, opening, tuple(_single(round_ones, within_in)), tuple(map(_spot, left)))


def _area(loop: Floats) -> float:
    after = np.roll(loop, -1, axis=0)
    return 0.5 * float(np.sum(loop[:, 0] * after[:, 1] - after[:, 0] * loop[:, 1]))


def _spot(loop: Floats) -> tuple[float, float, float]:
    x, y = 0.5 * (loop.min(axis=0) + loop.max(axis=0))
    return float(x), float(y), float(np.ptp(loop, axis=0).max())


def _without_twins(loops: tuple[Floats, ...], within_in: float) -> list[Floats]:
    """Each loop once: editors draw a filled shape and its border as two."""
    kept: list[Floats] = []
    for loop in loops:
        spans = [np.concatenate([one.min(axis=0), one.max(axis=0)]) for one in (*kept, loop)]
        twins = (
            np.abs(span - spans[-1]).max() <= 0.1 * within_in
            and abs(abs(_area(one)) - abs(_area(loop))) <= 0.1 * within_in * float(np.ptp(loop, axis=0).sum())
            for one, span in zip(kept, spans, strict=False)
        )
        if not any(twins):
            kept.append(loop)
    return kept


def _hole(loop: Floats, within_in: float) -> TracedHole | None:
    after = np.roll(loop, -1, axis=0)
    around = float(np.hypot(*(after - loop).T).sum())
    is_small = float(np.ptp(loop, axis=0).max()) < OPENING_IN
    if not is_small or 4.0 * math.pi * abs(_area(loop)) / around**2 < _LEAST_ROUND or len(loop) < 6:
        return None
    fitted = fit(loop, "circle")
    x, y, _, across, _, _ = fitted.numbers
    off_in = departure_in(circle(diameter_in=across, center=(x, y)), loop)
    return TracedHole((x, y), across, off_in) if off_in <= within_in else None


def _single(holes: list[TracedHole], within_in: float) -> list[TracedHole]:
    """Of circles about one center, as of a countersunk hole, the smallest."""
    kept: list[TracedHole] = []
    for hole in sorted(holes, key=lambda one: one.diameter_in):
        if all(math.dist(hole.at, other.at) > within_in for other in kept):
            kept.append(hole)
    return kept
