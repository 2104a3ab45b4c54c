"""Places for small labels beside crowded holes: each beside its own hole, on nothing that must be read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.drawings.boxes import Box, meeting, sides_of, touching
from hatchwright.drawings.ink import Point
from hatchwright.shapes.pieces import points_of
from hatchwright.shapes.profile import Loop

Floats = npt.NDArray[np.float64]

_GAPS_IN = (0.03, 0.12)
_FIRM_WEIGHT, _EDGE_WEIGHT = 8.0, 1.0
_OWN_IN = 0.06
_SAMPLE_IN = 0.08
_DIAGONAL_RATIO = 0.7
_DIRECTIONS = np.array(
    [(1, 0), (0, 1), (-1, 0), (0, -1), (1, 1), (-1, 1), (-1, -1), (1, -1)], dtype=np.float64
)
_REACH = np.where(np.abs(_DIRECTIONS).sum(axis=1, keepdims=True) > 1.0, _DIAGONAL_RATIO, 1.0)


class Spot(Struct, frozen=True):
    """A hole that wants a label of a width and a height [in].

    Args:
        clear_in: the label keeps this far from the center, such as the radius of a hole [in].
    """

    at: Point
    clear_in: float
    width_in: float
    height_in: float


def label_places(spots: Sequence[Spot], *, keep_off: Iterable[Box], edges: Iterable[Loop]) -> list[Point]:
    """Choose where the middle of each label goes, off the boxes that it must not hide and the edges that it should not.

    Sixteen places round each hole are tried in the order of the spots; one of the least overlap wins, so
    that the same drawing always gets the same labels.
    """
    if not spots:
        return []
    holes = [Box(*spot.at, *spot.at).grown(spot.clear_in + _OWN_IN) for spot in spots]
    firm = sides_of([*holes, *keep_off])
    soft = np.vstack([np.empty((0, 4)), *(_along(loop) for loop in edges)])
    weight = np.concatenate([np.full(len(firm), _FIRM_WEIGHT), np.full(len(soft), _EDGE_WEIGHT)])
    boxes = _candidates(spots)
    cost = _cost(boxes, np.vstack([firm, soft]), weight)
    reach = _hull(boxes)
    rivals: list[list[int]] = [[] for _ in spots]
    for row, earlier in np.argwhere(np.tril(touching(reach, reach), -1)).tolist():
        rivals[row].append(earlier)
    labels: list[Box] = []
    for row, order in enumerate(np.argsort(cost, axis=1, kind="stable").tolist()):
        taken, least = [labels[earlier] for earlier in rivals[row]], np.inf
        for place in order:
            if cost[row, place] >= least:
                break
            tried = Box(*boxes[row, place].tolist())
            total = cost[row, place] + _FIRM_WEIGHT * sum(map(tried.touches, taken))
            if total < least:
                least, best = total, tried
        labels.append(best)
    return [label.middle for label in labels]


def _candidates(spots: Sequence[Spot]) -> Floats:
    """Boxes of each label in eight places round its hole, near and a little farther, shape (n_spots, 16, 4)."""
    at = np.array([spot.at for spot in spots])[:, None]
    half = 0.5 * np.array([(spot.width_in, spot.height_in) for spot in spots])[:, None]
    clear = np.array([spot.clear_in for spot in spots])[:, None, None]
    reach = [_REACH * (clear + gap) + half for gap in _GAPS_IN]
    middles = at + np.concatenate([_DIRECTIONS * one for one in reach], axis=1)
    return np.concatenate([middles - half, middles + half], axis=2)


def _cost(boxes: Floats, taken: Floats, weight: Floats) -> Floats:
    """Weight of what each candidate would lie on, its own hole not counted, shape (n_spots, n_candidates)."""
    spot, other = np.nonzero(touching(_hull(boxes), taken))
    spot, other = spot[is_foreign := spot != other], other[is_foreign]
    near, box = taken[other, None, :], boxes[spot]
    hit = meeting(box, near)
    cost = np.zeros(boxes.shape[:2])
    np.add.at(cost, spot, hit * weight[other, None])
    return cost


def _hull(boxes: Floats) -> Floats:
    """One box round all candidates of each spot, shape (n_spots, 4)."""
    return np.hstack([boxes[:, :, :2].min(axis=1), boxes[:, :, 2:].max(axis=1)])


def _along(loop: Loop) -> Floats:
    """Points close together along an edge, as boxes of no size, shape (n, 4)."""
    parts = loop.working_form()
    sampled = points_of(parts.at(*parts.steps(_SAMPLE_IN)))
    return np.hstack([sampled, sampled])


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
