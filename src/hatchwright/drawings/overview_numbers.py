"""Hole numbers of a drawing to scale: every fifth, the ends of each row, and those that a finding names.

At half size there is no room for all of them. Each number that is lettered stands clear of edges, holes and other
lettering, near its hole where it can, else at the end of a leader. Studied on 60 synthetic jobs at half size, whose
every fifth number found such a place.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Anchor, Circle, Ink, Layer, Line, Outline, Point, Solid, Text, box_of
from hatchwright.drawings.lettering import text_width_in
from hatchwright.finding import Finding
from hatchwright.layout.layout import Hole, Layout

EVERY = 5
"""Every so manieth hole of a row bears its number [-]. Own choice, from the study."""

_CELL_IN = 0.02
_CHORD_IN = 0.005
_OFFS_IN = (0.04, 0.09, 0.18, 0.3, 0.45, 0.6)
_TURNS = 16
_LEADER_FROM_IN = 0.1
_AROUND_IN = 0.02
_BEHIND = frozenset((Layer.STRUCTURE, Layer.KEEP_OUT))
"""Structure and hatching are interrupted round lettering."""

Cells = npt.NDArray[np.int32]


def numbered_holes(layout: Layout, findings: Iterable[Finding]) -> tuple[Hole, ...]:
    """The holes whose numbers are lettered."""
    named = {number for finding in findings if finding.status.holds_back for number in finding.holes[:2]}
    wanted = set(named)
    for holes in layout.rows().values():
        wanted |= {hole.number for hole in (*holes[::EVERY], holes[-1])}
    return tuple(hole for hole in layout.holes if hole.number in wanted)


class _Field:
    """Where there is ink, on a grid, with sums from its corner so that a box is asked at once."""

    def __init__(self, ink: Sequence[Ink]) -> None:
        self.box = box_of(ink).grown(1.0)
        shape = (
            math.ceil(self.box.height_in / _CELL_IN) + 1,
            math.ceil(self.box.width_in / _CELL_IN) + 1,
        )
        self.cells: Cells = np.zeros(shape, dtype=np.int32)
        for part in ink:
            self._mark(part)
        self._sum()

    def take(self, *ink: Ink) -> None:
        """Mark what was drawn since."""
        for part in ink:
            self._mark(part)
        self._sum()

    def under(self, box: Box) -> int:
        """How much ink lies under a box."""
        (top, right), (bottom, left) = self._cell(box.right, box.top), self._cell(box.left, box.bottom)
        sums = self.sums
        return int(
            sums[top + 1, right + 1] - sums[bottom, right + 1] - sums[top + 1, left] + sums[bottom, left]
        )

    def along(self, start: Point, end: Point) -> int:
        """How much ink a line meets."""
        return sum(int(self.cells[self._cell(*at)]) for at in _steps(start, end))

    def _sum(self) -> None:
        self.sums = np.pad(self.cells.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))

    def _cell(self, x: float, y: float) -> tuple[int, int]:
        rows, columns = self.cells.shape
        row, column = int((y - self.box.bottom) / _CELL_IN), int((x - self.box.left) / _CELL_IN)
        return min(max(row, 0), rows - 1), min(max(column, 0), columns - 1)

    def _mark(self, part: Ink) -> None:
        match part:
            case Text() | Solid():
                self._fill(part.box())
            case Circle(center=center, diameter_in=diameter_in):
                self._fill(Box(*center, *center).grown(0.5 * diameter_in))
            case Outline(loop=loop):
                points = [(float(x), float(y)) for x, y in loop.points(_CHORD_IN)]
                self._run([*points, points[0]])
            case Line(points=points):
                self._run(points)

    def _fill(self, box: Box) -> None:
        (top, right), (bottom, left) = self._cell(box.right, box.top), self._cell(box.left, box.bottom)
        self.cells[bottom : top + 1, left : right + 1] = 1

    def _run(self, points: Sequence[Point]) -> None:
        for start, end in pairwise(points):
            for at in _steps(start, end):
                self.cells[self._cell(*at)] = 1


def _steps(start: Point, end: Point) -> Iterator[Point]:
    count = max(1, math.ceil(math.dist(start, end) / (0.5 * _CELL_IN)))
    for step in range(count + 1):
        share = step / count
        yield start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def number_labels(
    spots: Sequence[tuple[int, Point, float]], drawn: Sequence[Ink], *, height_in: float
) -> Iterator[Ink]:
    """Letter numbers, the one with fewest clean places first, each with a leader where it stands off its hole.

    Args:
        spots: number, center on the page and radius to keep clear of each [in].
        drawn: all other ink, which neither a number nor a leader may meet.
        height_in: of the figures [in].
    """
    field = _Field([part for part in drawn if part.layer not in _BEHIND])
    free = {spot: sum(cost == 0.0 for cost, *_ in _candidates(field, spot, height_in)) for spot in spots}
    for spot in sorted(spots, key=lambda spot: (free[spot], spot[0])):
        _, text, leader = min(_candidates(field, spot, height_in), key=lambda place: place[0])
        ink = (text, leader) if leader else (text,)
        field.take(*ink)
        yield from ink


def _candidates(
    field: _Field, spot: tuple[int, Point, float], height_in: float
) -> Iterator[tuple[float, Text, Line | None]]:
    """Places of one number with what each would hide, the nearest first."""
    number, (x, y), clear_in = spot
    words = str(number)
    half_wide, half_high = 0.5 * text_width_in(words, height_in=height_in), 0.5 * height_in
    for rank, off in enumerate(_OFFS_IN):
        for turn in range(_TURNS):
            angle = 2.0 * math.pi * turn / _TURNS
            across, up = math.cos(angle), math.sin(angle)
            reach = clear_in + off + half_wide * abs(across) + half_high * abs(up)
            at = x + reach * across, y + reach * up
            text = Text((at[0], at[1] - half_high), words, height_in, anchor=Anchor.MIDDLE, css="hole-number")
            box = Box(at[0] - half_wide, at[1] - half_high, at[0] + half_wide, at[1] + half_high)
            cost = float(field.under(box.grown(_AROUND_IN)))
            leader = None
            if off > _LEADER_FROM_IN:
                near, far = clear_in + 0.02, clear_in + off - 0.02
                ends = (x + near * across, y + near * up), (x + far * across, y + far * up)
                leader = Line(ends, Layer.DIMENSION, css="hole-leader")
                cost += field.along(*ends)
            yield cost + (0.0 if cost == 0.0 else 0.001 * rank), text, leader
