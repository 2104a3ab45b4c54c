"""A plan of pins: in which stage which part of the edge is cut, and which few temporary fasteners hold meanwhile.

Method: docs/theory/pins.md.
"""

from __future__ import annotations

import math
from itertools import permutations

import numpy as np
import numpy.typing as npt
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.making.pins.pins import Blocked, blocked, worst_holds
from hatchwright.shapes.pieces import Bools, Complexes, Floats, Integers, complex_of
from hatchwright.shapes.profile import Loop
from hatchwright.shapes.stations import places_at

LEAST_PINS = 3
"""Fewer fasteners do not hold a template while it is cut [-]. Common practice asks for two; own choice."""

LOOSEST_HOLD = 1.0
"""A plan whose edge can move farther than its pins are loose is refused [-]. Own choice, no source."""

FEWEST = 4
"""No stage is held by fewer pins than this where as many may stand [-]. Own choice, no source."""

HOLD_AIM = 0.75
"""Pins are added until the edge moves no farther than this for each unit that they are loose [-]. Own choice, no
source."""

_ROTATIONS = 48
_PLACES = 288
_CLOSE_IN = 1e-9


class Stretch(Struct, frozen=True):
    """A part of the edge that is cut in one go, counter-clockwise.

    Args:
        start_in: where it begins, arc length along the tool's path [in].
        end_in: where it ends; less than the start when it runs over the path's first vertex [in].
    """

    start_in: float
    end_in: float
    start: tuple[float, float]
    end: tuple[float, float]


class Stage(Struct, frozen=True):
    """What is cut while the same fasteners hold, by their indices; the hold ratio is the movement of the edge
    at its worst place for each unit of looseness [-]."""

    stretches: tuple[Stretch, ...]
    pins: tuple[int, ...]
    hold_ratio: float
    worst: tuple[float, float]


class PinPlan(Struct, frozen=True):
    """Stages in the order of the work: one when nothing is in the way, else two or three; and the part of the
    path that some fastener blocks [-]."""

    stages: tuple[Stage, ...]
    blocked_share: float

    @property
    def hold_ratio(self) -> float:
        """Of the loosest stage [-]."""
        return max(stage.hold_ratio for stage in self.stages)


def pin_plan(path: Loop, pins: npt.ArrayLike, reach_in: float) -> PinPlan | None:
    """Find the stages in which the edge can be cut past its fasteners.

    Args:
        pins: places of all temporary fasteners, shape (n, 2) [in].
        reach_in: how near the tool's middle may come to a fastener [in].
    Returns:
        PinPlan | None: of one stage, or the least loose of two, else of three; None when in every plan some stage
            keeps fewer than three fasteners or holds too loosely.
    Method: docs/theory/pins.md, eq. 4.
    """
    points = np.asarray(pins, dtype=np.float64).reshape(-1, 2)
    at, obstacles = complex_of(points), blocked(path, points, reach_in)
    ways = ((2, (2, 4, 6)), (3, (3, 6, 9))) if len(obstacles.pin) else ((1, (1,)),)
    found = (_best(path, at, obstacles, stages=stages, counts=counts) for stages, counts in ways)
    return next(filter(None, found), None)


