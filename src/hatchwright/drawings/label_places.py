"""Places for small labels beside crowded holes: each beside its own hole, on nothing that must be read.

Method: many places of every label at once; the label with the fewest clean places first; then, one label at a time,
moved to its cheapest place, and one that still meets something forced in by putting out at most four others. No
random numbers, so that the same drawing always gets the same labels.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
from msgspec import Struct

from hatchwright.drawings.boxes import Box, sides_of
from hatchwright.drawings.ink import Point
from hatchwright.drawings.label_candidates import Candidates, Spot, near_candidates, with_leaders
from hatchwright.drawings.label_conflicts import HIDES, Obstacles, conflicts_of, cost_of
from hatchwright.drawings.label_search import placed
from hatchwright.drawings.near import divided
from hatchwright.shapes.profile import Loop

__all__ = ["Label", "Spot", "label_places", "spread"]

_CHORD_IN = 0.01
_MOST_LED = 200
"""Where more labels than this find no place beside their hole, leaders would only hide the drawing [-]. Own choice."""


class Label(Struct, frozen=True):
    """Where a label goes.

    Args:
        middle: of the label (x, y) [in].
        leader: from the hole to the label where it does not stand beside it, None where it does [in].
    """

    middle: Point
    leader: tuple[Point, Point] | None = None


def label_places(
    spots: Sequence[Spot],
    *,
    keep_off: Iterable[Box] = (),
    edges: Iterable[Loop] = (),
    lines: Iterable[tuple[Point, Point]] = (),
    holes: Iterable[tuple[Point, float]] = (),
) -> list[Label | None]:
    """Choose where each label goes: off holes, lettering, edges, lines and each other.

    Args:
        spots: the holes that want one; their own holes are kept clear too.
        keep_off: boxes that no label and no leader may lie on.
        edges: edges that no label may lie on; a leader may cross one.
        lines: straight lines, the same.
        holes: center (x, y) and radius of other holes to keep clear of [in].
    Returns:
        list[Label | None]: one a spot; None where there is no room without hiding something.
    """
    if not spots:
        return []
    obstacles = _obstacles(spots, keep_off, edges, lines, holes)
    near = near_candidates(spots)
    labels = _placed(near, len(spots), obstacles)
    bad = np.array([spot for spot, label in enumerate(labels) if label is None], dtype=np.intp)
    if 0 < len(bad) <= _MOST_LED:
        labels = _placed(with_leaders(near, spots, beside=bad), len(spots), obstacles)
    return labels


def _placed(candidates: Candidates, count: int, obstacles: Obstacles) -> list[Label | None]:
    """The label of each of so many spots in one of its places, None where it would hide something in each of them."""
    cost = cost_of(candidates, obstacles)
    is_clean = cost < HIDES
    places = candidates.taken(is_clean)
    labels: list[Label | None] = [None] * count
    if len(places.spot):
        for place in placed(places, cost[is_clean], conflicts_of(places)).tolist():
            if place >= 0:
                labels[int(places.spot[place])] = _label(places, place)
    return labels


def _obstacles(
    spots: Sequence[Spot],
    keep_off: Iterable[Box],
    edges: Iterable[Loop],
    lines: Iterable[tuple[Point, Point]],
    holes: Iterable[tuple[Point, float]],
) -> Obstacles:
    drawn = [np.array([(*start, *end) for start, end in lines], dtype=np.float64).reshape(-1, 4)]
    for loop in edges:
        points = loop.points(_CHORD_IN)
        drawn.append(np.hstack([points, np.roll(points, -1, axis=0)]))
    rows = [(*spot.at, spot.clear_in) for spot in spots] + [(*at, radius_in) for at, radius_in in holes]
    rounds = np.array(rows, dtype=np.float64)
    return Obstacles(sides_of(keep_off), divided(np.concatenate(drawn)), rounds[:, :2], rounds[:, 2])


def _label(candidates: Candidates, place: int) -> Label:
    left, bottom, right, top = candidates.box[place].tolist()
    x, y, end_x, end_y = candidates.leader[place].tolist()
    leader = None if math.isnan(x) else ((x, y), (end_x, end_y))
    return Label((0.5 * (left + right), 0.5 * (bottom + top)), leader)


def spread(wanted: Sequence[float], gap_in: float) -> list[float]:
    """Move places along a line as little as possible until no two are nearer than a gap.

    Args:
        wanted: where each would best be [in].
    Returns:
        list[float]: the places, in the order given [in].
    Method: least squares; runs that would crowd are pooled and centered on their mean.

    >>> spread([1.0, 1.1, 5.0], 0.3)
    [0.9, 1.2, 5.0]
    """
    order = sorted(range(len(wanted)), key=lambda place: wanted[place])
    runs: list[tuple[float, int]] = []
    for rank, place in enumerate(order):
        total, count = wanted[place] - rank * gap_in, 1
        while runs and runs[-1][0] / runs[-1][1] > total / count:
            before = runs.pop()
            total, count = total + before[0], count + before[1]
        runs.append((total, count))
    means = [total / count for total, count in runs for _ in range(count)]
    spaced = {place: means[rank] + rank * gap_in for rank, place in enumerate(order)}
    return [spaced[place] for place in range(len(wanted))]
