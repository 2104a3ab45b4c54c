"""Cut any sheet into triangles, graded from its edges and fasteners.

Boundary points as for the mapped grid; inner points at the middles of a square tree that is split until its cells fit
the size wanted there, then evened out; a Delaunay triangulation; sides of the edges that it misses or that are too
long for their neighborhood are halved, until none is left.
"""

from __future__ import annotations

import numpy as np
from scipy.spatial import Delaunay, cKDTree
from scipy.spatial.distance import cdist

from hatchwright.errors import SolveError
from hatchwright.fem.curve import Array, Curve
from hatchwright.fem.element import Index, local_areas
from hatchwright.fem.stations import Fineness, stations
from hatchwright.fem.triangles import TriangleMesh, shape_slopes
from hatchwright.shapes.profile import Profile

_GROWTH = 0.3
_ROUNDS = 20
_EVENINGS = 5
_NEAREST_RATIO = 0.6
_LONGEST_RATIO = 1.6
_FLATTEST_RATIO = 1e-6
_CHECKS = np.array([[0, 0], [1, 0], [0, 1], [0.5, 0], [0.5, 0.5], [0, 0.5]], dtype=float)


def free_mesh(
    region: Profile, curves: tuple[Curve, ...], spots: Array, *, fineness: Fineness, cap_in: float, where: str
) -> TriangleMesh:
    """Mesh a sheet.

    Args:
        curves: its edges, the inner first if there is one and the outer last.
        spots: places of its fasteners, shape (k, 2) [in].
        cap_in: longest side near a fastener [in].
        where: name of the sheet, for messages.
    Raises:
        SolveError: no sound mesh was found.
    """
    marks = [
        stations(curve, per_quarter=fineness.per_quarter, cap_in=np.inf, fan_in=0.0)[::2] for curve in curves
    ]
    for _ in range(_ROUNDS):
        chains = [curve.at(at)[0] for curve, at in zip(curves, marks, strict=True)]
        points, triangles, wanted = _triangulated(region, chains, spots, cap_in)
        halve = _poor_sides(chains, triangles, wanted)
        if not any(side.any() for side in halve):
            mesh = _with_middles(points, triangles, curves, marks)
            if local_areas(mesh.places[mesh.elements], shape_slopes(_CHECKS)).min() > 0.0:
                return mesh
            break
        marks = [
            np.sort(np.concatenate([at, _halfway(curve, at)[side]]))
            for curve, at, side in zip(curves, marks, halve, strict=True)
        ]
    raise SolveError.saying("error.no_mesh", where=where)


def _halfway(curve: Curve, at: Array) -> Array:
    return np.asarray(at + np.append(at[1:], at[0] + curve.length.sum())) / 2


def _triangulated(
    region: Profile, chains: list[Array], spots: Array, cap_in: float
) -> tuple[Array, Index, Array]:
    """Points, the edges' own first; triangles, anticlockwise; and the size wanted at the edges' points."""
    edge = np.concatenate(chains)
    steps = [np.hypot(*(np.roll(chain, -1, axis=0) - chain).T) for chain in chains]
    own = np.concatenate([np.maximum(step, np.roll(step, 1)) for step in steps])
    sources = np.concatenate([edge, spots])
    sizes = np.concatenate([own, np.full(len(spots), cap_in)])
    inner = _square_tree(edge, sources, sizes)
    inner = inner[region.contains(inner)]
    apart, nearest = cKDTree(edge).query(inner)
    inner = inner[apart > _NEAREST_RATIO * np.minimum(own[nearest], _wanted(inner, sources, sizes))]
    for round_number in range(_EVENINGS + 1):
        points = np.concatenate([edge, inner])
        triangles = np.asarray(Delaunay(points).simplices, dtype=np.intp)
        triangles = triangles[region.contains(points[triangles].mean(axis=1))]
        if round_number < _EVENINGS:
            inner = _evened(points, triangles, len(edge))
    a, b, c = points[triangles].swapaxes(0, 1)
    (ux, uy), (vx, vy) = (b - a).T, (c - a).T
    area = ux * vy - uy * vx
    triangles[area < 0] = triangles[area < 0][:, ::-1]
    flat = np.abs(area) < _FLATTEST_RATIO * (ux**2 + uy**2 + vx**2 + vy**2)
    return points, triangles[~flat], _wanted(edge, sources, sizes)


