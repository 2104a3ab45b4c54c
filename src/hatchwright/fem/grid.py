"""The mapped grid: rings round an opening, cut by lines that leave its edge squarely.

What the mapping needs: loops one inside the other without touching, and one point from which every loop is
seen whole (star-shaped). Sharp corners of outer loops land on grid lines.
Method: docs/theory/fem.md, section 1.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import linprog

from hatchwright.errors import SolveError
from hatchwright.fem.curve import Array, Curve, unit
from hatchwright.fem.element import local_areas, quad_stiffness, shape_slopes, shapes
from hatchwright.fem.locate import locate
from hatchwright.fem.mesh import Found, Index, pins
from hatchwright.fem.sector import RingFactor, factorise
from hatchwright.fem.stations import Fineness, stations

_TURNS = (0.0, 0.5, 1.0)
_FLATTEST_RATIO = 0.01
_CHECKS = np.array([[x, y] for x in (-1.0, 0.0, 1.0) for y in (-1.0, 0.0, 1.0)])


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """Eight-node quadrilaterals in rings.

    Args:
        nodes: positions, shape (2 n_layers + 1, 2 n_lines, 2) [in]; rows run outward, columns anticlockwise,
            and places where both indices are odd belong to no element.
        zones: first row of each loop, from the innermost (0) to the outermost (2 n_layers).
    """

    nodes: Array
    zones: tuple[int, ...]

    @property
    def layers(self) -> int:
        """Number of rings of elements."""
        return len(self.nodes) // 2

    @property
    def lines(self) -> int:
        """Number of elements in a ring."""
        return int(self.nodes.shape[1]) // 2

    @property
    def places(self) -> Array:
        """Positions row by row, shape (places, 2) [in]."""
        return self.nodes.reshape(-1, 2)

    @property
    def edge(self) -> Index:
        """Places of the inner edge."""
        return np.arange(self.nodes.shape[1])

    @property
    def rim(self) -> Index:
        """Places of the outer edge."""
        return np.arange(self.places.shape[0] - self.nodes.shape[1], self.places.shape[0])

    def find(self, points: Array) -> Found:
        """Find points.

        Args:
            points: shape (m, 2) [in].
        Returns:
            Found: where they lie.
        """
        elements = self.elements()
        spots = locate(elements, points)
        local = shape_slopes(spots.local)
        slope = np.linalg.solve(local @ elements[spots.line, spots.layer], local)
        number = gather(np.arange(len(self.places), dtype=float).reshape(*self.nodes.shape[:2], 1))
        nodes = number[spots.line, spots.layer, :, 0].astype(np.intp)
        return Found(nodes, shapes(spots.local), np.asarray(slope, dtype=np.float64), spots.beyond)

    def factor(self, *, poisson_ratio: float, where: str) -> RingFactor:
        """Factorise its stiffness with the sector solver.

        Args:
            poisson_ratio: Poisson's ratio [-].
            where: name of the sheet, for messages.
        Returns:
            RingFactor: for E t = 1.
        Raises:
            SolveError: the stiffness is singular.
        """
        springs = np.zeros((*self.nodes.shape[:2], 2))
        for place, axis in pins(self.places, self.rim):
            springs.reshape(-1, 2)[place, axis] = 1.0
        on_lines = springs[:, ::2].swapaxes(0, 1).reshape(self.lines, -1)
        return factorise(quad_stiffness(self.elements(), poisson_ratio=poisson_ratio), on_lines, where=where)

    def elements(self) -> Array:
        """Positions of the eight nodes of each element, shape (n_lines, n_layers, 8, 2) [in].

        The order is that of `element.shapes`; the first local axis runs outward, the second along the ring.
        """
        return gather(self.nodes)


def gather(values: Array) -> Array:
    """Values at the eight nodes of each element.

    Args:
        values: one row a grid place, shape (2 n_layers + 1, 2 n_lines, k).
    Returns:
        Array: shape (n_lines, n_layers, 8, k).
    """
    columns = np.concatenate([values, values[:, :1]], axis=1)
    inner, middle, outer = columns[:-1:2], columns[1::2], columns[2::2]
    corners = [inner[:, :-1:2], outer[:, :-1:2], outer[:, 2::2], inner[:, 2::2]]
    middles = [middle[:, :-1:2], outer[:, 1::2], middle[:, 2::2], inner[:, 1::2]]
    return np.stack(corners + middles, axis=2).swapaxes(0, 1)


def map_grid(loops: tuple[Curve, ...], *, fineness: Fineness, cap_in: float, where: str) -> Grid:
    """Lay a grid between nested loops.

    Args:
        loops: from the innermost to the outermost, at least two.
        fineness: how fine.
        cap_in: longest element and thickest layer inside the last loop but one, or inside the only zone [in].
        where: name of the sheet, for messages.
    Returns:
        Grid: with every element the right way round.
    Raises:
        SolveError: the loops touch or cross, or no grid can be mapped between them.
    """
    centre = star_centre(loops, where=where)
    fine = loops[-2] if len(loops) > 2 else loops[-1]
    around = np.linspace(0.0, loops[0].length.sum(), 64, endpoint=False)
    fan = fine.reach(*loops[0].at(around)) if np.isfinite(cap_in) else np.zeros(1)
    at = stations(loops[0], per_quarter=fineness.per_quarter, cap_in=cap_in, fan_in=float(np.median(fan)))
    tried = (_lay(loops, at, centre, turn=turn, fineness=fineness, cap_in=cap_in) for turn in _TURNS)
    grid = next((grid for grid in tried if grid is not None and _flattest(grid) > _FLATTEST_RATIO), None)
    if grid is None:
        raise SolveError(
            "no grid can be mapped between its edges",
            where=where,
            remedy="Keep the edges apart, with no notch deeper than half the distance between them",
        )
    return grid


def star_centre(loops: tuple[Curve, ...], *, where: str) -> Array:
    """A point from which every loop is seen whole.

    Args:
        loops: the loops.
        where: name of the sheet, for messages.
    Returns:
        Array: the middle of the first loop if it will do, or the deepest behind all edges, shape (2,) [in].
    Raises:
        SolveError: there is no such point.
    """
    points, normals = (
        np.concatenate(parts)
        for parts in zip(*(loop.at(_inside_pieces(loop)) for loop in loops), strict=True)
    )
    first = loops[0].at(_inside_pieces(loops[0]))[0]
    middle = (first.max(axis=0) + first.min(axis=0)) / 2
    depth = ((points - middle) * normals).sum(axis=1)
    size = float(np.hypot(*np.ptp(first, axis=0)))
    if depth.min() > 0.01 * size:
        return np.asarray(middle, dtype=float)
    found = linprog(
        [0.0, 0.0, -1.0],
        A_ub=np.column_stack([normals, np.ones(len(normals))]),
        b_ub=(points * normals).sum(axis=1),
        bounds=[(None, None)] * 2 + [(None, size)],
    )
    if not found.success or found.x[2] <= 0.01 * size:
        raise SolveError(
            "its edges cannot all be seen from one point inside the opening",
            where=where,
            remedy="Split the opening, or take a simpler outline that covers it",
        )
    centre: Array = found.x[:2]
    return centre


def _inside_pieces(loop: Curve) -> Array:
    """Distances along a loop, several in every piece and none at a joint."""
    share = (np.arange(8) + 0.5) / 8
    return ((np.cumsum(loop.length) - loop.length)[:, None] + share * loop.length[:, None]).ravel()


def _lay(
    loops: tuple[Curve, ...], at: Array, centre: Array, *, turn: float, fineness: Fineness, cap_in: float
) -> Grid | None:
    """Lay it with lines that leave the first loop squarely (turn 0), as spokes (turn 1) or between."""
    points, outward = loops[0].at(at)
    direction = _unit_rows((1.0 - turn) * outward + turn * _unit_rows(points - centre))
    perimeter = loops[0].length.sum()
    layer = fineness.first_layer_ratio * ((np.roll(at, -1) - np.roll(at, 1)) % perimeter).min()
    rows, zones = [points[None]], [0]

    def add(ends: Array, layer: float, *, growth: float, cap_in: float) -> float:
        share, last = _layers(np.hypot(*(ends - points).T), layer, growth=growth, cap_in=cap_in)
        rows.append(points + share[1:, :, None] * (ends - points))
        return last * growth

    for number, loop in enumerate(loops[1:], start=2):
        far = number == len(loops) and (number > 2 or not np.isfinite(cap_in))
        if far:
            if number == 2:
                ahead = loop.reach(points, direction).min()
                collar = points + min(perimeter / 8, ahead / 2) * direction
                layer = add(collar, layer, growth=fineness.growth_ratio, cap_in=np.inf)
                points = collar
            direction = _unit_rows(direction + _unit_rows(points - centre))
        ends = _matched(points, direction, loop, centre)
        if ends is None:
            return None
        if far:
            layer = add(ends, layer, growth=fineness.far_growth_ratio, cap_in=np.inf)
        else:
            layer = add(ends, layer, growth=fineness.growth_ratio, cap_in=cap_in)
        zones.append(2 * sum(len(part) for part in rows) - 2)
        points, direction = ends, _unit_rows(ends - points)
    rings = np.concatenate(rows)
    nodes = np.empty((2 * len(rings) - 1, *rings.shape[1:]))
    nodes[::2] = rings
    nodes[1::2] = (rings[1:] + rings[:-1]) / 2
    return Grid(nodes, tuple(zones))


def _matched(points: Array, direction: Array, loop: Curve, centre: Array) -> Array | None:
    """Where the grid lines meet the next loop, sharp corners taken by the nearest of them."""
    reach = loop.reach(points, direction)
    if not np.isfinite(reach).all():
        return None
    ends = points + reach[:, None] * direction
    spoke = ends - centre
    angle = np.unwrap(np.arctan2(spoke[:, 1], spoke[:, 0]))
    turned = angle[-1] < angle[0] + 2 * np.pi and (np.diff(angle) > 0).all()
    if not turned:
        return None
    corners = loop.start[loop.sharp] - centre
    if len(corners):
        moved = _held_to(np.arctan2(corners[:, 1], corners[:, 0]), angle)
        if moved is None:
            return None
        ends = centre + loop.reach(np.broadcast_to(centre, ends.shape), unit(moved))[:, None] * unit(moved)
    spoke = (ends[::2] + np.roll(ends[::2], -1, axis=0)) / 2 - centre
    toward = _unit_rows(spoke)
    ends[1::2] = centre + loop.reach(np.broadcast_to(centre, toward.shape), toward)[:, None] * toward
    return ends


def _held_to(corners: Array, angle: Array) -> Array | None:
    """Move grid lines a little along the next loop so that the nearest of them take its corners [rad]."""
    lines = len(angle) // 2
    wanted = np.sort((corners - angle[0]) % (2 * np.pi)) + angle[0]
    nearest = np.abs(wanted[:, None] - np.append(angle[::2], angle[0] + 2 * np.pi)).argmin(axis=1)
    shared = np.flatnonzero((nearest - np.roll(nearest, -1)) % lines == 0)
    if len(corners) > 1 and len(shared):
        nearest[shared] -= 1
        nearest[(shared + 1) % len(nearest)] += 1
    if len(np.unique(nearest % lines)) < len(nearest):
        return None
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
