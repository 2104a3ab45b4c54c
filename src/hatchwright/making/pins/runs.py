"""The way of the cutter through the stages of a plan: run-ins through the waste, runs along the edge, the last tabs.

Method: docs/theory/pins.md, Runs.
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.making.cutter.starter import DrilledHole, clear_starter, starter_near
from hatchwright.making.making import Making
from hatchwright.making.pins.pin_layout import PinLayout
from hatchwright.shapes.distance import distances
from hatchwright.shapes.pieces import Floats, complex_of
from hatchwright.shapes.stations import nearest_station, places_at

TAB_IN = 0.5
"""What is left standing at the end of a last run until the waste is held [in]. Own choice, no source."""

Way = Literal["clockwise", "counter-clockwise"]
Place = tuple[float, float]
Begin = Literal["run-in", "starter", "end of a run", "before the pins", "own hole"]

_SAME_IN = 1e-6
_ON_WAY = 240
_ALONG_IN = 0.05


class Run(Struct, frozen=True):
    """One stretch of the edge as it is cut.

    Args:
        name: number of its stage and a letter, such as ``2B``.
        begin: how the cutter gets to its start: by a run-in from the starter hole through the waste; out of the starter
            hole itself; in the cut, to where an earlier run ends; the same, but only before the pins of its stage are
            put in; or from a hole of its own.
        hole: that hole, from which it runs in straight; None for another begin, or where no place for it is clear.
        after: name of the earlier run, "" without one.
        tab: where the cutter stops before the end until the waste is held; None before the last stage (x, y) [in].
        along: places from start to end, shape (n, 2) [in].
    """

    name: str
    begin: Begin
    after: str
    start: Place
    end: Place
    tab: Place | None
    hole: DrilledHole | None
    along: Floats
    way: Floats
    """Places from the starter hole, or its own, to its start, shape (m, 2) [in]."""


def way_round(making: Making) -> Way:
    """Which way the cutter runs, seen from outside.

    A tool with a turning spindle runs against its turn, which the other side of the aircraft does not turn
    round (common practice, no source); any other runs as the plan is dealt out."""
    if making.cutter.what.spindle_turns:
        return "clockwise" if making.is_window else "counter-clockwise"
    return "clockwise" if making.layout.frame.is_mirrored else "counter-clockwise"


def runs_of(making: Making, pins: PinLayout) -> tuple[tuple[Run, ...], ...]:
    """Find how the cutter gets to every stretch, and where it stops before the waste is free: the runs of
    each stage, in the order in which they are cut; empty without a plan."""
    if pins.plan is None:
        return ()
    layout, chain = making.layout, making.chain
    path, count = chain.reached.loops[0], len(pins.plan.stages)
    is_onward = way_round(making) == ("clockwise" if layout.frame.is_mirrored else "counter-clockwise")
    starter = clear_starter(making)
    origin = starter.center if starter else None
    reach_in, own_count = pins.reach_in - _SAME_IN, 0
    stages: list[tuple[Run, ...]] = []
    for number, stage in enumerate(pins.plan.stages, start=1):
        held = np.array([pins.pins[index].place for index in stage.pins])
        earlier = [run for runs in stages for run in runs]
        runs: list[Run] = []
        for letter, stretch in zip("ABCDEFGHI", stage.stretches, strict=False):
            low_in, length_in = stretch.start_in, (stretch.end_in - stretch.start_in) % path.length_in
            # One stage goes all the way round: it begins and ends nearest to the starter, so that no slot is cut twice.
            if count == 1:
                low_in, length_in = nearest_station(path, origin or layout.center_in), path.length_in
            from_in, to_in = (low_in, low_in + length_in) if is_onward else (low_in + length_in, low_in)
            places = max(2, round(length_in / _ALONG_IN))
            along = places_at(path, np.linspace(from_in, to_in, places)).points
            start = _place(along[0])
            tab_in = to_in - TAB_IN if is_onward else to_in + TAB_IN
            before = next((run for run in earlier if math.dist(run.end, start) < _SAME_IN), None)
            way = _way(before, origin, start)
            is_clear = _gap_in(way, held) >= reach_in
            begin = _begin(making, before, way, is_clear=is_clear, is_first=not runs)
            hole = None
            if begin == "own hole" and (near := starter_near(making, start)):
                own = _way(None, near.center, start)
                if making.is_window and _is_in_waste(making, own) and _gap_in(own, held) >= reach_in:
                    own_count += 1
                    hole, way = replace(near, mark=f"S{own_count + 1}"), own
            name, after = f"{number}{letter}", before.name if before else ""
            end = start if count == 1 else _place(along[-1])
            # Only the last stage frees the waste: it stops at a tab, which is cut by hand with the waste held.
            tab = _place(places_at(path, [tab_in]).points[0]) if number == count else None
            runs.append(
                Run(name, begin, after, start=start, end=end, tab=tab, hole=hole, along=along, way=way)
            )
        stages.append(tuple(runs))
    return tuple(stages)


def _way(before: Run | None, origin: Place | None, start: Place) -> Floats:
    """From the starter hole to the start of a run: straight, or in the cut of an earlier one that ends there."""
    if before is not None:
        return np.vstack([before.way, before.along])
    if origin is None:
        return np.array([start])
    way: Floats = np.array(origin) + np.linspace(0.0, 1.0, _ON_WAY)[:, None] * (
        np.array(start) - np.array(origin)
    )
    return way


def _begin(making: Making, before: Run | None, way: Floats, *, is_clear: bool, is_first: bool) -> Begin:
    """How the cutter gets to a start; some kinds may be lifted out and set in again anywhere in the cut."""
    if before is not None:
        if is_clear or making.cutter.what.sets_in_anywhere:
            return "end of a run"
        return "before the pins" if is_first else "own hole"
    if len(way) == 1:
        return "own hole"
    if np.hypot(*(way[-1] - way[0])) < _SAME_IN:
        return "starter"
    return "run-in" if is_clear and making.is_window and _is_in_waste(making, way) else "own hole"


def _is_in_waste(making: Making, way: Floats) -> bool:
    """Whether a cutter that goes a way cuts nothing but waste."""
    found = distances(making.chain.reached, way)
    return bool((found.inside | (found.distance_in < _SAME_IN)).all())


def _gap_in(way: Floats, held: Floats) -> float:
    """Least distance of a way from the fasteners that hold [in]."""
    return float(np.abs(complex_of(way)[:, None] - complex_of(held)).min())


def _place(point: Floats) -> Place:
    return float(point[0]), float(point[1])
