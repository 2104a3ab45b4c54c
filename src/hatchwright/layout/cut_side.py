"""The sides of the cut: the rivets that carry a load round the opening, counted in both readings."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from functools import cached_property
from itertools import compress
from statistics import fmean

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.layout import Hole, Layout, points_of
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.shapes.reach import faces, reach
from hatchwright.tables.instructions import Instruction, instruction

COUNT_RULE = "R602"
"""The rule under which a job chooses between the two; it stands here because strength counts by the same choice."""

TIE_IN = 1e-5
"""A rivet this near to the line that it must be beyond lies on it, and counts for neither side: far more than rounding,
and less than a place is entered or measured to, so that a symmetric job counts the same on both sides [in]."""

_WAYS = np.array([[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]])

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]


class CountReading(StrEnum):
    """Which rivets count on a side of the cut; the value is the name that a job chooses it by."""

    HALF = "all of the half"
    AHEAD = "ahead of the edge"

    @property
    def key(self) -> str:
        """Name of the document's words that count so."""
        return f"count_{self.name.lower()}"

    @cached_property
    def basis(self) -> Instruction:
        """The document that counts so."""
        return instruction(self.key)


class RivetRow(Struct, frozen=True):
    """The part of one row that lies within the width of the cut.

    Args:
        offset_in: mean distance from the edge of the opening [in].
        pitch_in: least pitch along it, None for a row of a single rivet [in].
        longest_in: its longest pitch, None for a row of a single rivet [in].
    """

    name: str
    holes: tuple[Hole, ...]
    offset_in: float
    pitch_in: float | None
    longest_in: float | None


class CutSide(Struct, frozen=True, dict=True):
    """One side of the cut with its rivets, which carry its load round the opening.

    Args:
        way: unit direction along which the load runs, towards this side (x, y) [-].
        extreme_in: how far the opening reaches towards this side, measured from the origin [in].
        span_in: from where to where it reaches square to that, a quarter turn to the left, from the origin [in].
        half: every rivet hole beyond the middle of the opening.
        ahead: those beyond the edge; one beyond a corner counts for both of its sides.
        has_straight_edge: whether a straight edge of the opening lies across the load on this side.
        reading: by which its rivets are counted: the job's choice, else the default.
    """

    way: tuple[float, float]
    extreme_in: float
    span_in: tuple[float, float]
    half: tuple[Hole, ...]
    ahead: tuple[Hole, ...]
    has_straight_edge: bool
    reading: CountReading
    layout: Layout

    @property
    def axis(self) -> int:
        """0 for a side that a load along X crosses, 1 for Y."""
        return int(abs(self.way[1]) > abs(self.way[0]))

    @property
    def name(self) -> str:
        """By the axis and the way it lies: X+, X-, Y+ or Y-."""
        return f"{'XY'[self.axis]}{'+' if self.way[self.axis] > 0.0 else '-'}"

    @property
    def cut_in(self) -> float:
        """Metal cut away, square to the axis [in]."""
        return self.span_in[1] - self.span_in[0]

    @property
    def rivets(self) -> tuple[Hole, ...]:
        """Those that count and are there."""
        return self.counted(self.reading)

    def counted(self, reading: CountReading) -> tuple[Hole, ...]:
        """Those that count by one of the readings and are there."""
        return tuple(hole for hole in self.holes(reading) if hole.is_fitted)

    def holes(self, reading: CountReading) -> tuple[Hole, ...]:
        """Every hole of those that count by one of the readings, with its rivet or without."""
        return self.half if reading is CountReading.HALF else self.ahead

    @property
    def readings(self) -> tuple[CountReading, CountReading]:
        """Both readings, the default first; see `_readings`."""
        return _readings(self.has_straight_edge)

    @property
    def is_relaxed(self) -> bool:
        """Whether the job chose the half across a straight edge, where fewer count by default."""
        return self.has_straight_edge and self.reading is CountReading.HALF

    @cached_property
    def rows(self) -> tuple[RivetRow, ...]:
        """The counted rows within the width of the cut, the nearest first, every hole with its rivet or without."""
        holes, way = self.holes(self.reading), self.way
        points = points_of(holes)
        across_in, (left_in, right_in) = points @ (-way[1], way[0]), self.span_in
        within = (across_in >= left_in - TIE_IN) & (across_in <= right_in + TIE_IN)
        by_half = self.reading is CountReading.HALF
        beyond_in = np.hypot(*self._from_edge(points).T) if by_half else points @ way - self.extreme_in
        return _rows(self.layout, holes, within, beyond_in)

    @cached_property
    def squareness(self) -> tuple[float, ...]:
        """Cosine between the load and the way from the opening's edge to each counted rivet [-]."""
        from_edge_in = self._from_edge(points_of(self.rivets))
        off_in = np.maximum(np.hypot(*from_edge_in.T), FLOAT_NOISE)
        return tuple((from_edge_in @ self.way / off_in).tolist())

    def _from_edge(self, points: Floats) -> Floats:
        """From the nearest place of the opening's edge to each point, shape (n, 2) [in]."""
        return points - distances(Profile((self.layout.opening,)), points).foot


