"""Tiling: a drawing larger than a page is divided over windows that overlap."""

from __future__ import annotations

import math
from itertools import product

from msgspec import Struct

from hatchwright.drawings.boxes import Box
from hatchwright.drawings.ink import Point

OVERLAP_IN = 0.5
"""How far a page repeats the drawing of the next [in]. Common practice, no source."""

JOIN_BAND_IN = 0.45
"""Width of the band at the left and below a divided drawing, for the bars that run over the joins [in]."""

MOST_ROWS, MOST_PAGES = 26, 150
"""Tiles that have a letter for their row, and that a person will join [-]."""


class Tiling(Struct, frozen=True):
    """A drawing divided over windows of one size.

    Args:
        window_in: width and height of a window [in].
        area: what is divided, on the sheet, with the bands for the join bars [in].
    """

    window_in: tuple[float, float]
    columns: int
    rows: int
    area: Box

    @property
    def count(self) -> int:
        """Number of tiles."""
        return self.columns * self.rows

    @property
    def pitch_in(self) -> tuple[float, float]:
        """From tile to tile, to the right and downward [in]."""
        return self.window_in[0] - OVERLAP_IN, self.window_in[1] - OVERLAP_IN

    @property
    def left(self) -> float:
        """Left edge of the first column on the sheet; the drawing lies in the middle of the tiles [in]."""
        spare_in = self.columns * self.pitch_in[0] + OVERLAP_IN - self.area.width_in
        return self.area.left - 0.5 * spare_in

    @property
    def top(self) -> float:
        """Upper edge of the first row on the sheet [in]."""
        spare_in = self.rows * self.pitch_in[1] + OVERLAP_IN - self.area.height_in
        return self.area.top + 0.5 * spare_in

    def tile(self, row: int, column: int) -> Box:
        """The part of the sheet that a tile shows [in]."""
        left, top = self.left + column * self.pitch_in[0], self.top - row * self.pitch_in[1]
        return Box(left, top - self.window_in[1], left + self.window_in[0], top)

    def places(self) -> list[tuple[int, int]]:
        """Row and column of every tile, row by row."""
        return list(product(range(self.rows), range(self.columns)))

    def corners_x(self) -> list[float]:
        """Where the columns end and join on the sheet, from left to right [in]."""
        return [
            self.left + 0.5 * OVERLAP_IN + column * self.pitch_in[0] for column in range(self.columns + 1)
        ]

    def corners_y(self) -> list[float]:
        """Where the rows end and join on the sheet, from the top down [in]."""
        return [self.top - 0.5 * OVERLAP_IN - row * self.pitch_in[1] for row in range(self.rows + 1)]

    def corners(self) -> list[Point]:
        """Corners at which tiles meet; the marks of neighbors fall on each other there [in]."""
        return list(product(self.corners_x(), self.corners_y())) if self.count > 1 else []


def tile_name(row: int, column: int) -> str:
    """The name of a tile: the row from the top as a letter, the column from the left as a number, both from 0.

    >>> tile_name(1, 2)
    'B3'
    """
    return f"{chr(ord('A') + row)}{column + 1}"


def tiled(drawn: Box, window_in: tuple[float, float]) -> Tiling:
    """Divide a drawing over windows: one tile if it fits, else with a band for the join bars at the left and below."""
    area = drawn
    if _count(drawn.width_in, window_in[0]) * _count(drawn.height_in, window_in[1]) > 1:
        area = Box(drawn.left - JOIN_BAND_IN, drawn.bottom - JOIN_BAND_IN, drawn.right, drawn.top)
    return Tiling(window_in, _count(area.width_in, window_in[0]), _count(area.height_in, window_in[1]), area)


def _count(length_in: float, window_in: float) -> int:
    return max(1, math.ceil((length_in - OVERLAP_IN) / (window_in - OVERLAP_IN) - 1e-9))
