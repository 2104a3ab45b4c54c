"""Room for lettering: where on a part it clears every hole, every edge and all that is lettered already."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.cells import Cells
from hatchwright.drawings.ink import Ink, Point, box_of, moved
from hatchwright.shapes.pieces import joined
from hatchwright.shapes.profile import Loop, Profile

CLEAR_IN = 0.04
"""Least room between lettering and an edge or a hole [in]. Common practice, no source."""

_CELL_IN = 0.025
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
        cell_in: float = _CELL_IN,
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
        columns, rows = self._taken.shape
        if wide > columns or high > rows:
            return None
        summed = np.zeros((columns + 1, rows + 1), dtype=np.int64)
        summed[1:, 1:] = self._taken.cumsum(axis=0).cumsum(axis=1)
        within = summed[wide:, high:] - summed[:-wide, high:] - summed[wide:, :-high] + summed[:-wide, :-high]
        places = np.argwhere(within == 0) * self._cell_in + self._corner
        if not len(places):
            return None
        size = np.array([box.width_in, box.height_in])
        off_in = np.hypot(*np.maximum(np.maximum(places - near, near - places - size), 0.0).T)
        places = places[off_in <= within_in]
        if not len(places):
            return None
        best = places[np.argmin(np.hypot(*(places + 0.5 * size - near).T))]
        return float(best[0]), float(best[1])
