"""How the errors of a job move one kind of gap: a hole against an edge, two holes, or a hole against a row.

Method: docs/theory/risk.md, eq. 1 to 5.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.layout.layout import Hole, Layout, points_of
from hatchwright.layout.row_spacing import chain
from hatchwright.search.risk.errors import CULPRITS, Culprit, Errors, Order

Floats = npt.NDArray[np.float64]
Integers = npt.NDArray[np.intp]

PLACE, OFFSET, FILING, RING, EDGES = slice(0, 3), 3, slice(4, 8), slice(8, 11), 11
"""Columns of the common errors: place X, place Y and turn; offset; the four sides as filed, at the lowest and highest
X, then Y; place and turn of the ring; from the last on four sides of each other edge."""

_OWNERS = (
    *(Culprit.PLACE,) * 3, Culprit.OFFSET, *(Culprit.FILING,) * 4, *(Culprit.RING,) * 3,
)  # fmt: skip
_DRILLING = CULPRITS.index(Culprit.DRILLING)
_LEAST_IN = 1e-12


def culprits_of(edges: int) -> Integers:
    """Index of the culprit of each common column, shape (11 + 4 edges,)."""
    return np.array(
        [CULPRITS.index(one) for one in (*_OWNERS, *(Culprit.EDGE,) * (4 * edges))], dtype=np.intp
    )


class Wander(Struct, frozen=True):
    """How each hole of a layout wanders by itself.

    Args:
        points_in: places, shape (n, 2) [in].
        way: unit direction of its row there, shape (n, 2) [-].
        deviation_in: along the row and square to it; 0 for a hole that is there already, shape (n, 2) [in].
        is_made: which are there already, shape (n,).
        index: number of a hole to its place in these arrays.
    """

    points_in: Floats
    way: Floats
    deviation_in: Floats
    is_made: npt.NDArray[np.bool_]
    index: dict[int, int]

    def at(self, holes: Iterable[Hole]) -> Integers:
        """Where some holes stand in the arrays, shape (m,)."""
        return np.array([self.index[hole.number] for hole in holes], dtype=np.intp)

    def parts(self, at: Integers, along: Floats) -> Floats:
        """Change of a distance by each standard deviation of its hole, along its row and square to it, (m, 2) [in].

        Args:
            at: holes, shape (m,).
            along: unit direction of the distance at each, shape (m, 2) [-].
        """
        way = self.way[at]
        square = np.stack([-way[:, 1], way[:, 0]], axis=1)
        shares = np.stack([(way * along).sum(axis=1), (square * along).sum(axis=1)], axis=1)
        return shares * self.deviation_in[at]


def wander_of(layout: Layout, errors: Errors) -> Wander:
    """Set out how the holes of a layout wander; a hole without a row wanders by the greater of both all round."""
    holes = layout.holes
    index = {hole.number: at for at, hole in enumerate(holes)}
    way, deviation_in = np.zeros((len(holes), 2)), np.zeros((len(holes), 2))
    way[:, 0] = 1.0
    deviation_in[:] = max(errors.along_in, errors.square_in)
    for row in layout.rows().values():
        if len(row) > 1:
            at = np.array([index[hole.number] for hole in row])
            ways = chain(row)[1]
            is_known = np.hypot(*ways.T) > 0.5
            way[at[is_known]], deviation_in[at[is_known]] = (
                ways[is_known],
                (errors.along_in, errors.square_in),
            )
    is_made = np.array([hole.is_made for hole in holes], dtype=bool)
    deviation_in[is_made] = 0.0
    return Wander(points_of(holes), way, deviation_in, is_made, index)


class Form(Struct, frozen=True):
    """How n gaps of one kind move; fields as of `Gaps`."""

    common: Floats
    gap: Integers
    source: Integers
    coefficient: Floats
    bent_in: Floats

    def __add__(self, other: Form) -> Form:
        """The form of the sums of two distances, hole by hole."""
        both = [np.stack([one.gap, one.source], axis=1) for one in (self, other)]
        coefficient = np.concatenate([self.coefficient, other.coefficient])
        met, of = np.unique(np.concatenate(both), axis=0, return_inverse=True)
        summed: Floats = np.bincount(of.ravel(), weights=coefficient, minlength=len(met)).astype(np.float64)
        bent_in = self.bent_in + other.bent_in
        return Form(self.common + other.common, met[:, 0], met[:, 1], summed, bent_in)

    def turned(self) -> Form:
        """The same held to a greatest instead of a least."""
        return Form(-self.common, self.gap, self.source, -self.coefficient, -self.bent_in)


class Moves(Struct, frozen=True):
    """Which common errors move one edge against the holes.

    Args:
        place: whether place and turn of the template for the cut do.
        ring: whether those of the ring do.
        is_cut: whether it is the opening's edge, by the cutter's offset and by what is filed.
        is_there: whether it was measured on the aircraft.
        sides: which four columns of edges are its own, None for an edge without.
    """

    place: bool = False
    ring: bool = False
    is_cut: bool = False
    is_there: bool = False
    sides: int | None = None


def opening_moves(order: Order, *, is_made: bool) -> Moves:
    """Of the opening's edge; one that is there already is neither cut nor filed any more.

    Method: docs/theory/risk.md, table 1.
    """
    return Moves(
        place=order is not Order.ONE_TEMPLATE or is_made,
        ring=order is Order.DOUBLER,
        is_cut=not is_made,
        is_there=is_made,
    )


def ring_moves(order: Order, sides: int | None, *, is_made: bool = False) -> Moves:
    """Of an edge of the ring."""
    return Moves(ring=order is not Order.DOUBLER, sides=sides, is_there=is_made)


def edge_form(
    errors: Errors,
    wander: Wander,
    at: Integers,
    *,
    normal: Floats,
    about: Floats,
    center_in: tuple[float, float],
    moves: Moves,
    width: int,
) -> Form:
    """Holes against one edge.

    Args:
        at: the holes, shape (n,).
        normal: unit direction in which each distance grows, shape (n, 2) [-].
        about: point about which it bends, NaN for none, shape (n, 2) [in].
        center_in: of the turns (x, y) [in].
        width: number of common columns.
    Method: docs/theory/risk.md, eq. 1 and 5.
    """
    tangent = np.stack([-normal[:, 1], normal[:, 0]], axis=1)
    arm = wander.points_in[at] - center_in
    common, across = (_moved(errors, moves, way, arm, width) for way in (normal, tangent))
    if moves.is_cut:
        common[:, OFFSET] = -errors.offset_in
    if moves.is_there:  # against a hole that is there too nothing moves any more
        common[wander.is_made[at]] = across[wander.is_made[at]] = 0.0
    variance = np.zeros((len(at), len(CULPRITS)))
    for k, culprit in enumerate(culprits_of((width - EDGES) // 4).tolist()):
        variance[:, culprit] += across[:, k] ** 2
    variance[:, _DRILLING] += (wander.parts(at, tangent) ** 2).sum(axis=1)
    v = wander.points_in[at] - np.where(np.isnan(about), np.inf, about)
    with np.errstate(invalid="ignore"):
        bend = np.nan_to_num(np.sign((v * normal).sum(axis=1)) / np.maximum(2.0 * np.hypot(*v.T), _LEAST_IN))
    return Form(common, *_sources(((at, wander.parts(at, normal)),)), bend[:, None] * variance)


def _moved(errors: Errors, moves: Moves, way: Floats, arm: Floats, width: int) -> Floats:
    """Change of distances along a way by each standard deviation of what is common, shape (n, width) [in]."""
    found = np.zeros((len(way), width))
    turning = arm[:, 0] * way[:, 1] - arm[:, 1] * way[:, 0]
    for is_moved, columns, place_in, turn_rad in (
        (moves.place, PLACE, errors.place_in, errors.turn_rad),
        (moves.ring, RING, errors.ring_place_in, errors.ring_turn_rad),
    ):
        if is_moved:
            found[:, columns] = np.column_stack([way * place_in, turning * turn_rad])
    sides = np.maximum(np.stack([-way[:, 0], way[:, 0], -way[:, 1], way[:, 1]], axis=1), 0.0)
    if moves.is_cut:
        found[:, FILING] = -errors.filing_in * sides
    if moves.sides is not None:
        begin = EDGES + 4 * moves.sides
        found[:, begin : begin + 4] = -errors.edge_in * sides
    return found


def pair_form(
    errors: Errors,
    wander: Wander,
    first: Integers,
    second: Integers,
    *,
    center_in: tuple[float, float],
    width: int,
) -> Form:
    """Two holes each, shape (n,) and (n,).

    Method: docs/theory/risk.md, eq. 2 and 5.
    """
    apart = wander.points_in[second] - wander.points_in[first]
    p = np.maximum(np.hypot(*apart.T), _LEAST_IN)
    along = apart / p[:, None]
    square = np.stack([-along[:, 1], along[:, 0]], axis=1)
    variance = np.zeros((len(first), len(CULPRITS)))
    for at in (first, second):
        variance[:, _DRILLING] += (wander.parts(at, square) ** 2).sum(axis=1)
    of = ((first, -np.ones(len(first))), (second, np.ones(len(first))))
    common = _laid(errors, wander, of, along, center_in, width)
    parts = ((first, -wander.parts(first, along)), (second, wander.parts(second, along)))
    return Form(common, *_sources(parts), variance / (2.0 * p[:, None]))


def _laid(
    errors: Errors,
    wander: Wander,
    of: tuple[tuple[Integers, Floats], ...],
    way: Floats,
    center_in: tuple[float, float],
    width: int,
) -> Floats:
    """Change of distances between holes by how the pattern lies: it moves all alike but those that are there already.

    Args:
        of: the holes of each distance, and what each has of it, shape (n,) and (n,) [-].
        way: unit direction in which each distance grows, shape (n, 2) [-].
    """
    found = np.zeros((len(way), width))
    is_made = np.stack([wander.is_made[at] for at, _ in of])
    is_felt = is_made.any(axis=0) & ~is_made.all(axis=0)
    for at, share in of:
        moved = _moved(errors, Moves(place=True), way, wander.points_in[at] - center_in, width)
        found += np.where(is_felt & ~wander.is_made[at], share, 0.0)[:, None] * moved
    return found


def row_form(
    errors: Errors,
    wander: Wander,
    here: Integers,
    step: tuple[Integers, Integers],
    share: Floats,
    *,
    center_in: tuple[float, float],
    width: int,
) -> Form:
    """Holes square to a step of the row beside them, shape (n,); that the step turns as its holes wander is left out.

    Args:
        here: the holes.
        step: first and second hole of each step.
        share: where the foot lies on the way between those [0 to 1].
    Method: docs/theory/risk.md, eq. 2.
    """
    points, (first, second) = wander.points_in, step
    out = points[here] - (points[first] + share[:, None] * (points[second] - points[first]))
    square = out / np.maximum(np.hypot(*out.T), _LEAST_IN)[:, None]
    parts = (
        (here, wander.parts(here, square)),
        (first, -(1.0 - share)[:, None] * wander.parts(first, square)),
        (second, -share[:, None] * wander.parts(second, square)),
    )
    of = ((here, np.ones(len(here))), (first, share - 1.0), (second, -share))
    common = _laid(errors, wander, of, square, center_in, width)
    return Form(common, *_sources(parts), np.zeros((len(here), len(CULPRITS))))


def _sources(parts: Iterable[tuple[Integers, Floats]]) -> tuple[Integers, Integers, Floats]:
    """Gap, source and coefficient of what each hole has by itself, those that change nothing left out."""
    gap, source, coefficient = (np.concatenate(one) for one in zip(*map(_of_hole, parts), strict=True))
    is_felt = coefficient != 0.0
    return gap[is_felt], source[is_felt], coefficient[is_felt]


def _of_hole(part: tuple[Integers, Floats]) -> tuple[Integers, Integers, Floats]:
    at, coefficients = part
    gap = np.repeat(np.arange(len(at)), 2)
    return gap, (2 * at[:, None] + np.arange(2)).ravel(), coefficients.ravel()
