"""Map a grid between nested edges, its lines leaving the innermost one squarely.

What the mapping needs: loops one inside the other without touching, and one point from which every loop is seen whole
(star-shaped). Sharp corners of outer loops land on grid lines.
Method: docs/theory/fem.md, section 1.
"""

from __future__ import annotations

import numpy as np
from scipy.optimize import linprog

from hatchwright.errors import SolveError
from hatchwright.fem.curve import Array, Curve, unit
from hatchwright.fem.element import local_areas, shape_slopes
from hatchwright.fem.grid import Grid
from hatchwright.fem.stations import Fineness, stations

_TURNS = (0.0, 0.5, 1.0)
_FLATTEST_RATIO = 0.01
_CHECKS = np.array([[x, y] for x in (-1.0, 0.0, 1.0) for y in (-1.0, 0.0, 1.0)])


class _UnmappedError(Exception):
    """The lines, laid this way, miss a loop or cross."""


def map_grid(loops: tuple[Curve, ...], *, fineness: Fineness, cap_in: float, where: str) -> Grid:
    """Lay a grid between nested loops, with every element the right way round.

    Args:
        loops: from the innermost to the outermost, at least two.
        cap_in: longest element and thickest layer inside the last loop but one, or inside the only zone [in].
        where: name of the sheet, for messages.
    Raises:
        SolveError: the loops touch or cross, or no grid can be mapped between them.
    """
    center = star_center(loops, where=where)
    fine = loops[-2] if len(loops) > 2 else loops[-1]
    around = np.linspace(0.0, loops[0].length.sum(), 64, endpoint=False)
    fan = fine.reach(*loops[0].at(around)) if np.isfinite(cap_in) else np.zeros(1)
    at = stations(loops[0], per_quarter=fineness.per_quarter, cap_in=cap_in, fan_in=float(np.median(fan)))
    for turn in _TURNS:
        try:
            grid = _laid(loops, at, center, turn=turn, fineness=fineness, cap_in=cap_in)
        except _UnmappedError:
            continue
        if _flattest(grid) > _FLATTEST_RATIO:
            return grid
    raise SolveError.saying("error.no_grid", where=where)


def star_center(loops: tuple[Curve, ...], *, where: str) -> Array:
    """A point of shape (2,) from which every loop is seen whole [in].

    It is the middle of the first loop if that will do, or the deepest behind all edges.

    Raises:
        SolveError: there is no such point; `where` names the sheet.
    """
    seen = [loop.at(_inside_pieces(loop)) for loop in loops]
    points, normals = (np.concatenate(parts) for parts in zip(*seen, strict=True))
    first = seen[0][0]
    middle = (first.max(axis=0) + first.min(axis=0)) / 2
    depth = ((points - middle) * normals).sum(axis=1)
    size = float(np.hypot(*np.ptp(first, axis=0)))
    if depth.min() > 0.01 * size:
        return np.asarray(middle)
    found = linprog(
        [0.0, 0.0, -1.0],
        A_ub=np.column_stack([normals, np.ones(len(normals))]),
        b_ub=(points * normals).sum(axis=1),
        bounds=[(None, None)] * 2 + [(None, size)],
    )
    if not found.success or found.x[2] <= 0.01 * size:
        raise SolveError.saying("error.not_seen", where=where)
    return np.asarray(found.x[:2])


def _inside_pieces(loop: Curve) -> Array:
    """Distances along a loop, several in every piece and none at a joint."""
    share = (np.arange(8) + 0.5) / 8
    return np.asarray(
        ((np.cumsum(loop.length) - loop.length)[:, None] + share * loop.length[:, None]).ravel()
    )


class _Rings:
    """Rings of nodes laid so far, from the innermost loop outward."""

    def __init__(self, points: Array, first_layer_in: float) -> None:
        self.points = points
        self.layer_in = first_layer_in
        self.rows = [points[None]]
        self.zones = [0]

    def grow(self, ends: Array, *, growth: float, cap_in: float = np.inf) -> None:
        """Add rings up to `ends`."""
        share, last = _layers(np.hypot(*(ends - self.points).T), self.layer_in, growth=growth, cap_in=cap_in)
        self.rows.append(self.points + share[1:, :, None] * (ends - self.points))
        self.points, self.layer_in = ends, last * growth

    def close_zone(self) -> None:
        """Note that the last ring lies on a loop."""
        self.zones.append(2 * sum(map(len, self.rows)) - 2)

    def grid(self) -> Grid:
        """All rings, with the middles between them."""
        rings = np.concatenate(self.rows)
        nodes = np.empty((2 * len(rings) - 1, *rings.shape[1:]))
        nodes[::2] = rings
        nodes[1::2] = (rings[1:] + rings[:-1]) / 2
        return Grid(nodes, tuple(self.zones))


