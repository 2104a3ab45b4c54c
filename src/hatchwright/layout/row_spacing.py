"""Row spacing: how far rows that run side by side lie apart, square to them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

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
    """Transverse pitch: from a hole square to the next row of the same pattern, with its uncertainty [in].

    Args:
        step: the two holes of the other row between which it is measured.
        share: where its foot lies on the way from the first of those to the second [0 to 1].
    """

    hole: Hole
    other_row: str
    distance_in: float
    uncertainty_in: float
    step: tuple[Hole, Hole]
    share: float

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
    found = _beside(rows)
    return () if found is None else found.taken(found.closest())


def every_row_spacing(rows: Mapping[str, tuple[Hole, ...]]) -> tuple[RowSpacing, ...]:
    """The same of every hole that lies beside another row, once for each step that it lies beside."""
    found = _beside(rows)
    return () if found is None else found.taken(range(len(found.apart)))


class _Beside(Struct, frozen=True):
    """Every hole beside a step of another row: index of hole and of the step's first hole, distance and share of the
    way along it, each of shape (n,)."""

    holes: list[Hole]
    row: npt.NDArray[np.intp]
    after: npt.NDArray[np.intp]
    here: npt.NDArray[np.intp]
    there: npt.NDArray[np.intp]
    apart: Array
    share: Array
    u_in: Array

    def closest(self) -> Iterable[int]:
        """Of each pair of rows the closest hole, by its distance less and by its distance and its uncertainty."""
        of, on = self.row[self.here], self.row[self.there]
        low, high = np.minimum(of, on), np.maximum(of, on)
        nearest = _first_of_each(low, high, self.apart - self.u_in)
        return dict.fromkeys((*nearest, *_first_of_each(low, high, self.apart + self.u_in)))

    def taken(self, which: Iterable[int]) -> tuple[RowSpacing, ...]:
        """Some of them."""
        holes = self.holes
        return tuple(
            RowSpacing(
                holes[self.here[k]],
                holes[self.there[k]].row,
                float(self.apart[k]),
                float(self.u_in[k]),
                (holes[self.there[k]], holes[self.after[self.there[k]]]),
                float(self.share[k]),
            )
            for k in which
        )


def _beside(rows: Mapping[str, tuple[Hole, ...]]) -> _Beside | None:
    runs = [holes for holes in rows.values() if len(holes) > 1 and holes[0].kind == "rivet"]
    if len(runs) < 2:
        return None
    holes = [hole for run in runs for hole in run]
    sizes = [len(run) for run in runs]
    row = np.repeat(np.arange(len(runs)), sizes)
    places, ways, steps = (np.vstack(parts) for parts in zip(*map(chain, runs), strict=True))
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
    here, there = here[beside], there[beside]
    u_of = np.array([hole.uncertainty_in for hole in holes])
    own = np.array([hole.is_own_u for hole in holes])
    u_in = distance_us(u_of[here], u_of[there], is_own=own[here] | own[there])
    after = np.concatenate(
        [np.roll(np.arange(end - size, end), -1) for end, size in zip(np.cumsum(sizes), sizes, strict=True)]
    )
    return _Beside(holes, row, after, here, there, apart[beside], along[beside] / length[there], u_in)


def _first_of_each(low: npt.NDArray[np.intp], high: npt.NDArray[np.intp], by: Array) -> list[int]:
    """Index of the least of each pair of rows."""
    order = np.lexsort((by, high, low))
    low, high = low[order], high[order]
    begins = np.ones(len(order), dtype=bool)
    begins[1:] = (low[1:] != low[:-1]) | (high[1:] != high[:-1])
    return [int(k) for k in order[begins]]


def chain(holes: tuple[Hole, ...]) -> tuple[Array, Array, Array]:
    """Places, directions of the row, and steps to the next hole, 0 after the last; each of shape (n, 2)."""
    places = points_of(holes)
    steps = np.roll(places, -1, axis=0) - places
    if is_closed(places):
        along = steps + np.roll(steps, 1, axis=0)
    else:
        steps[-1] = 0.0
        along = np.gradient(places, axis=0)
    return places, along / np.maximum(np.hypot(*along.T), 1e-12)[:, None], steps