def _best(
    path: Loop, at: Complexes, obstacles: Blocked, *, stages: int, counts: tuple[int, ...]
) -> PinPlan | None:
    """The least loose way to deal equal stretches out to stages, over how many and where they begin."""
    length_in, edge = path.length_in, _Edge.of(path)
    best: tuple[float, int, float] | None = None
    for count in counts:
        firsts = np.arange(_ROTATIONS) * stages * length_in / count / _ROTATIONS
        dealt, loosest = _Dealt.of(obstacles, edge, firsts, count, stages), np.zeros(_ROTATIONS)
        for stage in range(stages):
            holds = dealt.holding(stage, len(at))
            g, _ = worst_holds(at, edge.places, holds, dealt.counted(stage))
            loosest = np.maximum(loosest, np.where(holds.sum(axis=1) >= LEAST_PINS, g, np.inf))
        rotation = int(loosest.argmin())
        if loosest[rotation] <= LOOSEST_HOLD and (best is None or loosest[rotation] < best[0] - _CLOSE_IN):
            best = (float(loosest[rotation]), count, float(firsts[rotation]))
    if best is None:
        return None
    _, count, first = best
    dealt = _Dealt.of(obstacles, edge, np.array([first]), count, stages)
    made = (_stage(path, at, edge, dealt, first, count, stage) for stage in range(stages))
    return PinPlan(tuple(made), _covered_in(obstacles) / length_in)


class _Dealt(Struct, frozen=True):
    """Equal stretches of an edge dealt out to stages in turn, for some beginnings of the first stretch.

    A blocked stretch touches every stretch between the one in which it begins and the one in which it ends.

    Args:
        stages: by which the number of stretches can be divided [-].
        low: stretch in which what a fastener blocks begins, shape (r, k).
        over: how many more it reaches into, shape (r, k).
        pin: the fastener of each blocked stretch, shape (k,).
        places: stretch of each place of the edge, shape (r, m).
    """

    stages: int
    low: Integers
    over: Integers
    pin: Integers
    places: Integers

    @classmethod
    def of(cls, obstacles: Blocked, edge: _Edge, firsts: Floats, count: int, stages: int) -> _Dealt:
        length_in, begun = edge.length_in, firsts[:, None]
        low = _stretch_of(obstacles.start_in + _CLOSE_IN - begun, length_in, count)
        high = _stretch_of(obstacles.end_in - _CLOSE_IN - begun, length_in, count)
        long = obstacles.end_in - obstacles.start_in > length_in - length_in / count
        over = np.where(long, count - 1, np.mod(high - low, count))
        return cls(stages, low, over, obstacles.pin, _stretch_of(edge.along_in - begun, length_in, count))

    def holding(self, stage: int, pins: int) -> Bools:
        """Which of so many fasteners block nothing of a stage, shape (r, n_pins)."""
        in_way = np.mod(stage - self.low, self.stages) <= self.over
        holds = np.ones((len(in_way), pins), dtype=np.bool_)
        rotation, which = np.nonzero(in_way)
        holds[rotation, self.pin[which]] = False
        return holds

    def counted(self, stage: int) -> Bools:
        """Which places are cut in a stage, shape (r, m)."""
        counted: Bools = self.places % self.stages == stage
        return counted


def _stretch_of(along_in: Floats, length_in: float, count: int) -> Integers:
    """Number of the stretch in which places lie, measured from where the first stretch begins."""
    number = np.floor(np.mod(along_in, length_in) * count / length_in).astype(np.intp)
    return np.minimum(number, count - 1)


def _stage(
    path: Loop, at: Complexes, edge: _Edge, dealt: _Dealt, first: float, count: int, stage: int
) -> Stage:
    length_in, ends = path.length_in, first + np.arange(count + 1) * path.length_in / count
    where, along = [(x, y) for x, y in places_at(path, ends).points.tolist()], (ends % length_in).tolist()
    own = range(stage, count, dealt.stages)
    return edge.stage(
        tuple(Stretch(along[k], along[k + 1], where[k], where[k + 1]) for k in own),
        np.flatnonzero(dealt.holding(stage, len(at))[0]).tolist(),
        at,
        dealt.counted(stage),
    )


def _covered_in(obstacles: Blocked) -> float:
    """Length of the union of the blocked stretches [in]."""
    covered, reached = 0.0, -np.inf
    for k in np.argsort(obstacles.start_in):
        low, high = max(obstacles.start_in[k], reached), obstacles.end_in[k]
        if high > low:
            covered += float(high - low)
            reached = high
    return covered