def _laid(
    loops: tuple[Curve, ...], at: Array, center: Array, *, turn: float, fineness: Fineness, cap_in: float
) -> Grid:
    """Lay a grid with lines that leave the first loop squarely (turn 0), as spokes (turn 1) or between."""
    points, outward = loops[0].at(at)
    direction = _unit_rows((1.0 - turn) * outward + turn * _unit_rows(points - center))
    perimeter = loops[0].length.sum()
    shortest = ((np.roll(at, -1) - np.roll(at, 1)) % perimeter).min()
    rings = _Rings(points, fineness.first_layer_ratio * float(shortest))
    last_is_far = len(loops) > 2 or not np.isfinite(cap_in)
    for loop in loops[1:-1] if last_is_far else loops[1:]:
        start = rings.points
        rings.grow(_matched(start, direction, loop, center), growth=fineness.growth_ratio, cap_in=cap_in)
        rings.close_zone()
        direction = _unit_rows(rings.points - start)
    if last_is_far:
        if len(loops) == 2:
            collar = min(perimeter / 8, loops[1].reach(points, direction).min() / 2)
            rings.grow(points + collar * direction, growth=fineness.growth_ratio)
        direction = _unit_rows(direction + _unit_rows(rings.points - center))
        rings.grow(_matched(rings.points, direction, loops[-1], center), growth=fineness.far_growth_ratio)
        rings.close_zone()
    return rings.grid()


def _matched(points: Array, direction: Array, loop: Curve, center: Array) -> Array:
    """Where the grid lines meet the next loop, sharp corners taken by the nearest of them."""
    reach = loop.reach(points, direction)
    if not np.isfinite(reach).all():
        raise _UnmappedError
    ends = points + reach[:, None] * direction
    spoke = ends - center
    angle = np.unwrap(np.arctan2(spoke[:, 1], spoke[:, 0]))
    if not ((np.diff(angle) > 0).all() and angle[-1] < angle[0] + 2 * np.pi):
        raise _UnmappedError
    corners = loop.start[loop.sharp] - center
    if len(corners):
        held = _held_to(np.arctan2(corners[:, 1], corners[:, 0]), angle)
        ends = _seen_from(center, unit(held), loop)
    ends[1::2] = _seen_from(center, (ends[::2] + np.roll(ends[::2], -1, axis=0)) / 2 - center, loop)
    return ends


def _seen_from(center: Array, direction: Array, loop: Curve) -> Array:
    """Points of a loop in some directions from the center."""
    toward = _unit_rows(direction)
    seen: Array = center + loop.reach(np.broadcast_to(center, toward.shape), toward)[:, None] * toward
    return seen


def _held_to(corners: Array, angle: Array) -> Array:
    """Move grid lines a little along the next loop so that the nearest of them take its corners [rad]."""
    lines = len(angle) // 2
    wanted = np.sort((corners - angle[0]) % (2 * np.pi)) + angle[0]
    nearest = np.abs(wanted[:, None] - np.append(angle[::2], angle[0] + 2 * np.pi)).argmin(axis=1)
    shared = np.flatnonzero((nearest - np.roll(nearest, -1)) % lines == 0)
    if len(corners) > 1 and len(shared):
        nearest[shared] -= 1
        nearest[(shared + 1) % len(nearest)] += 1
    if len(np.unique(nearest % lines)) < len(nearest):
        raise _UnmappedError
    held = angle[::2][nearest % lines] + 2 * np.pi * (nearest // lines)
    moved: Array = angle + np.interp(angle, held, wanted - held, period=2 * np.pi)
    return moved


def _layers(gap: Array, first: float, *, growth: float, cap_in: float) -> tuple[Array, float]:
    """Share of the gap at which each ring lies, shape (n + 1, n_lines), and the mean last layer.

    Every line has the same number of layers and, given room, the same first layer; its growth is its own.
    """
    first = min(first, cap_in)
    longest = gap.max()
    rising = np.log(min(cap_in / first, 1.0 + (growth - 1.0) * longest / first)) / np.log(growth)
    risen = first * (growth**rising - 1.0) / (growth - 1.0)
    count = max(1, int(np.ceil(rising + max(longest - risen, 0.0) / cap_in - 0.05)))
    start = np.minimum(first, gap / count)
    low, high = np.ones_like(gap), np.full_like(gap, 4.0 * growth)
    power = np.arange(count)[:, None]
    for _ in range(40):
        ratio = (low + high) / 2
        over = (ratio**power).sum(axis=0) * start > gap
        low, high = np.where(over, low, ratio), np.where(over, ratio, high)
    thickness = start * low**power
    edge = np.concatenate([np.zeros((1, len(gap))), np.cumsum(thickness, axis=0)])
    return edge / edge[-1], float(thickness[-1].mean())


def _flattest(grid: Grid) -> float:
    """Least over greatest Jacobian of the worst element; 1 for a rectangle, negative when folded."""
    area = local_areas(grid.elements(), shape_slopes(_CHECKS))
    return float((area.min(axis=2) / np.abs(area).max(axis=2)).min())


def _unit_rows(vectors: Array) -> Array:
    scaled: Array = vectors / np.hypot(*vectors.T)[:, None]
    return scaled
