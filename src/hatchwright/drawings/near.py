"""What lies near what on a page, for many boxes and lines at once: pairs from a grid, not everything by everything."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from hatchwright.drawings.boxes import Floats, meeting

Places = npt.NDArray[np.intp]
Bools = npt.NDArray[np.bool_]
Complexes = npt.NDArray[np.complex128]

_LONGEST_IN = 0.35
_LEAST_CELL_IN = 0.05


def touching_pairs(boxes: Floats, others: Floats) -> tuple[Places, Places]:
    """Every pair of a box and another that touch, once each, in a set order.

    Args:
        boxes: sides, shape (n, 4) [in].
        others: sides, shape (m, 4) [in].
    Returns:
        tuple: places of the boxes and of the others, each of shape (k,).
    """
    one, two, is_first = _neighbors(boxes, others)
    one, two = one[is_first], two[is_first]
    is_pair = meeting(boxes[one], others[two])
    return one[is_pair], two[is_pair]


def touching_apart(boxes: Floats, group: Places) -> tuple[Places, Places]:
    """Every pair of boxes of different groups that touch, the earlier of the two first.

    Args:
        boxes: sides, shape (n, 4) [in].
        group: of each box, shape (n,).
    """
    one, two, is_first = _neighbors(boxes, boxes)
    is_wanted = is_first & (group[one] < group[two])
    one, two = one[is_wanted], two[is_wanted]
    is_pair = meeting(boxes[one], boxes[two])
    return one[is_pair], two[is_pair]


def _neighbors(boxes: Floats, others: Floats) -> tuple[Places, Places, Bools]:
    """Pairs of boxes that share a cell of a grid, and which of them are in the first of the cells that they share."""
    if not len(boxes) or not len(others):
        none = np.empty(0, np.intp)
        return none, none, np.empty(0, np.bool_)
    spans = np.sort(boxes[:, 2:] - boxes[:, :2], axis=None)
    cell_in = max(_LEAST_CELL_IN, float(spans[len(spans) // 2]))
    low = np.minimum(boxes[:, :2].min(axis=0), others[:, :2].min(axis=0))
    box, cell, first_cell = _cells(boxes, low, cell_in)
    other, other_cell, other_first = _cells(others, low, cell_in)
    order = np.argsort(other_cell, kind="stable")
    in_order = other_cell[order]
    first, last = np.searchsorted(in_order, cell), np.searchsorted(in_order, cell, side="right")
    row, step = _runs(last - first)
    beside = order[first[row] + step]
    one, two = box[row], other[beside]
    column, line = (np.maximum(first_cell[one, axis], other_first[two, axis]) for axis in (0, 1))
    return one, two, _key(column, line) == cell[row]


def _cells(boxes: Floats, low: Floats, cell_in: float) -> tuple[Places, Places, Places]:
    """Each box with each cell that it touches; and the first column and line of each box, shape (n, 2)."""
    first, last = (np.floor((ends - low) / cell_in).astype(np.intp) for ends in (boxes[:, :2], boxes[:, 2:]))
    wide, high = (last - first + 1).T
    box, step = _runs(wide * high)
    wide_of = wide[box]
    return box, _key(first[box, 0] + step % wide_of, first[box, 1] + step // wide_of), first


def _key(column: Places, line: Places) -> Places:
    return column + (line << 24)


def _runs(counts: Places) -> tuple[Places, Places]:
    """Of runs of such lengths one after the other: the run of each member, and its place in the run."""
    run = np.repeat(np.arange(len(counts)), counts)
    return run, np.arange(len(run)) - np.repeat(np.cumsum(counts) - counts, counts)


def boxes_of_lines(lines: Floats) -> Floats:
    """The box round each straight line of shape (n, 4): its start (x, y) and its end [in]."""
    ends = lines.reshape(-1, 2, 2)
    return np.hstack([ends.min(axis=1), ends.max(axis=1)])


def divided(lines: Floats, longest_in: float = _LONGEST_IN) -> Floats:
    """Straight lines of shape (n, 4) cut into pieces no longer than that, end to end, shape (m, 4) [in]."""
    length_in = np.hypot(lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1])
    count = np.maximum(np.ceil(length_in / longest_in), 1.0).astype(np.intp)
    line, step = _runs(count)
    start, run = lines[line, :2], (lines[:, 2:] - lines[:, :2])[line]
    from_share, to_share = (step / count[line])[:, None], ((step + 1) / count[line])[:, None]
    return np.hstack([start + from_share * run, start + to_share * run])


def lines_meet_boxes(lines: Floats, boxes: Floats) -> Bools:
    """Whether each straight line comes into the box of its pair; lines and boxes of shape (n, 4) [in]."""
    start, run = lines[:, :2], lines[:, 2:] - lines[:, :2]
    is_level = run == 0.0
    slope = np.where(is_level, 1.0, run)
    one, two = (boxes[:, :2] - start) / slope, (boxes[:, 2:] - start) / slope
    is_between = (boxes[:, :2] <= start) & (start <= boxes[:, 2:])
    enter = np.where(is_level, np.where(is_between, 0.0, 2.0), np.minimum(one, two)).max(axis=1)
    leave = np.where(is_level, 1.0, np.maximum(one, two)).min(axis=1)
    met: Bools = np.maximum(enter, 0.0) <= np.minimum(leave, 1.0)
    return met


def lines_cross(lines: Floats, others: Floats) -> Bools:
    """Whether each straight line crosses the other of its pair, both of shape (n, 4) [in]."""
    a, b = lines[:, 0] + 1j * lines[:, 1], lines[:, 2] + 1j * lines[:, 3]
    c, d = others[:, 0] + 1j * others[:, 1], others[:, 2] + 1j * others[:, 3]
    crossed: Bools = (_is_left(a, b, c) != _is_left(a, b, d)) & (_is_left(c, d, a) != _is_left(c, d, b))
    return crossed


def _is_left(start: Complexes, end: Complexes, at: Complexes) -> Bools:
    left: Bools = (np.conj(end - start) * (at - start)).imag >= 0.0
    return left


def lines_off_points(lines: Floats, points: Floats) -> Floats:
    """How far each straight line of shape (n, 4) passes from the point of its pair, shape (n,) [in]."""
    start, run = lines[:, :2], lines[:, 2:] - lines[:, :2]
    length = np.maximum((run**2).sum(axis=1), 1e-30)
    share = np.clip(((points - start) * run).sum(axis=1) / length, 0.0, 1.0)
    off: Floats = np.linalg.norm(start + share[:, None] * run - points, axis=1)
    return off


def boxes_off_points(boxes: Floats, points: Floats) -> Floats:
    """How far each box lies from the point of its pair, 0 where the point is in it, shape (n,) [in]."""
    off = np.maximum(np.maximum(boxes[:, :2] - points, points - boxes[:, 2:]), 0.0)
    distance: Floats = np.linalg.norm(off, axis=1)
    return distance
