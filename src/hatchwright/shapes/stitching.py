"""Loops out of loose pieces: coincident pieces settled, tails taken off, the rest run round."""

from __future__ import annotations

from collections import defaultdict

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.shapes.pieces import Bools, Floats, Integers, Pieces
from hatchwright.shapes.profile import SHORTEST_IN, Loop
from hatchwright.shapes.welding import numbered_ends, twins

LONGEST_TAIL_IN = 1e-4
"""A loose end longer than this is not rounding, and stops the work [in]."""

# A loop of less area is what rounding leaves between two edges that lie on each other: a millionth of an inch across.
_SPECK_SQ_IN = 1e-12


def stitch(parts: Pieces) -> tuple[Loop, ...]:
    """Join directed pieces end to end into closed loops.

    Args:
        parts: welded pieces that meet only at their ends, in any order.
    Raises:
        GeometryError: an end stays loose; `place` is that end.
    """
    first, last = numbered_ends(parts)
    # Tails are taken off after twins are settled: a seam that went leaves the loose ends that are then cut back.
    kept = _without_tails(parts, first, last, _settled_twins(parts))
    rows = np.column_stack([parts.start.real, parts.start.imag, parts.bulge])
    sized = (_without_specks(rows[run]) for run in _runs(parts, first, last, kept))
    loops = (Loop(run).cleaned() for run in sized if len(run) > 1)
    return tuple(loop for loop in loops if abs(loop.area_sq_in) > _SPECK_SQ_IN)


def _without_specks(rows: Floats) -> Floats:
    """Leave out vertices that follow the last one within rounding."""
    kept = [rows[0]]
    for row in rows[1:]:
        if abs(complex(row[0] - kept[-1][0], row[1] - kept[-1][1])) > SHORTEST_IN:
            kept.append(row)
        else:
            kept[-1] = np.array([kept[-1][0], kept[-1][1], row[2]])
    while len(kept) > 1 and abs(complex(*(kept[-1] - kept[0])[:2])) <= SHORTEST_IN:
        kept.pop()
    return np.array(kept)


def _settled_twins(parts: Pieces) -> Bools:
    """Of pieces that lie on each other keep one if they run the same way, none if back to back."""
    kept = np.ones(parts.count, dtype=np.bool_)
    for one, other, same_way in zip(*twins(parts), strict=True):
        if kept[one] and kept[other]:
            kept[one], kept[other] = False, same_way
    return kept


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
            raise GeometryError.saying_at(parts.end[longest], "error.edge_open")
        kept = kept & ~loose


def _runs(parts: Pieces, first: Integers, last: Integers, kept: Bools) -> list[list[int]]:
    """Go round: from each end on to the piece that turns most to the left.

    Where the edge has a second way, a rounding error long, what is left of the other one leads nowhere and is dropped.
    """
    leaving: dict[int, list[int]] = defaultdict(list)
    for k in kept.nonzero()[0]:
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
                raise GeometryError.saying_at(parts.end[run[-1]], "error.edge_open")
            else:
                run.pop()
        runs.append(run)
    return [run for run in runs if run]


def _taken(leaving: dict[int, list[int]], node: int, piece: int) -> int:
    leaving[node].remove(piece)
    if not leaving[node]:
        del leaving[node]
    return piece
