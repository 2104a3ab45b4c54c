"""Grids of a plate for buckling: rings round an opening, and strips beyond them where the panel is slender."""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from hatchwright.fem.analysis import pinhole
from hatchwright.fem.curve import Array, Curve
from hatchwright.fem.mapping import map_grid
from hatchwright.fem.model import Sheet
from hatchwright.fem.plate import Triangles, joined, triangulate
from hatchwright.fem.soundness import profile
from hatchwright.fem.stations import Fineness
from hatchwright.shapes.distance import distances
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.profile import Loop, Profile

_RING_CELLS = 6
_RINGS = Fineness(per_quarter=5, first_layer_ratio=0.6, growth_ratio=1.3, far_growth_ratio=1.4)
_SAME_RATIO = 0.01
_ON_EDGE_RATIO = 1e-6

_ROOM_RATIO = 0.3
"""Between the outermost sheet and the end of the rings, of the panel's width [-]."""

_END_RATIO = 0.5
"""A strip at the end of the panel that is shorter than this many of its widths is left to the rings [-]."""


class Lattice(Struct, frozen=True, eq=False):
    """A grid of four-sided cells that can be halved once.

    Args:
        points: its crossings, shape (rows, columns, 2) [in].
        closed: whether the last column is followed by the first.
        cover: which sheets cover each row of cells, shape (rows - 1, sheets).
    """

    points: Array
    closed: bool
    cover: NDArray[np.bool_]

    @property
    def cells_in_row(self) -> int:
        """Number of cells in a row."""
        return int(self.points.shape[1]) - (not self.closed)

    def halved(self) -> Lattice:
        """Every second row and column."""
        return Lattice(self.points[::2, ::2], self.closed, self.cover[::2])


def mesh_of(lattices: tuple[Lattice, ...]) -> tuple[Triangles, NDArray[np.bool_]]:
    """The triangles of lattices that share crossings, and which sheets cover each, shape (t, sheets)."""
    mesh = joined([triangulate(one.points, closed=one.closed) for one in lattices])
    covers = [np.tile(np.repeat(one.cover, one.cells_in_row, axis=0), (4, 1)) for one in lattices]
    return mesh, np.concatenate(covers)


def on_edge(points: Array, edge: Loop) -> NDArray[np.bool_]:
    """Which of some points lie on an edge, shape (n,)."""
    size_in = np.sqrt(abs(edge.area_sq_in))
    return np.asarray(distances(Profile((edge,)), points).distance_in < _ON_EDGE_RATIO * size_in)


def ringed(sheets: tuple[Sheet, ...]) -> tuple[Lattice, ...]:
    """Rings from the innermost edge of any sheet to the outer edge of the first, which is the loaded one.

    Every edge lies on a row; those within a hundredth of their size of each other all round are taken as one. Far
    along a slender panel rings would grow as long as its waves: they end where it goes on, and strips of even cells
    take over.

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
    middle = _middle(nested[-2], nested[-1])
    loops = [*nested[:-1], middle]
    grid = map_grid(tuple(Curve.of(loop) for loop in loops), fineness=_RINGS, cap_in=cap, where="buckling")
    points = grid.nodes.copy()
    beside = np.roll(points, -1, axis=1) + np.roll(points, 1, axis=1)
    points[1::2, 1::2] = (beside[1::2, 1::2] + points[2::2, 1::2] + points[:-1:2, 1::2]) / 4
    cover = np.zeros((len(points) - 1, len(sheets)), dtype=bool)
    for inner, outer in zip(grid.zones, grid.zones[1:], strict=False):
        between = points[(inner + outer) // 2, :1]
        cover[inner:outer] = [profile(sheet).contains(between)[0] for sheet in sheets]
    return Lattice(points, True, cover), *_ends(points[-1], nested[-1], cap, len(sheets))


def _middle(inside: Loop, panel: Loop) -> Loop:
    """Where the rings end: at the panel's own edge, or across it where a rectangle goes on for long."""
    low, high = np.reshape(panel.bounds, (2, 2))
    size = high - low
    if panel.rows[:, 2].any() or abs(panel.area_sq_in) < (1 - 1e-9) * size.prod():
        return panel
    along, width_in = int(size.argmax()), float(size.min())
    first, last = (float(np.reshape(inside.bounds, (2, 2))[end, along]) for end in (0, 1))
    start, end = first - _ROOM_RATIO * width_in, last + _ROOM_RATIO * width_in
    if start - low[along] > _END_RATIO * width_in:
        low[along] = start
    if high[along] - end > _END_RATIO * width_in:
        high[along] = end
    width, height = (high - low).tolist()
    x, y = ((low + high) / 2).tolist()
    return rounded_rectangle(width_in=width, height_in=height, radius_in=0.0, center=(x, y))


def _ends(rim: Array, panel: Loop, cap_in: float, sheets: int) -> tuple[Lattice, ...]:
    """Strips of even cells from the outermost ring to the ends of the panel that it does not reach."""
    x_low, y_low, x_high, y_high = panel.bounds
    found = []
    for axis, to_in in ((0, x_low), (0, x_high), (1, y_low), (1, y_high)):
        side_in = rim[:, axis].max() if to_in > rim[:, axis].mean() else rim[:, axis].min()
        length_in = to_in - side_in
        if abs(length_in) < cap_in:
            continue
        on = np.flatnonzero(np.abs(rim[:, axis] - side_in) < _ON_EDGE_RATIO * abs(length_in))
        gap = np.flatnonzero(np.diff(on) > 1)
        on = np.roll(on, -(gap[0] + 1)) if len(gap) else on  # the side on which the columns begin
        rows = 2 * int(np.ceil(abs(length_in) / cap_in))
        points = np.repeat(rim[None, on], rows + 1, axis=0)
        points[1:, :, axis] = side_in + length_in * (np.arange(1, rows + 1) / rows)[:, None]
        cover = np.zeros((rows, sheets), dtype=bool)
        cover[:, 0] = True
        found.append(Lattice(points, False, cover))
    return tuple(found)


def _same(first: Loop, second: Loop) -> bool:
    """Whether two edges lie within a hundredth of their size of each other all round."""
    size = np.sqrt(abs(first.area_sq_in))
    points = second.points(1e-3 * size)
    return bool((distances(Profile((first,)), points).distance_in < _SAME_RATIO * size).all())
