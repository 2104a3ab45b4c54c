"""Distances of a layout, taken once: hole to edge, hole to hole, row to row."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Any

import numpy as np

from hatchwright.layout.layout import Edge, Hole, Layout, Part
from hatchwright.shapes.distance import distances, pairs_within
from hatchwright.shapes.profile import profile_of

Array = np.ndarray[Any, np.dtype[np.float64]]


@dataclass(frozen=True, slots=True)
class EdgeDistances:
    """True distances from the holes of a part to one of its edges, arcs included.

    Args:
        part: the part.
        edge: the edge.
        holes: the holes through that part.
        distance_in: negative where the centre is off the metal, shape (n_holes,) [in].
        foot_in: nearest points of the edge, shape (n_holes, 2) [in].
    """

    part: Part
    edge: Edge
    holes: tuple[Hole, ...]
    distance_in: Array
    foot_in: Array


@dataclass(frozen=True, slots=True)
class Spacing:
    """The distance between two hole centres [in]."""

    first: Hole
    second: Hole
    distance_in: float

    @property
    def uncertainty_in(self) -> float:
        """Of the measured distance, 0 when both were drawn [in]."""
        return max(self.first.uncertainty_in, self.second.uncertainty_in)


@dataclass(frozen=True, slots=True)
class RowSpacing:
    """Transverse pitch: from a hole square to the next row of the same pattern [in]."""

    hole: Hole
    other_row: str
    distance_in: float


@dataclass(frozen=True, slots=True)
class Survey:
    """Everything that rules measure on a layout.

    Args:
        layout: the layout.
        edges: hole to edge, for every edge of every part.
        pitches: neighbours along each row.
        near: pairs of holes of any row that lie within `near_in` of each other.
        row_spacings: for each pair of neighbouring rows, the closest hole.
        near_in: reach of `near` [in].
    """

    layout: Layout
    edges: tuple[EdgeDistances, ...]
    pitches: tuple[Spacing, ...]
    near: tuple[Spacing, ...]
    row_spacings: tuple[RowSpacing, ...]
    near_in: float


NEAR_DIAMETERS = 4.0
"""Holes farther apart than this many of the largest diameter cannot break a spacing rule [-]."""

_FARTHEST_ROW_DIAMETERS = 12.0
_ALONGSIDE_COSINE = 0.866


def survey(layout: Layout) -> Survey:
    """Take all distances of a layout.

    Args:
        layout: as derived.
    Returns:
        Survey: frozen.
    """
    largest_in = max((hole.diameter_in for hole in layout.holes), default=0.0)
    near_in = NEAR_DIAMETERS * largest_in
    return Survey(
        layout=layout,
        edges=tuple(_edge_distances(layout)),
        pitches=tuple(_pitches(layout)),
        near=tuple(_near(layout, near_in)),
        row_spacings=tuple(_row_spacings(layout)),
        near_in=near_in,
    )


def points_of(holes: tuple[Hole, ...]) -> Array:
    """Centres, shape (n_holes, 2) [in]."""
    return np.array([(hole.x_in, hole.y_in) for hole in holes], dtype=float).reshape(-1, 2)


def _edge_distances(layout: Layout) -> list[EdgeDistances]:
    found = []
    for part in layout.parts:
        holes = tuple(hole for hole in layout.holes if part.name in hole.stack)
        if not holes:
            continue
        points = points_of(holes)
        for edge in part.edges:
            gaps = distances(profile_of(edge.loop), points)
            on_metal = gaps.inside == edge.metal_inside
            signed = np.where(on_metal, gaps.distance_in, -gaps.distance_in)
            found.append(EdgeDistances(part, edge, holes, signed, gaps.foot))
    return found


def is_closed_row(holes: tuple[Hole, ...]) -> bool:
    """Whether a row runs all round: its ends lie no farther apart than its other neighbours, within a tenth."""
    if len(holes) < 4:
        return False
    points = points_of(holes)
    steps = np.hypot(*np.diff(points, axis=0).T)
    return float(np.hypot(*(points[0] - points[-1]))) <= 1.1 * float(steps.max())


def _pitches(layout: Layout) -> list[Spacing]:
    found = []
    for holes in layout.rows().values():
        pairs = list(itertools.pairwise(holes))
        if is_closed_row(holes):
            pairs.append((holes[-1], holes[0]))
        found += [Spacing(a, b, _apart(a, b)) for a, b in pairs]
    return found


def _apart(a: Hole, b: Hole) -> float:
    return float(np.hypot(a.x_in - b.x_in, a.y_in - b.y_in))


def _near(layout: Layout, near_in: float) -> list[Spacing]:
    if len(layout.holes) < 2:
        return []
    first, second, apart = pairs_within(points_of(layout.holes), near_in)
    return [
        Spacing(layout.holes[i], layout.holes[j], float(d))
        for i, j, d in zip(first.tolist(), second.tolist(), apart.tolist(), strict=True)
    ]


def _row_spacings(layout: Layout) -> list[RowSpacing]:
    """For each pair of rivet rows that run side by side, the closest hole, measured square to the row."""
    rows = {
        name: holes for name, holes in layout.rows().items() if len(holes) > 1 and holes[0].kind == "rivet"
    }
    chains = {name: _chain(holes) for name, holes in rows.items()}
    closest: dict[tuple[str, str], RowSpacing] = {}
    for name, holes in rows.items():
        points, runs = points_of(holes), _runs(holes)
        reach = _FARTHEST_ROW_DIAMETERS * holes[0].diameter_in
        for other, (start, step) in chains.items():
            if other == name:
                continue
            square = _square_distances(points, runs, start, step)
            at = int(np.argmin(square))
            if not square[at] <= reach:
                continue
            key = (min(name, other), max(name, other))
            found = RowSpacing(holes[at], other, float(square[at]))
            if key not in closest or found.distance_in < closest[key].distance_in:
                closest[key] = found
    return list(closest.values())


def _runs(holes: tuple[Hole, ...]) -> Array:
    """Direction of the row at each hole, shape (n, 2) [-]."""
    points = points_of(holes)
    if is_closed_row(holes):
        run = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0)
    else:
        run = np.gradient(points, axis=0)
    length: Array = np.hypot(*run.T)[:, None]
    return run / np.maximum(length, 1e-12)


def _chain(holes: tuple[Hole, ...]) -> tuple[Array, Array]:
    points = points_of(holes)
    if is_closed_row(holes):
        points = np.vstack([points, points[:1]])
    return points[:-1], np.diff(points, axis=0)


def _square_distances(points: Array, runs: Array, start: Array, step: Array) -> Array:
    """Least distance from each point square to a piece of the chain alongside; infinite where there is none."""
    to = points[:, None, :] - start[None, :, :]
    length = np.hypot(*step.T)
    along = step / length[:, None]
    share = np.einsum("nkc,kc->nk", to, along)
    apart = np.abs(to[..., 0] * along[:, 1] - to[..., 1] * along[:, 0])
    beside = (share >= 0.0) & (share <= length) & (np.abs(runs @ along.T) >= _ALONGSIDE_COSINE)
    least: Array = np.where(beside, apart, np.inf).min(axis=1)
    return least
