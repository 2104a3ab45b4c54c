"""Row spacing: how far rows that run side by side lie apart, square to them."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.layout.layout import Hole, is_closed, points_of
from hatchwright.metrology.distance_uncertainty import distance_us
from hatchwright.shapes.distance import pairs_within

FARTHEST_DIAMETERS = 12.0
"""Rows farther apart than this many diameters are not one pattern [-]."""

_ALONGSIDE_COSINE = 0.866

Array = npt.NDArray[np.float64]


class RowSpacing(Struct, frozen=True):
    """Transverse pitch: from a hole square to the next row of the same pattern, with its uncertainty [in]."""

    hole: Hole
    other_row: str
    distance_in: float
    uncertainty_in: float

    @property
    def rows(self) -> frozenset[str]:
        """The two rows."""
        return frozenset((self.hole.row, self.other_row))


def row_spacings(rows: Mapping[str, tuple[Hole, ...]]) -> tuple[RowSpacing, ...]:
    """For each pair of rivet rows that run side by side, the closest hole, measured square to the row.

    Where drawn and measured holes lie together the closest is taken twice: as near as its uncertainty lets it be, and
    near beyond doubt.

    Args:
        rows: name to holes in the order in which they are laid.
    Returns:
        tuple: one for each pair of neighbors, or two.
    Method: each row is a chain of straight steps from hole to hole; a hole lies beside a step of another row when its
        foot falls on it and both rows run the same way there.
    """
    runs = [holes for holes in rows.values() if len(holes) > 1 and holes[0].kind == "rivet"]
    if len(runs) < 2:
        return ()
    holes = [hole for run in runs for hole in run]
    row = np.repeat(np.arange(len(runs)), [len(run) for run in runs])
    places, ways, steps = (np.vstack(parts) for parts in zip(*map(_chain, runs), strict=True))
    length = np.hypot(steps[:, 0], steps[:, 1])
    # A row of fasteners that no table lists lies in a pattern as one of the largest that are listed would.
    largest_in = max((hole.nominal_in for hole in holes if hole.nominal_in), default=0.0)
    reach = FARTHEST_DIAMETERS * np.array([hole.nominal_in or largest_in for hole in holes])
    first, second, _ = pairs_within(places, float(reach.max() + length.max()))
    here, there = np.concatenate([first, second]), np.concatenate([second, first])
    # Rows that join other sheets carry another load: those in the plug of a patch are no part of those in the skin.
    sheets = list(dict.fromkeys(hole.stack for hole in holes))
    stack = np.array([sheets.index(hole.stack) for hole in holes])
    other = (row[here] != row[there]) & (stack[here] == stack[there]) & (length[there] > 0.0)
    here, there = here[other], there[other]
    unit = steps[there] / length[there, None]
    off = places[here] - places[there]
    along = off[:, 0] * unit[:, 0] + off[:, 1] * unit[:, 1]
    apart = np.abs(off[:, 0] * unit[:, 1] - off[:, 1] * unit[:, 0])
    turned = np.abs(ways[here, 0] * unit[:, 0] + ways[here, 1] * unit[:, 1])
    beside = (
        (along >= 0.0) & (along <= length[there]) & (turned >= _ALONGSIDE_COSINE) & (apart <= reach[here])
    )
    return _closest(here[beside], there[beside], apart[beside], row, holes)


def _closest(
    here: npt.NDArray[np.intp],
    there: npt.NDArray[np.intp],
    apart: Array,
    row: npt.NDArray[np.intp],
    holes: list[Hole],
) -> tuple[RowSpacing, ...]:
    """Of each pair of rows the closest hole, by its distance less and by its distance and its uncertainty."""
    low, high = np.minimum(row[here], row[there]), np.maximum(row[here], row[there])
    u_of = np.array([hole.uncertainty_in for hole in holes])
    own = np.array([hole.is_own_u for hole in holes])
    u_in = distance_us(u_of[here], u_of[there], is_own=own[here] | own[there])
    chosen = dict.fromkeys(
        (*_first_of_each(low, high, apart - u_in), *_first_of_each(low, high, apart + u_in))
    )
    return tuple(
        RowSpacing(holes[here[k]], holes[there[k]].row, float(apart[k]), float(u_in[k])) for k in chosen
    )


def _first_of_each(low: npt.NDArray[np.intp], high: npt.NDArray[np.intp], by: Array) -> list[int]:
    """Index of the least of each pair of rows."""
    order = np.lexsort((by, high, low))
    low, high = low[order], high[order]
    begins = np.ones(len(order), dtype=bool)
    begins[1:] = (low[1:] != low[:-1]) | (high[1:] != high[:-1])
    return [int(k) for k in order[begins]]


def _chain(holes: tuple[Hole, ...]) -> tuple[Array, Array, Array]:
    """Places, directions of the row, and steps to the next hole, 0 after the last; each of shape (n, 2)."""
    places = points_of(holes)
    steps = np.roll(places, -1, axis=0) - places
    if is_closed(places):
        along = steps + np.roll(steps, 1, axis=0)
    else:
        steps[-1] = 0.0
        along = np.gradient(places, axis=0)
    return places, along / np.maximum(np.hypot(*along.T), 1e-12)[:, None], steps
