"""Rows laid hole by hole round an opening's center, as the job's own rows are laid, and every distance between them."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.search.proposal.ring import Shape

Floats = npt.NDArray[np.float64]


class LaidRow(Struct, frozen=True):
    """One row: bays on the sides that lie along X and along Y; of a circle all bays, and none.

    Args:
        distance_in: from the opening's edge [in].
    """

    x_bays: int
    y_bays: int
    is_staggered: bool
    distance_in: float

    @property
    def count(self) -> int:
        """Its rivets [-]."""
        return 2 * (self.x_bays + self.y_bays) if self.y_bays else self.x_bays

    @property
    def per_side(self) -> tuple[int, ...]:
        """Bays of each side, first the side toward X; all of them on a circle."""
        return (self.y_bays, self.x_bays) * 2 if self.y_bays else (self.x_bays,)


@lru_cache(maxsize=4096)
def points_of_row(shape: Shape, row: LaidRow) -> Floats:
    """Hole centers from the opening's center, counterclockwise from the side toward X, shape (n, 2) [in]."""
    shift = 0.5 if row.is_staggered else 0.0
    rho = shape.radius_in + row.distance_in
    if shape.is_round:
        angle = 2.0 * math.pi * (np.arange(row.x_bays) + shift) / row.x_bays
        return np.column_stack([rho * np.cos(angle), rho * np.sin(angle)])
    right = _run(shape.half_y_in, shape.half_x_in, rho, row.y_bays, shift)
    top = _run(shape.half_x_in, shape.half_y_in, rho, row.x_bays, shift)
    # Of a run the first number goes along it, counterclockwise, the second outward.
    sides = (right[:, ::-1], top * (-1.0, 1.0), right[:, ::-1] * (-1.0, -1.0), top * (1.0, -1.0))
    return np.vstack(sides)


def _run(half_in: float, out_in: float, rho_in: float, bays: int, shift: float) -> Floats:
    """One run without its last corner's middle: along it and outward, shape (bays, 2) [in]."""
    arc = rho_in * math.pi / 4.0
    along = (2.0 * (half_in + arc)) * (np.arange(bays) + shift) / bays
    begin, end = np.minimum(along - arc, 0.0) / rho_in, np.maximum(along - arc - 2.0 * half_in, 0.0) / rho_in
    straight = np.clip(along - arc, 0.0, 2.0 * half_in) - half_in
    angle = begin + end
    return np.column_stack([straight + rho_in * np.sin(angle), out_in + rho_in * np.cos(angle)])


def neighbors_in(points: Floats) -> Floats:
    """Distance from each hole of a closed row to the next, shape (n,) [in]."""
    step = np.roll(points, -1, axis=0) - points
    return np.asarray(np.hypot(step[:, 0], step[:, 1]))


def apart_in(one: Floats, other: Floats) -> float:
    """Least distance between holes of two rows [in]."""
    first, second = (points[:, 0] + 1j * points[:, 1] for points in (one, other))
    return float(np.abs(first[:, None] - second[None, :]).min())


def closest_in(points: Floats) -> float:
    """Least distance between any two holes of one row [in]."""
    places = points[:, 0] + 1j * points[:, 1]
    gaps = np.abs(places[:, None] - places[None, :])
    np.fill_diagonal(gaps, np.inf)
    return float(gaps.min())


def between_rows_in(one: Floats, other: Floats, *, reach_in: float) -> float:
    """Row spacing as it is judged: from a hole square to the straight step beside it of the other row, the least [in].

    Args:
        reach_in: what lies farther apart is no pattern [in].
    The same measure as `layout.row_spacing`, of two closed rows that run the same way round.
    """
    return min(_square_to_steps(one, other, reach_in), _square_to_steps(other, one, reach_in))


def _square_to_steps(holes: Floats, row: Floats, reach_in: float) -> float:
    start = row[:, 0] + 1j * row[:, 1]
    step = np.roll(start, -1) - start
    length = np.abs(step)
    off = ((holes[:, 0] + 1j * holes[:, 1])[:, None] - start[None, :]) * np.conj(step / length)[None, :]
    beside = (off.real >= 0.0) & (off.real <= length[None, :]) & (np.abs(off.imag) <= reach_in)
    return float(np.min(np.where(beside, np.abs(off.imag), np.inf)))
