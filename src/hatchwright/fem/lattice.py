"""Crossings of a plate's grid for buckling: rings round an opening."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchwright.fem.analysis import pinhole
from hatchwright.fem.curve import Array, Curve
from hatchwright.fem.mapping import map_grid
from hatchwright.fem.model import Sheet
from hatchwright.fem.soundness import profile
from hatchwright.fem.stations import Fineness
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Loop, Profile

_RING_CELLS = 6
_RINGS = Fineness(per_quarter=5, first_layer_ratio=0.6, growth_ratio=1.3, far_growth_ratio=1.4)
_SAME_RATIO = 0.01


@dataclass(frozen=True, slots=True, eq=False)
class Lattice:
    """A grid of four-sided cells in closed rings that can be halved once.

    Args:
        points: its crossings, the last column followed by the first, shape (rows, columns, 2) [in].
        cover: which sheets cover each row of cells, shape (rows - 1, sheets).
    """

    points: Array
    cover: NDArray[np.bool_]

    @property
    def cells_in_row(self) -> int:
        """Number of cells in a row."""
        return int(self.points.shape[1])

    @property
    def rim(self) -> NDArray[np.intp]:
        """Numbers of the crossings on the panel's edges, counted row by row."""
        return np.asarray(np.arange(self.points[..., 0].size).reshape(self.points.shape[:2])[-1])

    def halved(self) -> Lattice:
        """Every second row and column."""
        return Lattice(self.points[::2, ::2], self.cover[::2])


def ringed(sheets: tuple[Sheet, ...]) -> Lattice:
    """A grid of rings from the innermost edge of any sheet to the outer edge of the first, which is the loaded one.

    Every edge lies on a row; those within a hundredth of their size of each other all round are taken as one.

    Raises:
        SolveError: the edges cross, or cannot be mapped.
    """
    loops = [loop for sheet in sheets for loop in (sheet.inner or pinhole(sheet.outer), sheet.outer)]
    nested: list[Loop] = []
    for loop in sorted(loops, key=lambda loop: abs(loop.area_sq_in)):
        if not (nested and _same(nested[-1], loop)):
            nested.append(loop)
    x_low, y_low, x_high, y_high = sheets[0].outer.bounds
    cap = min(x_high - x_low, y_high - y_low) / _RING_CELLS
    grid = map_grid(tuple(Curve.of(loop) for loop in nested), fineness=_RINGS, cap_in=cap, where="buckling")
    points = grid.nodes.copy()
    beside = np.roll(points, -1, axis=1) + np.roll(points, 1, axis=1)
    points[1::2, 1::2] = (beside[1::2, 1::2] + points[2::2, 1::2] + points[:-1:2, 1::2]) / 4
    cover = np.zeros((len(points) - 1, len(sheets)), dtype=bool)
    for inner, outer in zip(grid.zones, grid.zones[1:], strict=False):
        between = points[(inner + outer) // 2, :1]
        cover[inner:outer] = [profile(sheet).contains(between)[0] for sheet in sheets]
    return Lattice(points, cover)


def _same(first: Loop, second: Loop) -> bool:
    """Whether two edges lie within a hundredth of their size of each other all round."""
    size = np.sqrt(abs(first.area_sq_in))
    points = second.points(1e-3 * size)
    return bool((distances(Profile((first,)), points).distance_in < _SAME_RATIO * size).all())
