"""Free room on a page: where a block of words stands beside a drawing without meeting any of it."""

from __future__ import annotations

import math

import numpy as np

from hatchwright.drawings.boxes import Box, Floats
from hatchwright.drawings.free_cells import free_places
from hatchwright.drawings.ink import Point
from hatchwright.drawings.traces import Traces

_CELL_IN = 0.05
_CLEAR_IN = 0.06


class FreeRoom:
    """The window of a page in small square cells, each free or taken.

    Args:
        window: on the page [in].
        ink: what is drawn in it, on the page.
    """

    def __init__(self, window: Box, ink: Traces) -> None:
        self._window = window
        columns, rows = (max(1, math.floor(side / _CELL_IN)) for side in (window.width_in, window.height_in))
        self._taken = np.zeros((columns, rows), dtype=np.bool_)
        self._take(ink.pieces)

    def take(self, box: Box) -> None:
        """Keep what comes later off a box [in]."""
        self._take(np.array([box]))

    def put(self, width_in: float, height_in: float) -> Point | None:
        """Take the lowest free place of that size, of several the one farthest left.

        Returns:
            Point | None: its upper left corner (x, y) on the page [in], None where there is no room.
        """
        wide, high = (math.ceil(side / _CELL_IN) + 1 for side in (width_in, height_in))
        places = free_places(self._taken, wide, high)
        if not len(places):
            return None
        column, row = places[np.lexsort((places[:, 0], places[:, 1]))[0]].tolist()
        left, bottom = self._window.left + column * _CELL_IN, self._window.bottom + row * _CELL_IN
        self.take(Box(left, bottom, left + width_in, bottom + height_in))
        return left, bottom + height_in

    def _take(self, boxes: Floats) -> None:
        """Every cell that a box comes into or near."""
        corner = np.array([self._window.left, self._window.bottom])
        first = np.floor((boxes[:, :2] - _CLEAR_IN - corner) / _CELL_IN).astype(np.intp)
        last = np.floor((boxes[:, 2:] + _CLEAR_IN - corner) / _CELL_IN).astype(np.intp) + 1
        most = np.array(self._taken.shape)
        for (left, bottom), (right, top) in zip(
            np.clip(first, 0, most).tolist(), np.clip(last, 0, most).tolist(), strict=True
        ):
            self._taken[left:right, bottom:top] = True
