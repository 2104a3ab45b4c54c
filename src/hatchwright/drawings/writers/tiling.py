"""Tiling: a drawing larger than a page is divided over windows that overlap; one without ink is left out."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import product
from typing import Literal

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.drawings.boxes import Box, Floats

OVERLAP_IN = 0.5
"""How far a page repeats the drawing of the next [in]. Common practice, no source."""

MOST_ROWS, MOST_PAGES = 26, 150
"""Tiles that have a letter for their row, and that a person will join [-]."""

_SHIFTS = 16
_NEAR_IN = 0.24
_NONE = np.empty((0, 4))
_NOISE_IN = 1e-9

Tile = tuple[int, int]
"""Row and column of a tile, both from 0."""

Places = npt.NDArray[np.intp]


class Join(Struct, frozen=True):
    """Where two tiles meet.

    Args:
        tiles: the left one and the right one, or the upper one and the lower one.
        along: "y" for an upright join, "x" for a level one.
        at_in: X of an upright join, Y of a level one, on the sheet [in].
        low_in: its lower or left end, where its first mark stands [in].
        high_in: its upper or right end [in].
    """

    tiles: tuple[Tile, Tile]
    along: Literal["x", "y"]
    at_in: float
    low_in: float
    high_in: float

    def place(self, along_in: float, off_in: float = 0.0) -> tuple[float, float]:
        """A point so far along it, and so far beyond it, on the sheet [in]."""
        at = self.at_in + off_in
        return (at, along_in) if self.along == "y" else (along_in, at)


class Tiling(Struct, frozen=True):
    """A drawing divided over windows of one size.

    Args:
        window_in: width and height of a window [in].
        left: left edge of the first column on the sheet [in].
        top: upper edge of the first row on the sheet [in].
        kept: the tiles with ink that no other shows, row by row.
    """

    window_in: tuple[float, float]
    columns: int
    rows: int
    left: float
    top: float
    kept: tuple[Tile, ...]

    @property
    def count(self) -> int:
        """Number of tiles."""
        return len(self.kept)

    @property
    def pitch_in(self) -> tuple[float, float]:
        """From tile to tile, to the right and downward [in]."""
        return self.window_in[0] - OVERLAP_IN, self.window_in[1] - OVERLAP_IN

    def tile(self, row: int, column: int) -> Box:
        """The part of the sheet that a tile shows [in]."""
        left, top = self.left + column * self.pitch_in[0], self.top - row * self.pitch_in[1]
        return Box(left, top - self.window_in[1], left + self.window_in[0], top)

    def reach(self, row: int, column: int) -> Box:
        """A tile with what lies beyond it where no other is joined to it [in]."""
        left, bottom, right, top = self.tile(row, column)
        return Box(
            left if (row, column - 1) in self.kept else -math.inf,
            bottom if (row + 1, column) in self.kept else -math.inf,
            right if (row, column + 1) in self.kept else math.inf,
            top if (row - 1, column) in self.kept else math.inf,
        )

    def joins(self) -> Iterator[Join]:
        """Where tiles meet side by side, and one above the other."""
        half = 0.5 * OVERLAP_IN
        for row, column in self.kept:
            box, right, below = self.tile(row, column), (row, column + 1), (row + 1, column)
            if right in self.kept:
                yield Join(((row, column), right), "y", box.right - half, box.bottom + half, box.top - half)
            if below in self.kept:
                yield Join(((row, column), below), "x", box.bottom + half, box.left + half, box.right - half)


def tile_name(row: int, column: int) -> str:
    """The name of a tile: the row from the top as a letter, the column from the left as a number, both from 0.

    >>> tile_name(1, 2)
    'B3'
    """
    return f"{chr(ord('A') + row)}{column + 1}"


def tiled(
    drawn: Box,
    pieces: Floats,
    window_in: tuple[float, float],
    *,
    whole: Floats = _NONE,
    marks: Floats = _NONE,
) -> Tiling:
    """Divide a drawing over the fewest windows, then so that joins cut the fewest words and meet the fewest marks.

    Args:
        drawn: what is divided, on the sheet [in].
        pieces: boxes round all ink in it, none longer than the overlap, so that a window shows each whole; (n, 4) [in].
        whole: boxes of long lettering, shape (m, 4) [in].
        marks: boxes of lettering and holes, shape (k, 4) [in].
    Returns:
        Tiling: with the drawing up and to the left in the windows as far as that costs nothing: of two tiles the second
            then shows the less, and a point far beyond a join is where a join that is off by a hair does harm.
    """
    sizes = drawn.width_in, drawn.height_in
    columns, rows = (windows_along(length, window) for length, window in zip(sizes, window_in, strict=True))
    spare = [
        count * (window - OVERLAP_IN) + OVERLAP_IN - length
        for count, window, length in zip((columns, rows), window_in, sizes, strict=True)
    ]
    if columns * rows == 1:
        return Tiling(window_in, 1, 1, drawn.left, drawn.top, ((0, 0),))
    best: tuple[tuple[int, int, int], Tiling] | None = None
    for right, up in product(_shifts(spare[0], columns), _shifts(spare[1], rows)):
        start = Tiling(window_in, columns, rows, drawn.left - right, drawn.top + up, ())
        kept = _kept(start, pieces)
        found = Tiling(window_in, columns, rows, start.left, start.top, kept)
        cost = len(kept), int(np.count_nonzero(~is_whole(found, whole))), _met(found, marks)
        if best is None or cost < best[0]:
            best = cost, found
    assert best is not None  # there is at least the shift by nothing
    return best[1]


def is_whole(tiling: Tiling, boxes: Floats) -> npt.NDArray[np.bool_]:
    """Which boxes of shape (n, 4) some tile shows whole [in]."""
    shown = np.zeros(len(boxes), dtype=np.bool_)
    for place in tiling.kept:
        left, bottom, right, top = tiling.tile(*place).grown(_NOISE_IN)
        shown |= (
            (boxes[:, 0] >= left) & (boxes[:, 1] >= bottom) & (boxes[:, 2] <= right) & (boxes[:, 3] <= top)
        )
    return shown


def _met(tiling: Tiling, marks: Floats) -> int:
    """How many marks joins pass, as near as the crosses reach that lie on them."""
    met = 0
    for join in tiling.joins():
        across, along = (0, 1) if join.along == "y" else (1, 0)
        is_near = (marks[:, across] < join.at_in + _NEAR_IN) & (marks[:, across + 2] > join.at_in - _NEAR_IN)
        is_beside = (marks[:, along] < join.high_in) & (marks[:, along + 2] > join.low_in)
        met += int(np.count_nonzero(is_near & is_beside))
    return met


def windows_along(length_in: float, window_in: float) -> int:
    """How many windows cover a length [-]."""
    if length_in <= window_in + _NOISE_IN:
        return 1
    return math.ceil((length_in - OVERLAP_IN) / (window_in - OVERLAP_IN) - _NOISE_IN)


def _shifts(spare_in: float, count: int) -> list[float]:
    """How far the windows may begin before the drawing [in]; one along which there is no join stays where it is."""
    if count == 1 or spare_in <= 0.0:
        return [0.0]
    shifts: list[float] = np.linspace(0.0, spare_in, _SHIFTS).tolist()
    return shifts


def _kept(tiling: Tiling, pieces: Floats) -> tuple[Tile, ...]:
    """The tiles without which some piece would not be shown whole; all where the others would not hold together."""
    every = tuple(product(range(tiling.rows), range(tiling.columns)))
    if (tiling.rows == 1 and tiling.columns <= 2) or (tiling.columns == 1 and tiling.rows <= 2):
        return every
    width, height = tiling.window_in
    columns = _windows(pieces[:, 0] - tiling.left, pieces[:, 2] - tiling.left, width, tiling.columns)
    rows = _windows(tiling.top - pieces[:, 3], tiling.top - pieces[:, 1], height, tiling.rows)
    is_kept = np.zeros((tiling.rows, tiling.columns), dtype=np.bool_)
    is_only = (columns[0] == columns[1]) & (rows[0] == rows[1])
    is_kept[rows[0][is_only], columns[0][is_only]] = True
    while True:
        is_shown = np.logical_or.reduce([is_kept[row, column] for row, column in product(rows, columns)])
        if is_shown.all():
            break
        open_piece = int(np.argmin(is_shown))
        is_kept[rows[0][open_piece], columns[0][open_piece]] = True
    kept = tuple((int(row), int(column)) for row, column in np.argwhere(is_kept))
    return kept if kept and _holds_together(kept) else every


def _windows(low: Floats, high: Floats, window_in: float, count: int) -> tuple[Places, Places]:
    """The first and the last window along an axis that show a piece whole, from its ends off the first window [in]."""
    pitch_in = window_in - OVERLAP_IN
    first = np.ceil((high - window_in - _NOISE_IN) / pitch_in)
    last = np.floor((low + _NOISE_IN) / pitch_in)
    first, last = (np.clip(ends, 0, count - 1).astype(np.intp) for ends in (first, last))
    return first, np.maximum(first, last)


def _holds_together(kept: tuple[Tile, ...]) -> bool:
    """Whether every tile is joined to every other, side by side or one above the other."""
    open_tiles, reached = [kept[0]], {kept[0]}
    while open_tiles:
        row, column = open_tiles.pop()
        for beside in ((row, column + 1), (row + 1, column), (row, column - 1), (row - 1, column)):
            if beside in kept and beside not in reached:
                reached.add(beside)
                open_tiles.append(beside)
    return len(reached) == len(kept)
