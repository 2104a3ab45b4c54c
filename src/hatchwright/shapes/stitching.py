"""Loops out of loose pieces: ends that are one place joined, coincident pieces settled, tails taken off."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.shapes.contacts import SAME_IN, arc_bulge
from hatchwright.shapes.distance import pairs_within
from hatchwright.shapes.pieces import Bools, Integers, Pieces, points_of
from hatchwright.shapes.profile import Loop

LONGEST_TAIL_IN = 1e-4
"""A loose end longer than this is not rounding, and stops the work [in]."""

_TWIN_IN = 2e-8
_SPECK_SQ_IN = 1e-12


@dataclass(frozen=True, slots=True)
class Stitched:
    """What became of loose pieces.

    Args:
        loops: the closed loops.
        seams: pieces along which two edges met back to back and left no width between them.
    """

    loops: tuple[Loop, ...]
    seams: Pieces


def stitch(parts: Pieces) -> Stitched:
    """Join directed pieces end to end into closed loops.

    Args:
        parts: pieces that meet only at their ends, in any order.
    Returns:
        Stitched: loops of these pieces, and the seams.
    Raises:
        GeometryError: an end stays loose; `place` is that end.
    """
    nodes = _nodes(parts)
    first, last = nodes[: parts.count], nodes[parts.count :]
    kept, seams = _settle_twins(parts, first, last)
    kept = _without_tails(parts, first, last, kept)
    where = np.concatenate([parts.start, parts.end])
    start, end = where[first], where[last]
    moved = parts.is_arc & ((start != parts.start) | (end != parts.end))
    bulge = np.where(moved, arc_bulge(start, end, parts.centre, np.sign(parts.bulge)), parts.bulge)
    rows = np.column_stack([start.real, start.imag, bulge])
    loops = (Loop(rows[run]) for run in _runs(parts, first, last, kept))
    sized = tuple(loop.cleaned() for loop in loops if abs(loop.area_sq_in) > _SPECK_SQ_IN)
    return Stitched(sized, parts.taken(seams))


def _nodes(parts: Pieces) -> Integers:
    """A number for each end, the same for ends at one place: starts first, then ends, shape (2 n,)."""
    ends = np.concatenate([parts.start, parts.end])
    label = np.arange(len(ends))
    i, j, _ = pairs_within(points_of(ends), SAME_IN)
    while True:
        before = label.copy()
        np.minimum.at(label, j, label[i])
        np.minimum.at(label, i, label[j])
        if np.array_equal(label, before):
            return label


def _settle_twins(parts: Pieces, first: Integers, last: Integers) -> tuple[Bools, Integers]:
    """Of pieces that lie on each other keep one if they run the same way, none if back to back."""
    kept = first != last
    low, high = np.minimum(first, last), np.maximum(first, last)
    order = np.lexsort((np.where(first < last, parts.bulge, -parts.bulge), high, low))
    alike = np.flatnonzero((np.diff(low[order]) == 0) & (np.diff(high[order]) == 0))
    middle = parts.middle
    seams = []
    for k, other in zip(order[alike], order[alike + 1], strict=True):
        if kept[k] and kept[other] and abs(middle[k] - middle[other]) < _TWIN_IN:
            back_to_back = first[k] != first[other]
            kept[k] = False
            if back_to_back:
                kept[other] = False
                seams.append(k)
    return kept, np.array(seams, dtype=np.intp)


def _without_tails(parts: Pieces, first: Integers, last: Integers, kept: Bools) -> Bools:
    count = len(first) * 2
    length_in = parts.length_in
    while True:
        leaves = np.bincount(first[kept], minlength=count)
        arrives = np.bincount(last[kept], minlength=count)
        loose = kept & ((arrives[first] == 0) | (leaves[last] == 0))
        if not loose.any():
            return kept
        longest = int(np.where(loose, length_in, 0.0).argmax())
        if length_in[longest] > LONGEST_TAIL_IN:
            raise _loose_end(parts.end[longest])
        kept = kept & ~loose


def _runs(parts: Pieces, first: Integers, last: Integers, kept: Bools) -> list[list[int]]:
    """Go round: from each end on to the piece that turns most to the left.

    Where the edge has a second way, a rounding error long, what is left of the other one leads nowhere and is dropped.
    """
    leaving: dict[int, list[int]] = defaultdict(list)
    for k in np.flatnonzero(kept):
        leaving[int(first[k])].append(int(k))
    sets_out, arrives = parts.tangents()
    length_in = parts.length_in
    runs: list[list[int]] = []
    while leaving:
        home, ways_on = next(iter(leaving.items()))
        run = [_taken(leaving, home, ways_on[0])]
        while run and (node := int(last[run[-1]])) != home:
            ways_on = leaving.get(node, [])
            if ways_on:
                turn_rad = np.angle(sets_out[ways_on] / arrives[run[-1]])
                run.append(_taken(leaving, node, ways_on[int(turn_rad.argmax())]))
            elif length_in[run[-1]] > LONGEST_TAIL_IN:
                raise _loose_end(parts.end[run[-1]])
            else:
                run.pop()
        runs.append(run)
    return [run for run in runs if run]


def _taken(leaving: dict[int, list[int]], node: int, piece: int) -> int:
    leaving[node].remove(piece)
    if not leaving[node]:
        del leaving[node]
    return piece


def _loose_end(z: complex) -> GeometryError:
    return GeometryError(
        "the edge does not close",
        place=(float(z.real), float(z.imag)),
        remedy="Look for pieces that nearly coincide there and simplify them",
    )