def _square_tree(edge: Array, sources: Array, sizes: Array) -> Array:
    """Middles of square cells, each as large as the size wanted there."""
    low, high = edge.min(axis=0), edge.max(axis=0)
    side = float((high - low).max())
    cells, leaves = ((low + high) / 2)[None], []
    while len(cells):
        large = side > _wanted(cells, sources, sizes)
        leaves.append(cells[~large])
        side /= 2
        corners = np.array([[-1, -1], [1, -1], [-1, 1], [1, 1]]) * side / 2
        cells = (cells[large][:, None] + corners).reshape(-1, 2)
    return np.concatenate(leaves)


def _wanted(points: Array, sources: Array, sizes: Array) -> Array:
    """Size wanted at points: that of the sources, growing with the distance from them, shape (m,) [in]."""
    found = [
        (cdist(some, sources) * _GROWTH + sizes).min(axis=1)
        for some in np.array_split(points, 1 + len(points) // 2000)
    ]
    return np.concatenate(found)


def _evened(points: Array, triangles: Index, fixed: int) -> Array:
    """Inner points moved to the centroid of the triangles round them."""
    corners = points[triangles]
    (ux, uy), (vx, vy) = (corners[:, 1] - corners[:, 0]).T, (corners[:, 2] - corners[:, 0]).T
    area = np.abs(ux * vy - uy * vx)
    moment, total = np.zeros_like(points), np.zeros(len(points))
    for corner in triangles.T:
        np.add.at(moment, corner, area[:, None] * corners.mean(axis=1))
        np.add.at(total, corner, area)
    held = total > 0
    moved = points.copy()
    moved[held] = moment[held] / total[held, None]
    return moved[fixed:]


def _poor_sides(chains: list[Array], triangles: Index, wanted: Array) -> list[np.ndarray]:
    """Sides of the edges that no triangle has, or that are too long for their neighborhood."""
    ends = np.sort(np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]]), axis=1)
    known = set(map(tuple, ends.tolist()))
    poor, start = [], 0
    for chain in chains:
        first = start + np.arange(len(chain))
        last = start + (np.arange(len(chain)) + 1) % len(chain)
        step = np.hypot(*(np.roll(chain, -1, axis=0) - chain).T)
        missing = [
            tuple(sorted(pair)) not in known for pair in zip(first.tolist(), last.tolist(), strict=True)
        ]
        poor.append(np.array(missing) | (step > _LONGEST_RATIO * np.minimum(wanted[first], wanted[last])))
        start += len(chain)
    return poor


def _with_middles(
    points: Array, triangles: Index, curves: tuple[Curve, ...], marks: list[Array]
) -> TriangleMesh:
    """Add the middles of sides, those of the edges on the edges themselves."""
    ends = np.stack([triangles, np.roll(triangles, -1, axis=1)], axis=2).reshape(-1, 2)
    sides, own = np.unique(np.sort(ends, axis=1), axis=0, return_inverse=True)
    middles = points[sides].mean(axis=1)
    number = {pair: len(points) + k for k, pair in enumerate(map(tuple, sides.tolist()))}
    loops, start = [], 0
    for curve, at in zip(curves, marks, strict=True):
        first = start + np.arange(len(at))
        last = start + (np.arange(len(at)) + 1) % len(at)
        middle = np.array([number[min(p), max(p)] for p in zip(first.tolist(), last.tolist(), strict=True)])
        middles[middle - len(points)] = curve.at(_halfway(curve, at))[0]
        loops.append(np.stack([first, middle], axis=1).ravel())
        start += len(at)
    elements = np.concatenate([triangles, len(points) + own.reshape(-1, 3)], axis=1)
    return TriangleMesh(np.concatenate([points, middles]), elements, edge=loops[0], rim=loops[-1])
