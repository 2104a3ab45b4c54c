"""A face in small square cells, painted from edges: which cells lie within them, and which are near them."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from hatchwright.drawings.boxes import Box
from hatchwright.shapes.pieces import Complexes, Integers, Pieces

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
