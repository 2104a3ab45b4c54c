"""Ends that are one place made exactly one, and the pieces that then lie on each other."""

from __future__ import annotations

import numpy as np

from hatchwright.shapes.contacts import arc_bulge
from hatchwright.shapes.distance import pairs_within
from hatchwright.shapes.pieces import Bools, Integers, Pieces, points_of

WELD_IN = 2e-11
"""Ends nearer than this are one end; several times what contacts may be off [in]."""

_TWIN_IN = 4e-10


def weld(parts: Pieces) -> tuple[Pieces, Integers]:
    """Move ends that lie within rounding of each other to one place, so that they compare equal.

    Returns:
        tuple: the pieces with some length left, and which of the old ones they are, shape (m,).
    """
    ends = np.concatenate([parts.start, parts.end])
    label = np.arange(len(ends))
    i, j, _ = pairs_within(points_of(ends), WELD_IN)
    while True:
        before = label.copy()
        np.minimum.at(label, j, label[i])
        np.minimum.at(label, i, label[j])
        if np.array_equal(label, before):
            break
    start, end = ends[label[: parts.count]], ends[label[parts.count :]]
    moved = parts.is_arc & ((start != parts.start) | (end != parts.end))
    bulge = np.where(moved, arc_bulge(start, end, parts.center, np.sign(parts.bulge)), parts.bulge)
    center = np.where(parts.is_arc, parts.center, start)
    which = (start != end).nonzero()[0]
    return Pieces(start, end, bulge, center, parts.radius).taken(which), which


def numbered_ends(parts: Pieces) -> tuple[Integers, Integers]:
    """A number for the place of each start and of each end of welded pieces, each of shape (n,)."""
    number = np.unique(np.concatenate([parts.start, parts.end]), return_inverse=True)[1].ravel()
    return number[: parts.count], number[parts.count :]


def twins(parts: Pieces) -> tuple[Integers, Integers, Bools]:
    """Welded pieces that lie on each other.

    Returns:
        tuple: one piece and the other of each pair, and whether they run the same way, each of shape (m,). Of three
            that lie on each other two pairs are given, linked by the middle one.
    """
    first, last = numbered_ends(parts)
    low, high = np.minimum(first, last), np.maximum(first, last)
    order = np.lexsort((np.where(first < last, parts.bulge, -parts.bulge), high, low))
    one, other = order[:-1], order[1:]
    middle = parts.middle
    alike = (
        (low[one] == low[other])
        & (high[one] == high[other])
        & (np.abs(middle[one] - middle[other]) < _TWIN_IN)
    )
    one, other = one[alike], other[alike]
    return one, other, first[one] == first[other]
