"""The search itself: all rings in the order of an aim, the first that holds hole by hole.

A ring whose rows come too near to each other is not thrown away: its outer row goes out to the first distance at which
nothing can be missed, and it is put back in order. What comes out first is the best of the space.
Method: docs/theory/proposal.md, eq. 12.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from itertools import count
from typing import Any

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.judged import FLOAT_NOISE
from hatchwright.rules.row_pattern import stagger_ratios
from hatchwright.search.proposal.family import Family, Ring
from hatchwright.search.proposal.laid import (
    Floats,
    LaidRow,
    apart_in,
    between_rows_in,
    closest_in,
    neighbors_in,
    points_of_row,
)
from hatchwright.search.proposal.ring import Shape
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


def nothing() -> None:
    """Tell nobody."""


_TOLD_EACH = 16
"""Rings are laid out between two times that it is told that the search goes on [-]."""


class Tally(Struct):
    """What was done.

    Args:
        candidates: rings that were put in order.
        checked: rings that were laid out hole by hole.
        judged: rings that were judged by every rule.
        going_on: told now and then while rings are laid out; what it raises ends the search.
    """

    candidates: int = 0
    checked: int = 0
    judged: int = 0
    going_on: Callable[[], object] = nothing


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
    most: int | None = None,
) -> Iterator[Found]:
    """Every ring that holds hole by hole, the best of an aim first.

    Args:
        near: what else is drilled round the opening.
        tally: told what is done.
        has_room: whether a ring of one family, so many steps wide, has a place.
        most: rings that are laid out before it is given up, None for all.
    """
    keys, numbers = _ordered(aim, families)
    tally.candidates += len(numbers)
    waiting: list[tuple[Key, int, Ring]] = []  # a number tells apart what is equal: rings are not in order
    number_of = count()
    seen: set[tuple[int, Ring]] = set()
    at, last = 0, None if most is None else tally.checked + most
    while (at < len(numbers) or waiting) and tally.checked != last:
        if at < len(numbers) and (not waiting or tuple(keys[at].tolist()) <= waiting[0][0]):
            of, number = numbers[at]
            ring, at = families[of].ring(number), at + 1
        else:
            key, _, ring = heapq.heappop(waiting)
            of = int(key[-1])
        if (of, ring) in seen or not has_room(of, ring.width):
            continue
        seen.add((of, ring))
        family = families[of]
        tally.checked += 1
        if not tally.checked % _TOLD_EACH:
            tally.going_on()
        short = _shortest(family, ring, near)
        if short is None:
            yield Found(
                of,
                ring,
                float(family.mass_of_lb(np.array(ring.width * family.step_in), np.array(ring.count))),
            )
            continue
        for moved in _moved(family, ring, *short):
            if (of, moved) not in seen:
                heapq.heappush(waiting, (_key(aim, family, of, moved), next(number_of), moved))


def _moved(family: Family, ring: Ring, which: int, short_in: float) -> Iterator[Ring]:
    """A ring with the row out that is short, to where it can be short no more.

    Two rows that face each other: the outer one out to the first distance at which they do not, a few at a time, or the
    inner one a step out, from where the outer one is asked again.
    """
    if short_in > 0.0:
        moved = family.moved(ring, which, _steps(short_in, family.step_in))
        if moved is not None:
            yield moved
        return
    by, stands_off = _to_staggered(family, ring)
    if outer := family.moved(ring, 1, by):
        yield replace(outer, is_looked_through=not stands_off)
    if not ring.is_looked_through and (inner := family.moved(ring, 0, 1)):
        yield inner


def _to_staggered(family: Family, ring: Ring) -> tuple[int, bool]:
    """How far the outer row goes out to the first of the next distances at which neither row faces the other [steps],
    and whether it does so there; else to the last of these."""
    at = ring.at[1]
    some = (at + 1) // _TOGETHER
    shares = _shares(family.shape, ring.rows[0], replace(ring.rows[1], distance_in=0.0), some, family.step_in)
    enough = some * _TOGETHER + np.flatnonzero(shares >= family.kind.limits.stagger - FLOAT_NOISE)
    farther = enough[enough > at]
    if len(farther):
        return int(farther[0]) - at, True
    return (some + 1) * _TOGETHER - 1 - at, False


_TOGETHER = 16
"""Distances of the outer row that are asked together [-]."""


@lru_cache(maxsize=2**14)  # three aims ask it of the same rows, and so does what explains why none fits
def _shares(shape: Shape, inner: LaidRow, outer: LaidRow, some: int, step_in: float) -> Floats:
    """By how much of a pitch two rows stand off each other, the lesser as either is held, without end where they do not
    run side by side: for the outer row at some of the steps, shape (16,) [-]."""
    steps = range(some * _TOGETHER, (some + 1) * _TOGETHER)
    here = points_of_row(shape, inner)
    there = np.stack([points_of_row(shape, replace(outer, distance_in=at * step_in)) for at in steps])
    shares = np.fmin(stagger_ratios(here, there), stagger_ratios(there, here))
    return np.asarray(np.where(np.isnan(shares), np.inf, shares))


def _steps(short_in: float, step_in: float) -> int:
    """So many steps out nothing that is so short can hold before [-]."""
    return max(1, math.ceil(short_in / GREATEST_SPEED / step_in - FLOAT_NOISE))


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
    if len(points) < 2:
        return None
    some, of = divmod(ring.at[1], _TOGETHER)
    share = _shares(shape, ring.rows[0], replace(ring.rows[1], distance_in=0.0), some, family.step_in)[of]
    return (1, 0.0) if share < limits.stagger - FLOAT_NOISE else None
