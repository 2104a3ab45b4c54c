"""Where a page has ink, so that lettering and leaders find a place that is free."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from hatchwright.drawings.boxes import Box, Floats
from hatchwright.drawings.ink import Circle, Ink, Layer, Line, Outline, Point, Solid, Text, box_of

_CELL_IN = 0.02
_CHORD_IN = 0.005
_AROUND_IN = 1.0
_BEHIND = frozenset((Layer.STRUCTURE, Layer.KEEP_OUT))
"""Lines of structure and hatching are interrupted round lettering, so that they are in nobody's way."""

Cells = npt.NDArray[np.int32]
Places = npt.NDArray[np.intp]


class InkField:
    """Ink on a grid, with sums from its corner so that a whole box is asked at once."""

    def __init__(self, ink: Iterable[Ink]) -> None:
        drawn = [part for part in ink if not (isinstance(part, Line) and part.layer in _BEHIND)]
        self.box = box_of(drawn).grown(_AROUND_IN)
        shape = (
            math.ceil(self.box.height_in / _CELL_IN) + 1,
            math.ceil(self.box.width_in / _CELL_IN) + 1,
        )
        self.cells: Cells = np.zeros(shape, dtype=np.int32)
        for part in drawn:
            self._mark(part)
        self._sum()

    def take(self, *ink: Ink) -> None:
        """Mark what was drawn since."""
        for part in ink:
            self._mark(part)
        self._sum()

    def under(self, box: Box) -> int:
        """How much ink lies under a box."""
        return int(self.under_all(np.array([box]))[0])

    def under_all(self, boxes: Floats) -> Places:
        """How much ink lies under each of several boxes, of shape (n, 4) [in]."""
        (bottom, left), (top, right) = self._cells_at(boxes[:, :2]), self._cells_at(boxes[:, 2:])
        sums = self.sums
        counted: Places = (
            sums[top + 1, right + 1] - sums[bottom, right + 1] - sums[top + 1, left] + sums[bottom, left]
        )
        return counted

    def along(self, start: Point, end: Point) -> int:
        """How much ink a line meets."""
        return int(self.along_all(np.array([start]), np.array([end]))[0])

    def along_all(self, starts: Floats, ends: Floats) -> Places:
        """How much ink each of several lines meets that are of one length, their ends of shape (n, 2) [in]."""
        counted: Places = self.cells[self._passed(starts, ends)].sum(axis=1)
        return counted

    def _sum(self) -> None:
        self.sums = np.pad(self.cells.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))

    def _cells_at(self, points: Floats) -> tuple[Places, Places]:
        """Row and column of the cell of each point, (x, y) in its last axis, or of the nearest one there is."""
        rows, columns = self.cells.shape
        at = ((points - (self.box.left, self.box.bottom)) / _CELL_IN).astype(np.intp)
        return at[..., 1].clip(0, rows - 1), at[..., 0].clip(0, columns - 1)

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
        (bottom, top), (left, right) = self._cells_at(np.array(box).reshape(2, 2))
        self.cells[bottom : top + 1, left : right + 1] = 1

    def _run(self, points: Sequence[Point]) -> None:
        for ends in pairwise(points):
            start, end = np.array(ends)
            self.cells[self._passed(start[None], end[None])] = 1

    def _passed(self, starts: Floats, ends: Floats) -> tuple[Places, Places]:
        """Row and column of each cell at steps of half a cell along lines of one length, their ends included."""
        count = max(1, math.ceil(math.dist(starts[0], ends[0]) / (0.5 * _CELL_IN)))
        share = (np.arange(count + 1) / count)[:, None]
        return self._cells_at(starts[:, None] + share * (ends - starts)[:, None])