def sides_of_cut(layout: Layout, ways: npt.ArrayLike = _WAYS) -> tuple[CutSide, ...]:
    """The sides of the opening, X+, X-, Y+ and Y-, or those that other directions point to.

    A load along X is carried round the opening by the rivets on its X sides, over the cut along Y; and the other way
    round. The opening reaches as far as filed or as drawn, whichever is farther. Its middle is half way between its
    extremes along the direction, so that the count turns with the job. A rivet that joins nothing to the skin counts
    for no side.

    Args:
        ways: unit vectors along which a load runs, each towards the side that is asked for, shape (k, 2).
    Method: docs/theory/rivet.md.
    """
    ways = np.asarray(ways, dtype=np.float64).reshape(-1, 2)
    across = np.stack([-ways[:, 1], ways[:, 0]], axis=1)
    loops = dict.fromkeys((layout.wanted, layout.opening))
    low_in, high_in = _reach(loops, np.concatenate((ways, across)))
    (low_in, left_in), (high_in, right_in) = np.split(low_in, 2), np.split(high_in, 2)
    rivets = tuple(hole for hole in layout.holes_of("rivet") if "skin" in hole.stack and len(hole.stack) > 1)
    along_in = ways @ points_of(rivets).T
    half = along_in > ((low_in + high_in) / 2.0 + TIE_IN)[:, None]
    ahead = along_in > (high_in + TIE_IN)[:, None]
    is_straight = np.any([faces(loop, ways) for loop in loops], axis=0).tolist()
    choice = layout.job.choice(COUNT_RULE)
    sides = []
    for k, (x, y) in enumerate(ways.tolist()):
        default, other = _readings(is_straight[k])
        sides.append(
            CutSide(
                way=(x, y),
                extreme_in=float(high_in[k]),
                span_in=(float(left_in[k]), float(right_in[k])),
                half=tuple(compress(rivets, half[k])),
                ahead=tuple(compress(rivets, ahead[k])),
                has_straight_edge=is_straight[k],
                reading=other if choice and choice.reading == other else default,
                layout=layout,
            )
        )
    return tuple(sides)


def _readings(has_straight_edge: bool) -> tuple[CountReading, CountReading]:
    """Both readings, the default first: across a straight edge the stricter, since the tables ask for rivets an inch of
    such an edge; elsewhere all of the half, since no edge lies there to be ahead of."""
    both = (CountReading.AHEAD, CountReading.HALF)
    return both if has_straight_edge else both[::-1]


def _reach(loops: Iterable[Loop], ways: Floats) -> tuple[Floats, Floats]:
    """Least and greatest place of all loops along each direction, shape (k,) [in]."""
    lows, highs = zip(*(reach(loop, ways) for loop in loops), strict=True)
    return np.min(lows, axis=0), np.max(highs, axis=0)


def _rows(layout: Layout, rivets: tuple[Hole, ...], mask: Bools, beyond_in: Floats) -> tuple[RivetRow, ...]:
    by_name: dict[str, list[tuple[Hole, float]]] = {}
    for hole, chosen, off_in in zip(rivets, mask.tolist(), beyond_in.tolist(), strict=True):
        if chosen:
            by_name.setdefault(hole.row, []).append((hole, off_in))
    rows = []
    for name, found in by_name.items():
        pitches_in = _pitches_in(layout, name, {hole.number for hole, _ in found})
        holes, offset_in = tuple(hole for hole, _ in found), fmean(off_in for _, off_in in found)
        least_in, most_in = min(pitches_in, default=None), max(pitches_in, default=None)
        rows.append(RivetRow(name, holes, offset_in, least_in, most_in))
    return tuple(sorted(rows, key=lambda row: row.offset_in))


def _pitches_in(layout: Layout, row: str, numbers: set[int]) -> list[float]:
    """Pitches between neighbors that both count; where none do, to the neighbors of those that count [in]."""
    own = [pair for pair in layout.pitches if pair.first.row == row]
    inside = [(pair.first.number in numbers) + (pair.second.number in numbers) for pair in own]
    most = max(inside, default=0)
    return [pair.distance_in for pair, count in zip(own, inside, strict=True) if count and count == most]
