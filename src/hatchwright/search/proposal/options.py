"""Every row that one rivet allows, each at its least distance and where one more rivet counts; then one row, or two.

Lengths are whole numbers of the shop's step, rounded up: what is built of least lengths is then the best that can be
drawn. Method: docs/theory/proposal.md, eq. 8 to 11.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.cut_side import TIE_IN
from hatchwright.search.proposal.limits import RowLimits
from hatchwright.search.proposal.ring import Shape
from hatchwright.search.proposal.run import LEAST_BAYS, half_count, round_corner, runs_of

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Bools = npt.NDArray[np.bool_]


class Rows(Struct, frozen=True):
    """Rows that may be laid, one an element of each array, grouped by their bays and stagger.

    Args:
        group: number of the bays and stagger, rising [-].
        at: distance from the opening's edge [steps].
        until: the greatest distance at which its longest pitch holds [steps].
        following: where the next row of its group lies, at which more rivets count; past `until` for the last [steps].
        x_count, y_count: rivets that count on a side toward X, and toward Y [-].
    """

    group: Ints
    at: Ints
    until: Ints
    following: Ints
    x_count: Ints
    y_count: Ints


class Groups(Struct, frozen=True):
    """Bays and stagger of each group of rows, one an element of each array.

    Args:
        x_bays, y_bays: on the sides along X and along Y; of a circle all bays, and none [-].
        staggered: whether it starts half a bay on.
        count: rivets of such a row [-].
        beside: groups that may lie beside it, half a bay on from it and with a bay more or less; the number of groups
            where there is none, shape (n_groups, n_beside) [-].
    """

    x_bays: Ints
    y_bays: Ints
    staggered: Bools
    count: Ints
    beside: Ints


class Rings(Struct, frozen=True):
    """Rings with their rows, one an element of each array.

    Args:
        inner, outer: groups of the row beside the opening and of the other; the same where there is one row.
        inner_at, outer_at: their distances from the opening's edge [steps].
        inner_until, outer_until: see `Rows`.
        width: from the opening's edge to the doubler's outer edge [steps].
        count: rivets [-].
        is_single: whether there is one row.
    """

    inner: Ints
    outer: Ints
    inner_at: Ints
    outer_at: Ints
    inner_until: Ints
    outer_until: Ints
    width: Ints
    count: Ints
    is_single: Bools

    def and_those(self, others: Rings) -> Rings:
        """These, then others."""
        return Rings(
            *(np.append(getattr(self, name), getattr(others, name)) for name in self.__struct_fields__)
        )


def steps_up(length_in: float, step_in: float) -> int:
    """Steps that a least length takes [-]."""
    return math.ceil(length_in / step_in - FLOAT_NOISE)


def steps_down(length_in: float, step_in: float) -> int:
    """Steps that a greatest length has room for [-]."""
    return math.floor(length_in / step_in + FLOAT_NOISE)


def groups_of(shape: Shape, limits: RowLimits, widest_in: float) -> Groups:
    """Every number of bays whose pitch can hold somewhere between the opening and the widest ring."""
    least_rho_in, rho_in = (shape.radius_in + out_in for out_in in (limits.edge_in, widest_in))
    if shape.is_round:
        round_in = 2.0 * math.pi
        along = [
            _bays(round_in * least_rho_in, round_in * rho_in, limits, 2 * LEAST_BAYS),
            np.zeros(1, dtype=np.int64),
        ]
        ways = [(by, 0) for by in (-1, 0, 1)]
    else:
        quarter = math.pi / 2.0
        halves = (shape.half_x_in, shape.half_y_in)
        along = [
            _bays(2.0 * half + quarter * least_rho_in, 2.0 * half + quarter * rho_in, limits, LEAST_BAYS)
            for half in halves
        ]
        ways = [(by_x, by_y) for by_x in (-1, 0, 1) for by_y in (-1, 0, 1)]
    n_x, n_y = map(len, along)
    x, y, staggered = (each.ravel() for each in np.indices((n_x, n_y, 2)))
    beside = []
    for by_x, by_y in ways:
        to_x, to_y = x + by_x, y + by_y
        is_there = (to_x >= 0) & (to_x < n_x) & (to_y >= 0) & (to_y < n_y)
        beside.append(np.where(is_there, (to_x * n_y + to_y) * 2 + 1 - staggered, len(x)))
    x_bays, y_bays = along[0][x], along[1][y]
    count = x_bays if shape.is_round else 2 * (x_bays + y_bays)
    return Groups(x_bays, y_bays, staggered.astype(bool), count, np.column_stack(beside))


def _bays(shortest_in: float, longest_in: float, limits: RowLimits, least: int) -> Ints:
    """Numbers of bays of a run that is as short as this nearest to the opening and as long as that farthest out."""
    first = max(least, math.ceil(shortest_in / limits.pitch_most_in - FLOAT_NOISE))
    return np.arange(first, max(first, int(longest_in / limits.apart_in)) + 1)


def rows_of(
    shape: Shape, limits: RowLimits, groups: Groups, pitch_in: float, begin: int, end: int, step_in: float
) -> Rows:
    """Every row of each group between two distances, at its least and wherever one more rivet counts.

    Args:
        pitch_in: least pitch.
        begin, end: nearest and farthest distance from the opening's edge, both included [steps].
    """
    at = np.arange(begin, max(end, begin - 1) + 1)
    holds, fits, x_count, y_count = _tables(
        shape, limits, groups, pitch_in, np.asarray(at * step_in, dtype=np.float64)
    )
    stands = holds & fits
    more = np.zeros_like(stands)
    more[:, 1:] = (x_count[:, 1:] > x_count[:, :-1]) | (y_count[:, 1:] > y_count[:, :-1])
    first = stands.copy()
    first[:, 1:] &= ~stands[:, :-1]
    group, where = np.nonzero(stands & (first | more))
    last = at[-1] - np.argmax(stands[:, ::-1], axis=1) if at.size else np.zeros(0, dtype=np.int64)
    until = last[group] if group.size else np.zeros(0, dtype=np.int64)
    following = np.append(at[where][1:], 0)
    is_last = np.append(group[1:] != group[:-1], True)[: group.size]
    following = np.where(is_last, until + 1, following[: group.size])
    return Rows(group, at[where], until, following, x_count[group, where], y_count[group, where])


def _tables(
    shape: Shape, limits: RowLimits, groups: Groups, pitch_in: float, distance_in: Floats
) -> tuple[Bools, Bools, Ints, Ints]:
    """Whether the least and the greatest pitch of each group hold at each distance, and the rivets that count on a side
    toward X and toward Y, each of shape (n_groups, d)."""
    if shape.is_round:
        return _round_tables(shape, limits, groups, pitch_in, distance_in)
    k_x, k_y = np.unique(groups.x_bays), np.unique(groups.y_bays)
    at_x, at_y = groups.x_bays - k_x[0], groups.y_bays - k_y[0]
    x, _ = runs_of(shape, k_x, distance_in)
    _, y = runs_of(shape, k_y, distance_in)
    asked_in = pitch_in - FLOAT_NOISE
    fits = (x.pitch_in <= limits.pitch_most_in)[at_x] & (y.pitch_in <= limits.pitch_most_in)[at_y]
    shape_of = (len(groups.count), len(distance_in))
    holds = np.empty(shape_of, dtype=bool)
    counts = np.empty((2, *shape_of), dtype=np.int64)
    for staggered in (False, True):
        some = groups.staggered == staggered
        of_x, of_y = at_x[some], at_y[some]
        enough = [run.closest(is_staggered=staggered) >= asked_in for run in (x, y)]
        holds[some] = enough[0][of_x] & enough[1][of_y]
        if staggered:
            holds[some] &= (round_corner(x, y) >= asked_in)[of_x, of_y]
        counts[0][some] = y.own_count(is_staggered=staggered)[of_y]
        counts[0][some] += x.neighbor_count(is_staggered=staggered)[of_x]
        counts[1][some] = x.own_count(is_staggered=staggered)[of_x]
        counts[1][some] += y.neighbor_count(is_staggered=staggered)[of_y]
        halves = half_count(k_x, k_y, is_staggered=staggered)
        for axis in (0, 1):
            if limits.by_half[axis]:
                counts[axis][some] = halves[axis][of_x, of_y][:, None]
    return holds, fits, counts[0], counts[1]


def _round_tables(
    shape: Shape, limits: RowLimits, groups: Groups, pitch_in: float, distance_in: Floats
) -> tuple[Bools, Bools, Ints, Ints]:
    """The same of a circle, where every pitch of a row is the same chord and half of its rivets count on a side."""
    rho, bays = shape.radius_in + distance_in, groups.x_bays[:, None]
    holds = 2.0 * rho * np.sin(math.pi / bays) >= pitch_in - FLOAT_NOISE
    fits = 2.0 * math.pi * rho / bays <= limits.pitch_most_in
    counts = np.empty((2, *holds.shape), dtype=np.int64)
    for row, (k, is_staggered) in enumerate(
        zip(groups.x_bays.tolist(), groups.staggered.tolist(), strict=True)
    ):
        turn = 2.0 * math.pi * (np.arange(k) + (0.5 if is_staggered else 0.0)) / k
        for axis, share in enumerate((np.cos(turn), np.sin(turn))):
            line = TIE_IN if limits.by_half[axis] else shape.radius_in + TIE_IN
            counts[axis, row] = (share[:, None] * rho[None, :] > line).sum(axis=0)
    return holds, fits, counts[0], counts[1]


def single_rings(
    groups: Groups, rows: Rows, limits: RowLimits, *, edge: int, least: int, widest: int, outer_most: int
) -> Rings:
    """Rings of one row each that have the rivets asked for.

    Args:
        edge: least distance of a hole from the ring's outer edge [steps].
        least, widest: narrowest and widest ring [steps].
        outer_most: greatest distance of the row from the ring's outer edge [steps].
    """
    width = np.maximum(rows.at + edge, least)
    some = (rows.x_count >= limits.needed[0]) & (rows.y_count >= limits.needed[1])
    some &= (width <= widest) & (width - rows.at <= outer_most)
    group, at, until = rows.group[some], rows.at[some], rows.until[some]
    is_single = np.ones(len(group), dtype=bool)
    return Rings(group, group, at, at, until, until, width[some], groups.count[group], is_single)


def double_rings(
    groups: Groups,
    inner: Rows,
    outer: Rows,
    limits: RowLimits,
    *,
    edge: int,
    between: int,
    least: int,
    widest: int,
    outer_most: int,
) -> Rings:
    """Rings of two rows that have the rivets asked for, the outer one as near as it may lie.

    Args:
        edge, between: least distance of a hole from the ring's outer edge, and of the rows from each other [steps].
        least, widest: narrowest and widest ring [steps].
        outer_most: greatest distance of the row from the ring's outer edge [steps].
    """
    n_groups, ways = groups.beside.shape
    begins = np.searchsorted(outer.group, np.arange(n_groups + 1))
    begins, lengths = np.append(begins, begins[-1]), np.append(np.diff(begins), 0)
    partner = groups.beside[inner.group]  # (n_inner, ways)
    many = lengths[partner].ravel()
    one = np.repeat(np.repeat(np.arange(len(inner.group)), ways), many)
    offset = np.arange(many.sum()) - np.repeat(np.cumsum(many) - many, many)
    other = np.repeat(begins[partner].ravel(), many) + offset
    at = np.maximum(outer.at[other], inner.at[one] + between)
    width = np.maximum(at + edge, least)
    some = (
        (inner.x_count[one] + outer.x_count[other] >= limits.needed[0])
        & (inner.y_count[one] + outer.y_count[other] >= limits.needed[1])
        & (at <= outer.until[other])
        & (at < outer.following[other])
        & (width <= widest)
        & (width - at <= outer_most)
    )
    one, other, at, width = one[some], other[some], at[some], width[some]
    count = groups.count[inner.group[one]] + groups.count[outer.group[other]]
    inner_of, outer_of, is_single = inner.group[one], outer.group[other], np.zeros(len(one), dtype=bool)
    until = inner.until[one], outer.until[other]
    return Rings(inner_of, outer_of, inner.at[one], at, *until, width, count, is_single)
