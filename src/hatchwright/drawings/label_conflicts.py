"""What a label in each of its places would lie on: what is drawn, and other labels and their leaders."""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from hatchwright.drawings.boxes import Floats
from hatchwright.drawings.label_candidates import Candidates
from hatchwright.drawings.near import (
    Places,
    boxes_of_lines,
    boxes_off_points,
    lines_cross,
    lines_meet_boxes,
    lines_off_points,
    touching_apart,
    touching_pairs,
)

HIDES = 8.0
"""Cost of a label that hides something, or is hidden; less is only untidy [-]."""

_CROSSES = 0.15
"""Cost of a leader that crosses an edge [-]."""

_DOUBTFUL = 1.0
"""Cost of a label that stands as near to another hole as to its own [-]."""

_CLEAR_RATIO = 0.3
"""Clear room round a label, over its height [-]."""

_OTHER_HOLE_RATIO = 0.2
_OUTWARD = np.array([-1.0, -1.0, 1.0, 1.0])


class Obstacles(Struct, frozen=True):
    """What labels keep off.

    Args:
        boxes: sides of what is lettered already, shape (n, 4) [in].
        lines: edges and other lines in short pieces, start and end, shape (m, 4) [in].
        centers: of the holes, those of the spots first and in their order, shape (k, 2) [in].
        radii: of the same holes, shape (k,) [in].
    """

    boxes: Floats
    lines: Floats
    centers: Floats
    radii: Floats


class Conflicts(Struct, frozen=True):
    """Which places of different labels exclude each other.

    Args:
        first: where the run of each place begins in `others`, one more at the end, shape (n + 1,).
        others: the places that it excludes, run by run.
    """

    first: Places
    others: Places

    def of(self, place: int) -> Places:
        """The places that one excludes."""
        return self.others[self.first[place] : self.first[place + 1]]


def cost_of(places: Candidates, obstacles: Obstacles) -> Floats:
    """What each place costs by itself, its price included, shape (n,) [-]."""
    cost = places.price.copy()
    box = _with_room(places)
    hit, _ = touching_pairs(box, obstacles.boxes)
    np.add.at(cost, hit, HIDES)
    line_boxes = boxes_of_lines(obstacles.lines)
    hit, line = touching_pairs(box, line_boxes)
    cost[np.unique(hit[lines_meet_boxes(obstacles.lines[line], box[hit])])] += HIDES
    _add_holes(cost, places, box, obstacles)
    led = np.flatnonzero(places.is_led)
    leaders = places.leader[led]
    hit, text = touching_pairs(boxes_of_lines(leaders), obstacles.boxes)
    np.add.at(cost, led[hit[lines_meet_boxes(leaders[hit], obstacles.boxes[text])]], HIDES)
    hit, line = touching_pairs(boxes_of_lines(leaders), line_boxes)
    np.add.at(cost, led[hit[lines_cross(leaders[hit], obstacles.lines[line])]], _CROSSES)
    return cost


def _add_holes(cost: Floats, places: Candidates, box: Floats, obstacles: Obstacles) -> None:
    """What lies on holes, and what stands as near to another hole as to its own."""
    high = places.box[:, 3] - places.box[:, 1]
    around = np.hstack([obstacles.centers, obstacles.centers]) + obstacles.radii[:, None] * _OUTWARD
    room = _OTHER_HOLE_RATIO * float(high.max())
    hit, hole = touching_pairs(box + room * _OUTWARD, around)
    is_other = places.spot[hit] != hole
    off = boxes_off_points(places.box[hit], obstacles.centers[hole]) - obstacles.radii[hole]
    np.add.at(cost, hit[is_other & (off < _OTHER_HOLE_RATIO * high[hit])], HIDES)
    own = boxes_off_points(places.box, obstacles.centers[places.spot]) - obstacles.radii[places.spot]
    is_doubtful = is_other & ~places.is_led[hit] & (off < own[hit] + 0.1 * high[hit])
    cost[np.unique(hit[is_doubtful])] += _DOUBTFUL
    led = np.flatnonzero(places.is_led)
    leaders = places.leader[led]
    hit, hole = touching_pairs(boxes_of_lines(leaders), around)
    is_hit = lines_off_points(leaders[hit], obstacles.centers[hole]) < obstacles.radii[hole]
    np.add.at(cost, led[hit[is_hit & (places.spot[led[hit]] != hole)]], HIDES)


def conflicts_of(places: Candidates) -> Conflicts:
    """Which places of two labels meet: label on label, leader on label, leader on leader."""
    led, count = np.flatnonzero(places.is_led), len(places.spot)
    leaders, group = places.leader[led], places.spot[led]
    around = boxes_of_lines(leaders)
    found = [touching_apart(_with_room(places, 0.5), places.spot)]
    one, other = touching_pairs(around, places.box)
    is_met = (group[one] != places.spot[other]) & lines_meet_boxes(leaders[one], places.box[other])
    found.append((led[one[is_met]], other[is_met]))
    one, other = touching_apart(around, group)
    is_met = lines_cross(leaders[one], leaders[other])
    found.append((led[one[is_met]], led[other[is_met]]))
    one, other = (np.concatenate(ends) for ends in zip(*found, strict=True))
    keys = np.sort(np.concatenate([one * count + other, other * count + one]))
    keys = keys[np.diff(keys, prepend=-1) > 0]
    return Conflicts(np.searchsorted(keys, np.arange(count + 1) * count), keys % max(count, 1))


def _with_room(places: Candidates, share: float = 1.0) -> Floats:
    """The label in each place with a share of its clear room round it, shape (n, 4) [in]."""
    high = places.box[:, 3:] - places.box[:, 1:2]
    box: Floats = places.box + share * _CLEAR_RATIO * high * _OUTWARD
    return box