def with_few_pins(plan: PinPlan, path: Loop, pins: npt.ArrayLike) -> PinPlan:
    """Leave in each stage only the pins that are needed; one that holds in a stage stays for the next where it may.

    Stages that the same pins hold are one, in which nothing is moved.

    Args:
        plan: in which every fastener that blocks nothing holds.
        path: of the tool's middle [in].
        pins: places of all fasteners, shape (n, 2) [in].
    Method: the pin farthest from those chosen is added, until there are `FEWEST` and the hold is `HOLD_AIM` or better.
    """
    at, edge = complex_of(pins), _Edge.of(path)
    stages: list[Stage] = []
    for stage in plan.stages:
        counted, free = _counted(stage, edge.along_in, is_whole=len(plan.stages) == 1), np.array(stage.pins)
        kept = [pin for pin in stages[-1].pins if pin in stage.pins] if stages else []
        chosen = kept or [int(free[np.abs(at[free] - at[free].mean()).argmax()])]
        few = edge.stage(stage.stretches, chosen, at, counted[None, :])
        while len(chosen) < len(free) and not (len(chosen) >= FEWEST and few.hold_ratio <= HOLD_AIM):
            away = np.abs(at[free][:, None] - at[chosen]).min(axis=1)
            chosen.append(int(free[away.argmax()]))
            few = edge.stage(stage.stretches, chosen, at, counted[None, :])
        if stages and stages[-1].pins == few.pins:
            few = _as_one(stages.pop(), few, edge, at)
        stages.append(few)
    return replace(plan, stages=tuple(stages))


def _as_one(first: Stage, then: Stage, edge: _Edge, at: Complexes) -> Stage:
    """What is cut in two stages that the same pins hold, stretches that meet as one."""
    stretches = [*first.stretches, *then.stretches]
    counted = _counted(first, edge.along_in, is_whole=False) | _counted(then, edge.along_in, is_whole=False)
    while pair := _meeting(stretches):
        one, other = pair
        stretches = [stretch for stretch in stretches if stretch not in pair]
        stretches.append(Stretch(one.start_in, other.end_in, one.start, other.end))
    return edge.stage(tuple(stretches), list(first.pins), at, counted[None, :])


def _meeting(stretches: list[Stretch]) -> tuple[Stretch, Stretch] | None:
    """Two stretches of which one ends where the other begins."""
    pairs = permutations(stretches, 2)
    return next((pair for pair in pairs if math.dist(pair[0].end, pair[1].start) < _CLOSE_IN), None)


class _Edge(Struct, frozen=True):
    """The middles of equal parts of a path, which stand for the edge that is cut, each of shape (m,) [in]."""

    along_in: Floats
    places: Complexes
    length_in: float

    @classmethod
    def of(cls, path: Loop) -> _Edge:
        found = places_at(path, (np.arange(_PLACES) + 0.5) * path.length_in / _PLACES)
        return cls(found.along_in, complex_of(found.points), path.length_in)

    def stage(self, stretches: tuple[Stretch, ...], pins: list[int], at: Complexes, counted: Bools) -> Stage:
        """The stage in which these of all fasteners hold while the places that count are cut."""
        holds = np.zeros((1, len(at)), dtype=np.bool_)
        holds[0, pins] = True
        g, worst = worst_holds(at, self.places, holds, counted)
        place = complex(self.places[worst[0]])
        return Stage(stretches, tuple(sorted(pins)), float(g[0]), (place.real, place.imag))


def _counted(stage: Stage, along_in: npt.NDArray[np.float64], *, is_whole: bool) -> Bools:
    """Which places of the edge are cut in a stage."""
    counted = np.full(len(along_in), is_whole, dtype=np.bool_)
    for one in stage.stretches if not is_whole else ():
        after, before = along_in >= one.start_in, along_in < one.end_in
        counted |= after & before if one.start_in < one.end_in else after | before
    return counted
