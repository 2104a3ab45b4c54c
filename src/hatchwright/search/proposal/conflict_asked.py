"""What a ring is asked to keep, with any of it moved, and whether a ring can.

A ring needs its least width, which rows, rivets and counts make; it has the room that flanges and what lies behind
leave, and the room that the opening leaves it to go through. Where the first is more than the others there is none.
Method: docs/theory/conflict.md.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.job.amount import Amount
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.layout import Layout
from hatchwright.search.proposal.best_first import Found, Tally, in_order, nothing
from hatchwright.search.proposal.family import family_of
from hatchwright.search.proposal.limits import RowLimits
from hatchwright.search.proposal.obstacles import obstacles_of
from hatchwright.search.proposal.place import Obstacles
from hatchwright.search.proposal.problem import Asked as OfKind
from hatchwright.search.proposal.problem import Problem, problem_of
from hatchwright.search.proposal.ring import Shape
from hatchwright.search.proposal.values import Aim

_WIDTHS_D = (8.0, 18.0)
"""Rings this wide are looked through for the narrowest, and where none of them holds, these: two rows at the greatest
edge distances and as far apart as rows make a pattern take eighteen [D]."""


class Scope(StrEnum):
    """Which of the room is asked for."""

    ROWS = "rows"
    """None: whether any ring holds."""
    THROUGH = "through"
    """What the opening leaves a ring to go through flat."""
    X = "x"
    """What stands right across the bay along X."""
    Y = "y"
    """What stands right across the bay along Y."""
    ALL = "all"
    """All of it together."""


class Asked(Struct, frozen=True):
    """What is asked, each limit where it stands or as it was moved.

    Args:
        short_holes: accepted in a hundred jobs [-].
        shift_in: how far the center may move [in].
        is_through: whether the ring must go through the opening flat.
        edge_cut_d: by how much less than the tables' edge distance is kept [D].
        pitch_cut_d: the same of the pitch in two rows [D].
        fewer: rivets a side fewer than the tables ask for [-].
        clear_cut_in: by how much less than its clearance the ring keeps off flanges [in].
        without: names of what is taken for not there.
    """

    shape: Shape
    rivets: tuple[str, ...]
    most_rows: int
    short_holes: float
    shift_in: float
    is_through: bool
    edge_cut_d: float = 0.0
    pitch_cut_d: float = 0.0
    fewer: int = 0
    clear_cut_in: float = 0.0
    without: frozenset[str] = frozenset()


class Narrowest(Struct, frozen=True):
    """The narrowest ring that holds hole by hole."""

    found: Found
    rivet: str
    width_in: float


class Known(Struct):
    """What is known of the rings of one rivet.

    Args:
        none_in: none is as narrow as this [in].
    """

    found: Narrowest | None = None
    none_in: float = 0.0


class Wall(Struct, frozen=True):
    """What closes one side right across the bay, from the opening's center.

    Args:
        name: "" where nothing does.
        at_in: where it stands, infinite where nothing does [in].
        kept_in: what is kept from it [in].
    """

    name: str
    at_in: float
    kept_in: float


@dataclass
class Question:
    """A job, asked again and again with something moved; what was worked out once is kept.

    Args:
        going_on: told now and then; what it raises ends the search.
    """

    layout: Layout
    going_on: Callable[[], object] = nothing
    _problems: dict[Asked, Problem] = field(default_factory=dict)
    _narrowest: dict[tuple[object, ...], Known] = field(default_factory=dict)

    def holds(self, asked: Asked, scope: Scope) -> bool:
        """Whether a ring of any rivet in any sheet holds and has the room that it needs."""
        problem = self.problem(asked)
        return any(
            self._narrowest_of(problem, one, _room_in(problem, one, scope)) is not None
            for one in problem.asked
        )

    def problem(self, asked: Asked) -> Problem:
        """The problem as moved."""
        if asked not in self._problems:
            own = problem_of(self._layout(asked), asked.shape, shift_in=asked.shift_in)
            moved = tuple(self._moved(one, asked) for one in own.asked)
            self._problems[asked] = replace(own, asked=moved, through=asked.is_through)
        return self._problems[asked]

    def _moved(self, one: OfKind, asked: Asked) -> OfKind:
        limits = _moved(one.kind.limits, asked)
        # A row that lies nearer to the ring's edge lies nearer to what is there as well.
        kept = obstacles_of(self.layout, limits, one.kind.gauge_in) if asked.edge_cut_d else one.obstacles
        return replace(one, kind=replace(one.kind, limits=limits), obstacles=self._left(kept, asked))

    def narrowest(self, asked: Asked) -> Narrowest | None:
        """The narrowest ring that holds, whatever room there is; None where none does."""
        problem = self.problem(asked)
        found = (self._narrowest_of(problem, one, math.inf) for one in problem.asked)
        return min((one for one in found if one is not None), key=lambda one: one.width_in, default=None)

    def _narrowest_of(self, problem: Problem, one: OfKind, room_in: float) -> Narrowest | None:
        """The narrowest ring of one rivet in one sheet, None where it is wider than the room; the sheet matters only
        where strength asks for a least width. What is wider is not looked for: it would take most of the time."""
        key = (problem.shape, problem.most_rows, one.kind.limits, one.least_in)
        known = self._narrowest.setdefault(key, Known())
        for width_d in _WIDTHS_D:
            widest_in = min(room_in, width_d * one.kind.limits.diameter_in)
            if known.found is None and widest_in > known.none_in + FLOAT_NOISE:
                known.found, known.none_in = _found(problem, one, widest_in, self.going_on), widest_in
        found = known.found
        return found if found is not None and found.width_in <= room_in + FLOAT_NOISE else None

    def _layout(self, asked: Asked) -> Layout:
        """The job with another wish."""
        job = self.layout.job
        accepted = Amount(asked.short_holes, f"{asked.short_holes:g}")
        moved = {"rivets": asked.rivets, "most_rows": asked.most_rows, "short_holes": accepted}
        return replace(self.layout, job=job.model_copy(update={"wish": job.wish.model_copy(update=moved)}))

    def _left(self, obstacles: Obstacles, asked: Asked) -> Obstacles:
        flanges = {flange.name for flange in self.layout.job.bay.flanges}
        cut = np.array([asked.clear_cut_in if name in flanges else 0.0 for name in obstacles.names])
        there = np.array([name not in asked.without for name in obstacles.names], dtype=bool)
        kept = np.maximum(obstacles.kept_in - cut, 0.0) if len(cut) else obstacles.kept_in
        names = tuple(name for name in obstacles.names if name not in asked.without)
        return Obstacles(obstacles.boxes[there], kept[there], names)

    def room_in(self, asked: Asked, scope: Scope) -> float:
        """The widest ring that has room, of the rivet and sheet that have most [in]."""
        problem = self.problem(asked)
        return max(_room_in(problem, one, scope) for one in problem.asked)

    def walls(self, asked: Asked, axis: int) -> tuple[Wall, Wall]:
        """What closes the bay first below and above the center along an axis, for the rivet that keeps nearest to it.

        Args:
            axis: 0 for X, 1 for Y.
        """
        every = [_walls(one.obstacles, axis) for one in self.problem(asked).asked]
        low = min((low for low, _ in every), key=lambda wall: wall.at_in + wall.kept_in)
        high = max((high for _, high in every), key=lambda wall: wall.at_in - wall.kept_in)
        return low, high


def _room_in(problem: Problem, one: OfKind, scope: Scope) -> float:
    """The widest ring of one rivet in one sheet that has room [in]."""
    match scope:
        case Scope.ROWS:
            return math.inf
        case Scope.THROUGH:
            return problem.through_in if problem.through else math.inf
        case Scope.ALL:
            return problem.room_in(one)
        case Scope.X | Scope.Y:
            axis = 0 if scope is Scope.X else 1
            half_in = (problem.shape.width_in, problem.shape.height_in)[axis] / 2.0
            return _between_in(*_walls(one.obstacles, axis), half_in, problem.shift_in, problem.step_in)


def _walls(obstacles: Obstacles, axis: int) -> tuple[Wall, Wall]:
    """What closes the bay first below and above the center along an axis."""
    low, high = Wall("", -math.inf, 0.0), Wall("", math.inf, 0.0)
    rows = zip(obstacles.boxes.tolist(), obstacles.kept_in.tolist(), obstacles.names, strict=True)
    for box, kept_in, name in rows:
        if math.isfinite(box[1 - axis]) or math.isfinite(box[3 - axis]):
            continue
        before, behind = Wall(name, box[2 + axis], kept_in), Wall(name, box[axis], kept_in)
        if before.at_in <= 0.0 and before.at_in + kept_in > low.at_in + low.kept_in:
            low = before
        elif behind.at_in >= 0.0 and behind.at_in - kept_in < high.at_in - high.kept_in:
            high = behind
    return low, high


def _between_in(low: Wall, high: Wall, half_in: float, most_in: float, step_in: float) -> float:
    """The widest ring between two walls, the center shifted toward the farther one as far as it may [in]."""
    below_in, above_in = -low.at_in - low.kept_in - half_in, high.at_in - high.kept_in - half_in
    if not math.isfinite(below_in + above_in):
        return min(below_in, above_in) + (most_in if math.isfinite(min(below_in, above_in)) else 0.0)
    off_in = (above_in - below_in) / 2.0
    steps = math.floor(min(abs(off_in), most_in) / step_in + FLOAT_NOISE)
    shift_in = math.copysign(steps * step_in, off_in)
    return min(below_in + shift_in, above_in - shift_in)


def _found(
    problem: Problem, one: OfKind, widest_in: float, going_on: Callable[[], object]
) -> Narrowest | None:
    """The narrowest ring of one rivet in one sheet that is no wider than that."""
    going_on()
    family = family_of(
        problem.shape,
        one.kind,
        step_in=problem.step_in,
        widest_in=widest_in,
        most_rows=problem.most_rows,
        least_in=one.least_in,
    )
    found = next(in_order(Aim.LARGEST, [family], problem.near, Tally(going_on=going_on)), None)
    if found is None:
        return None
    return Narrowest(found, one.kind.limits.rivet, found.ring.width * problem.step_in)


def _moved(limits: RowLimits, asked: Asked) -> RowLimits:
    one_in, two_in = limits.pitch_in
    return replace(
        limits,
        edge_in=limits.edge_in - asked.edge_cut_d * limits.diameter_in,
        pitch_in=(one_in, two_in - asked.pitch_cut_d * limits.diameter_in),
        needed=(max(1, limits.needed[0] - asked.fewer), max(1, limits.needed[1] - asked.fewer)),
    )
