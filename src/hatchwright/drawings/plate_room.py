"""Room for lettering: where on a part it clears every hole, every edge and all that is lettered already."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
import numpy.typing as npt

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.free_cells import free_places
from hatchwright.drawings.ink import Ink, Point, box_of, moved
from hatchwright.shapes.pieces import Complexes, Integers, Pieces, joined
from hatchwright.shapes.profile import Loop, Profile

CLEAR_IN = 0.04
"""Least room between lettering and an edge or a hole [in]. Common practice, no source."""

_MOST_CELLS = 150_000


class PlateRoom:
    """The face of a part in small square cells, each free or taken; what is put down takes its cells.

    Args:
        material: the plate with its window, the plug, or what else is lettered, without holes [in].
        holes: center (x, y) and diameter of each [in].
        edges: further edges that lettering keeps off [in].
        cell_in: side of a cell [in].
    """

    def __init__(
        self,
        material: Profile,
        holes: Iterable[tuple[Point, float]],
        *,
        edges: Iterable[Loop] = (),
        cell_in: float = 0.025,
    ) -> None:
        face = Box(*material.bounds)
        self._cell_in = max(cell_in, math.sqrt(face.width_in * face.height_in / _MOST_CELLS))
        self._cells = Cells(face, cell_in=self._cell_in)
        self._corner = (face.left, face.bottom)
        clear_in = CLEAR_IN + self._cell_in / math.sqrt(2.0)
        outline = material.working_form()
        lines = joined((outline, *(edge.working_form() for edge in edges)))
        self._taken = ~self._cells.within(outline) | self._cells.near(lines, clear_in)
        of_size: dict[float, list[complex]] = {}
        for center, diameter_in in holes:
            reach_in = 0.5 * diameter_in + clear_in
            if face.touches(Box(*center, *center).grown(reach_in)):
                of_size.setdefault(reach_in, []).append(complex(*center))
        for reach_in, centers in of_size.items():
            self._taken |= self._cells.discs(np.array(centers), reach_in)

    def take(self, ink: Iterable[Ink]) -> None:
        """Keep later lettering off some ink, each piece by its own box."""
        for part in ink:
            self._taken[self._cells.under(part.box().grown(CLEAR_IN))] = True

    def put(
        self, variants: Iterable[tuple[Ink, ...]], *, near: Point, within_in: float = math.inf
    ) -> tuple[Ink, ...]:
        """Put down the first of several variants that finds room, as near to a point as there is room.

        Args:
            variants: the same words in other sizes and shapes, the best first.
            near: where they would best be (x, y) [in].
            within_in: how far their box may lie from that point [in].
        Returns:
            tuple[Ink, ...]: the ink in its place, empty when there is no room for any of them.
        """
        for ink in variants:
            box = box_of(ink)
            corner = self._place(box, near, within_in)
            if corner is not None:
                placed = moved(ink, right_in=corner[0] - box.left, up_in=corner[1] - box.bottom)
                self.take(placed)
                return placed
        return ()

    def _place(self, box: Box, near: Point, within_in: float) -> Point | None:
        """Lower left corner of the nearest free place for a box of this size."""
        wide, high = (max(1, math.ceil(side / self._cell_in)) for side in (box.width_in, box.height_in))
        places = free_places(self._taken, wide, high) * self._cell_in + self._corner
        if not len(places):
            return None
        size = np.array([box.width_in, box.height_in])
        off_in = np.hypot(*np.maximum(np.maximum(places - near, near - places - size), 0.0).T)
        places = places[off_in <= within_in]
        if not len(places):
            return None
        best = places[np.argmin(np.hypot(*(places + 0.5 * size - near).T))]
        return float(best[0]), float(best[1])


Marks = npt.NDArray[np.bool_]

_CHORD_CELLS = 0.5


class Cells:
    """Square cells of one side from the lower left corner of a box, as many as it holds whole."""

    def __init__(self, box: Box, *, cell_in: float) -> None:
        self.box = box
        self.cell_in = cell_in
        self.shape = max(1, int(box.width_in / cell_in)), max(1, int(box.height_in / cell_in))

    def within(self, edges: Pieces) -> Marks:
        """The cells whose middle lies in the region that edges bound (even-odd); bool, shape (columns, rows).

        Args:
            edges: closed; an arc counts as chords of at most half a cell [in].
        """
        columns, rows = self.shape
        start, end = (self._places(z) for z in self._chords(edges))
        row = np.ceil(np.minimum(start.imag, end.imag))
        crosses = (row < np.maximum(start.imag, end.imag)) & (row >= 0) & (row < rows)
        start, end, row = start[crosses], end[crosses], row[crosses]
        x = start.real + (row - start.imag) * (end - start).real / (end - start).imag
        changes = np.zeros((columns + 1, rows), dtype=np.intp)
        np.add.at(changes, (_whole(np.clip(np.ceil(x), 0, columns)), _whole(row)), 1)
        inside: Marks = changes[:-1].cumsum(axis=0) % 2 == 1
        return inside

    def near(self, edges: Pieces, reach_in: float) -> Marks:
        """The cells whose middle lies within reach of an edge, open or closed [in]; bool, shape (columns, rows).

        Args:
            reach_in: how far [in]; up to a quarter of a cell more is counted, never less.
        """
        x_min, y_min, x_max, y_max = edges.boxes()
        face = self.box.grown(reach_in + self.cell_in)
        here = (x_max >= face.left) & (x_min <= face.right) & (y_max >= face.bottom) & (y_min <= face.top)
        starts = self._chords(edges.taken(here))[0]
        return self._reached(starts, reach_in / self.cell_in + 0.5 * _CHORD_CELLS)

    def discs(self, centers: Complexes, reach_in: float) -> Marks:
        """The cells whose middle lies within reach of one of some points of shape (n,) [in]; shape (columns, rows)."""
        return self._reached(centers, reach_in / self.cell_in)

    def under(self, box: Box) -> tuple[slice, slice]:
        """Columns and rows of the cells that a box touches, none of them outside."""
        ends = []
        for low_in, high_in, count in (
            (box.left - self.box.left, box.right - self.box.left, self.shape[0]),
            (box.bottom - self.box.bottom, box.top - self.box.bottom, self.shape[1]),
        ):
            first = min(max(0, math.floor(low_in / self.cell_in)), count)
            ends.append(slice(first, min(max(first, math.ceil(high_in / self.cell_in)), count)))
        return ends[0], ends[1]

    def _chords(self, edges: Pieces) -> tuple[Complexes, Complexes]:
        """Both ends of chords that follow the edges and meet end to end, each of shape (n,) [in]."""
        which, share = edges.steps(_CHORD_CELLS * self.cell_in)
        start = edges.at(which, share)
        end = np.concatenate((start[1:], start[:1]))
        end[np.flatnonzero(np.diff(which, append=edges.count))] = edges.end
        return start, end

    def _places(self, z: Complexes) -> Complexes:
        """Points in cells, so that the middle of column i and row j is at i + j times the imaginary unit."""
        places: Complexes = (z - complex(self.box.left, self.box.bottom)) / self.cell_in - (0.5 + 0.5j)
        return places

    def _reached(self, points: Complexes, reach: float) -> Marks:
        """The cells whose middle lies within reach of a point, the reach in cells."""
        columns, rows = self.shape
        places = self._places(points)[:, None]
        most = math.ceil(reach + 0.5)  # the cell that a place lies in may be half a cell off it
        steps = np.arange(-most, most + 1)
        cells = np.round(places) + (steps[:, None] + 1j * steps).ravel()
        off = cells - places
        cells = cells[off.real**2 + off.imag**2 <= reach**2]
        column, row = _whole(cells.real), _whole(cells.imag)
        here = (column >= 0) & (column < columns) & (row >= 0) & (row < rows)
        marks = np.zeros(self.shape, dtype=np.bool_)
        marks[column[here], row[here]] = True
        return marks


def _whole(numbers: npt.NDArray[np.float64]) -> Integers:
    whole: Integers = numbers.astype(np.intp)
    return whole
