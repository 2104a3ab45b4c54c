"""The search itself: all rings in the order of an aim, the first that holds hole by hole.

A ring whose rows come too near to each other is not thrown away: its outer row goes out to the first distance at which
nothing can be missed, and it is put back in order. What comes out first is the best of the space.
Method: docs/theory/proposal.md, eq. 12.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import numpy as np
from msgspec import Struct

from hatchwright.judged import FLOAT_NOISE
from hatchwright.rules.row_pattern import stagger_ratio
from hatchwright.search.proposal.family import Family, Ring
from hatchwright.search.proposal.laid import (
    Floats,
    apart_in,
    between_rows_in,
    closest_in,
    neighbors_in,
    points_of_row,
)
from hatchwright.search.proposal.values import Aim

GREATEST_SPEED = 1.5
"""No distance between two rivets grows faster than this while a row moves out: a rivet of the row goes out at one, and
along it by less than the row grows longer; measured under 1.5 in docs/theory/proposal.md [-]."""


_SAME_LB = 1e-9
"""Masses that differ by less are the same: their last bits are not the ring's [lb]."""


class Found(Struct, frozen=True):
    """A ring that holds hole by hole.

    Args:
        of: number of its family.
    """

    of: int
    ring: Ring
    mass_lb: float


class Drilled(Struct, frozen=True):
    """Holes that are drilled round the opening besides, as those of a lapped cover's screws.

    Args:
        points: from the opening's center, shape (n, 2) [in].
        apart_in: what is kept from them, center to center [in].
    """

    points: Floats
    apart_in: float = 0.0


class Tally(Struct):
    """What was done.

    Args:
        candidates: rings that were put in order.
        checked: rings that were laid out hole by hole.
        judged: rings that were judged by every rule.
    """

    candidates: int = 0
    checked: int = 0
    judged: int = 0


Key = tuple[float, ...]


def _everywhere(of: int, width: int) -> bool:
    """No ring of a family is too wide for its place."""
    return True


def in_order(
    aim: Aim,
    families: Sequence[Family],
    near: Drilled,
    tally: Tally,
    has_room: Callable[[int, int], bool] = _everywhere,
) -> Iterator[Found]:
    """Every ring that holds hole by hole, the best of an aim first.

    Args:
        near: what else is drilled round the opening.
        tally: told what is done.
        has_room: whether a ring of one family, so many steps wide, has a place.
    """
    keys, numbers = _ordered(aim, families)
    tally.candidates += len(numbers)
    waiting: list[tuple[Key, Ring]] = []
    seen: set[tuple[int, Ring]] = set()
    at = 0
    while at < len(numbers) or waiting:
        if at < len(numbers) and (not waiting or tuple(keys[at].tolist()) <= waiting[0][0]):
            of, number = numbers[at]
            ring, at = families[of].ring(number), at + 1
        else:
            key, ring = heapq.heappop(waiting)
            of = int(key[-1])
        if (of, ring) in seen or not has_room(of, ring.width):
            continue
        seen.add((of, ring))
        family = families[of]
        tally.checked += 1
        short = _shortest(family, ring, near)
        if short is None:
            yield Found(
                of,
                ring,
                float(family.mass_of_lb(np.array(ring.width * family.step_in), np.array(ring.count))),
            )
            continue
        which, short_in = short
        by = max(1, math.ceil(short_in / GREATEST_SPEED / family.step_in - FLOAT_NOISE))
        # Rows that face each other may be mended by either: which of them, only trying both tells.
        for row in (which,) if short_in > 0.0 else range(len(ring.rows)):
            moved = family.moved(ring, row, by)
            if moved is not None and (of, moved) not in seen:
                heapq.heappush(waiting, (_key(aim, family, of, moved), moved))


def _ordered(aim: Aim, families: Sequence[Family]) -> tuple[Floats, list[tuple[int, int]]]:
    """The keys of all rings in order, shape (n, columns), and the family and number of each."""
    columns = [_columns(aim, family, of) for of, family in enumerate(families)]
    keys = np.vstack(columns) if columns else np.zeros((0, 1))
    which = [(of, number) for of, some in enumerate(columns) for number in range(len(some))]
    order = np.lexsort(keys.T[::-1])
    return keys[order], [which[at] for at in order.tolist()]


def _columns(aim: Aim, family: Family, of: int) -> Floats:
    rings, groups = family.rings, family.groups
    mass = np.round(family.mass_lb / _SAME_LB)
    first = _first(aim, mass, rings.count, rings.width)
    rows = (rings.inner, rings.outer)
    bays = (each[row] for row in rows for each in (groups.x_bays, groups.y_bays, groups.staggered))
    places = (rings.inner_at, rings.outer_at)
    last = np.full(len(rings.count), of)
    return np.column_stack([*first, *places, *bays, last]).astype(float)


def _key(aim: Aim, family: Family, of: int, ring: Ring) -> Key:
    """The same of one ring."""
    mass = np.round(family.mass_of_lb(np.array(ring.width * family.step_in), np.array(ring.count)) / _SAME_LB)
    inner, outer = ring.rows[0], ring.rows[-1]
    bays = (float(each) for row in (inner, outer) for each in (row.x_bays, row.y_bays, row.is_staggered))
    first = _first(aim, mass, ring.count, ring.width)
    return (*map(float, first), float(ring.at[0]), float(ring.at[-1]), *bays, float(of))


def _first(aim: Aim, mass: Any, count: Any, width: Any) -> tuple[Any, Any, Any]:
    """What is compared first, then where that is the same."""
    match aim:
        case Aim.LIGHTEST:
            return mass, count, width
        case Aim.FEWEST:
            return count, mass, width
        case Aim.LARGEST:
            return width, mass, count


def _shortest(family: Family, ring: Ring, near: Drilled) -> tuple[int, float] | None:
    """The first row whose holes come too near to each other, to those of the row inside it or to what is drilled
    besides, and by how much; by nothing where its rows face each other, which any step may mend [in]. None where all
    distances hold."""
    limits, shape = family.kind.limits, family.shape
    points = [points_of_row(shape, row) for row in ring.rows]
    pitch_in = limits.pitch_in[len(ring.rows) - 1]
    for which, own in enumerate(points):
        short_in = max(
            pitch_in - float(neighbors_in(own).min()),
            limits.apart_in - closest_in(own),
            near.apart_in - apart_in(own, near.points) if len(near.points) else 0.0,
        )
        if which:
            short_in = max(
                short_in,
                limits.apart_in - apart_in(points[which - 1], own),
                limits.between_in
                + limits.kept_in
                - between_rows_in(points[which - 1], own, reach_in=limits.reach_in),
            )
        if short_in > FLOAT_NOISE:
            return which, short_in
    if len(points) < 2 or _is_staggered(points[0], points[1], limits.stagger):
        return None
    return 1, 0.0


def _is_staggered(inner: Floats, outer: Floats, least: float) -> bool:
    """Whether neither row faces the other, each held as the rule holds it."""
    shares = (stagger_ratio(inner, outer), stagger_ratio(outer, inner))
    return all(share is None or share >= least - FLOAT_NOISE for share in shares)
