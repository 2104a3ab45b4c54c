"""Row spacing: how far rows that run side by side lie apart, square to them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from hatchwright.layout.layout import Hole

FARTHEST_DIAMETERS = 12.0
"""Rows farther apart than this many diameters are not one pattern [-]."""

_ALONGSIDE_COSINE = 0.866
_CLOSES_WITHIN = 1.1

Array = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class RowSpacing:
    """Transverse pitch: from a hole square to the next row of the same pattern [in]."""

    hole: Hole
    other_row: str
    distance_in: float


@dataclass(frozen=True, slots=True)
class _Run:
    """One row as a chain of straight steps from hole to hole, with the direction of the row at each hole."""

    holes: tuple[Hole, ...]
    points: Array
    directions: Array
    starts: Array
    steps: Array

    @property
    def reach_in(self) -> float:
        return FARTHEST_DIAMETERS * self.holes[0].diameter_in


def row_spacings(rows: Mapping[str, tuple[Hole, ...]]) -> tuple[RowSpacing, ...]:
    """For each pair of rivet rows that run side by side, the closest hole, measured square to the row.

    Args:
        rows: name to holes in the order in which they are laid.
    Returns:
        tuple: one for each pair of neighbours.
    """
    runs = [_run(holes) for holes in rows.values() if len(holes) > 1 and holes[0].kind == "rivet"]
    closest: dict[frozenset[str], RowSpacing] = {}
    for run in runs:
        for other in runs:
            if other is run or not _boxes_meet(run, other):
                continue
            square = _square_distances(run, other)
            at = int(np.argmin(square))
            if not square[at] <= run.reach_in:
                continue
            found = RowSpacing(run.holes[at], other.holes[0].row, float(square[at]))
            pair = frozenset((found.hole.row, found.other_row))
            if pair not in closest or found.distance_in < closest[pair].distance_in:
                closest[pair] = found
    return tuple(closest.values())


def is_closed(points: Array) -> bool:
    """Whether a row runs all round: its ends lie no farther apart than its other neighbours, within a tenth.

    Args:
        points: hole centres in order, shape (n, 2) [in].
    Returns:
        bool: false for fewer than four holes.
    """
    if len(points) < 4:
        return False
    steps = np.hypot(*np.diff(points, axis=0).T)
    return float(np.hypot(*(points[0] - points[-1]))) <= _CLOSES_WITHIN * float(steps.max())


def _run(holes: tuple[Hole, ...]) -> _Run:
    points = np.array([(hole.x_in, hole.y_in) for hole in holes])
    if is_closed(points):
        chain = np.vstack([points, points[:1]])
        along = np.roll(points, -1, axis=0) - np.roll(points, 1, axis=0)
    else:
        chain, along = points, np.gradient(points, axis=0)
    directions = along / np.maximum(np.hypot(*along.T), 1e-12)[:, None]
    return _Run(holes, points, directions, chain[:-1], np.diff(chain, axis=0))


def _boxes_meet(run: _Run, other: _Run) -> bool:
    low, high = run.points.min(axis=0) - run.reach_in, run.points.max(axis=0) + run.reach_in
    return bool(np.all(other.points.min(axis=0) <= high) and np.all(other.points.max(axis=0) >= low))


def _square_distances(run: _Run, other: _Run) -> Array:
    """Least distance from each hole square to a step of the other row alongside; infinite where there is none."""
    to = run.points[:, None, :] - other.starts[None, :, :]
    length = np.maximum(np.hypot(*other.steps.T), 1e-12)
    along = other.steps / length[:, None]
    share = to[..., 0] * along[:, 0] + to[..., 1] * along[:, 1]
    apart = np.abs(to[..., 0] * along[:, 1] - to[..., 1] * along[:, 0])
    beside = (share >= 0.0) & (share <= length) & (np.abs(run.directions @ along.T) >= _ALONGSIDE_COSINE)
    least: Array = np.where(beside, apart, np.inf).min(axis=1)
    return least
