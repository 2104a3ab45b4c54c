"""The four sides of the cut, with the rivets beyond each and their rows."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from statistics import fmean

from hatchwright.layout.layout import Hole, Layout


@dataclass(frozen=True, slots=True)
class RivetRow:
    """The part of one row that lies straight beside the opening.

    Args:
        name: of the row.
        holes: its rivets.
        offset_in: mean distance from the edge of the opening [in].
        pitch_in: least spacing along the row, None for a single rivet [in].
    """

    name: str
    holes: tuple[Hole, ...]
    offset_in: float
    pitch_in: float | None


@dataclass(frozen=True, slots=True)
class CutSide:
    """One side of the cut with the rivets beyond it, which carry its load round the opening.

    Args:
        name: by the axis and the way it lies: X+, X-, Y+ or Y-.
        axis: 0 for a side that a load along X crosses, 1 for Y.
        cut_in: metal cut away, square to that axis [in].
        rivets: every rivet beyond the edge; one beyond a corner counts for both of its sides.
        rows: rows straight beside the opening, the nearest first.
    """

    name: str
    axis: int
    cut_in: float
    rivets: tuple[Hole, ...]
    rows: tuple[RivetRow, ...]


def sides_of_cut(layout: Layout) -> tuple[CutSide, ...]:
    """The four sides of the opening, as filed or as drawn, whichever is larger, with the rivets beyond each.

    A load along X is carried round the opening by the rivets beyond its X edges, over the cut along Y; and the other
    way round. A rivet beyond a corner counts for both; one that joins nothing to the skin counts for none.

    Args:
        layout: with rivets, or without.
    Returns:
        tuple: X+, X-, Y+ and Y-.
    """
    drawn, filed = layout.wanted.bounds, layout.opening.bounds
    low = tuple(min(pair) for pair in zip(drawn[:2], filed[:2], strict=True))
    high = tuple(max(pair) for pair in zip(drawn[2:], filed[2:], strict=True))
    rivets = [hole for hole in layout.holes_of("rivet") if len(hole.stack) > 1]
    sides = []
    for axis, letter in ((0, "X"), (1, "Y")):
        other = 1 - axis
        for sign, edge in ((1, high[axis]), (-1, low[axis])):
            beyond = tuple(hole for hole in rivets if sign * (_at(hole, axis) - edge) > 0)
            beside = [hole for hole in beyond if low[other] <= _at(hole, other) <= high[other]]
            rows = _rows(beside, axis, sign, edge)
            name = f"{letter}{'+' if sign > 0 else '-'}"
            sides.append(CutSide(name, axis, high[other] - low[other], beyond, rows))
    return tuple(sides)


def _at(hole: Hole, axis: int) -> float:
    return hole.y_in if axis else hole.x_in


def _rows(holes: list[Hole], axis: int, sign: int, edge_in: float) -> tuple[RivetRow, ...]:
    by_name: dict[str, list[Hole]] = {}
    for hole in holes:
        by_name.setdefault(hole.row, []).append(hole)
    rows = [
        RivetRow(
            name,
            tuple(row),
            fmean(sign * (_at(hole, axis) - edge_in) for hole in row),
            _least_pitch(row),
        )
        for name, row in by_name.items()
    ]
    return tuple(sorted(rows, key=lambda row: row.offset_in))


def _least_pitch(row: list[Hole]) -> float | None:
    if len(row) < 2:
        return None
    ordered = sorted(row, key=lambda hole: (hole.x_in, hole.y_in))
    if abs(ordered[0].y_in - ordered[-1].y_in) > abs(ordered[0].x_in - ordered[-1].x_in):
        ordered = sorted(row, key=lambda hole: (hole.y_in, hole.x_in))
    return min(math.hypot(a.x_in - b.x_in, a.y_in - b.y_in) for a, b in itertools.pairwise(ordered))
