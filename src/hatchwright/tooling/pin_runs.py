"""The way of the cutter through the stages of a plan: run-ins through the waste, runs along the edge, the last tabs.

Method: docs/theory/pins.md, Runs.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from hatchwright.layout.layout import Layout
from hatchwright.shapes.distance import distances
from hatchwright.shapes.pieces import Floats
from hatchwright.shapes.stations import nearest_station, places_at
from hatchwright.tooling.guide_template import GuideChain
from hatchwright.tooling.pin_plan import PinPlan
from hatchwright.tooling.starter import clear_starter

TAB_IN = 0.5
"""What is left standing at the end of a last run until the waste is held [in]. Own choice, no source."""

Way = Literal["clockwise", "counter-clockwise"]
Place = tuple[float, float]
Begin = Literal["run-in", "starter", "end of a run", "own hole"]

_SAME_IN = 1e-6
_ON_WAY = 240
_ALONG_IN = 0.05


@dataclass(frozen=True, slots=True)
class Run:
    """One stretch of the edge as it is cut.

    Args:
        name: number of its stage and a letter, such as ``2B``.
        begin: how the cutter gets to its start: by a run-in from the starter hole through the waste; out of the starter
            hole itself; along a run of an earlier stage that ends there; or only from a hole of its own.
        start: where it begins (x, y) [in].
        end: where it ends (x, y) [in].
        tab: where the cutter stops before the end until the waste is held; None before the last stage (x, y) [in].
        along: places from start to end, shape (n, 2) [in].
    """

    name: str
    begin: Begin
    start: Place
    end: Place
    tab: Place | None
    along: Floats


def way_round(layout: Layout) -> Way:
    """Which way the cutter runs, seen from outside.

    A router runs against the turn of its spindle, which the other side of the aircraft does not turn round (common
    practice, no source); a nibbler runs as the plan is dealt out.

    Args:
        layout: of a job with a cutter.
    Returns:
        Way: clockwise or counter-clockwise.
    """
    cutter = layout.job.cutter
    assert cutter is not None  # pins are planned for a template
    if cutter.kind == "router":
        return "clockwise" if cutter.template == "female" else "counter-clockwise"
    return "clockwise" if layout.frame.is_mirrored else "counter-clockwise"


def runs_of(layout: Layout, chain: GuideChain, plan: PinPlan) -> tuple[tuple[Run, ...], ...]:
    """Find how the cutter gets to every stretch, and where it stops before the waste is free.

    Args:
        layout: as derived.
        chain: its template.
        plan: of its pins.
    Returns:
        tuple: the runs of each stage, in the order in which they are cut.
    """
    path = chain.reached.loops[0]
    is_onward = way_round(layout) == ("clockwise" if layout.frame.is_mirrored else "counter-clockwise")
    starter = clear_starter(layout, chain)
    origin = starter.centre if starter else None
    ends: list[Place] = []
    stages: list[tuple[Run, ...]] = []
    for number, stage in enumerate(plan.stages, start=1):
        runs = []
        for letter, stretch in zip("ABCDEFGHI", stage.stretches, strict=False):
            low_in, length_in = stretch.start_in, (stretch.end_in - stretch.start_in) % path.length_in
            if len(plan.stages) == 1:
                low_in, length_in = nearest_station(path, origin or layout.centre_in), path.length_in
            from_in, to_in = (low_in, low_in + length_in) if is_onward else (low_in + length_in, low_in)
            count = max(2, round(length_in / _ALONG_IN))
            along = places_at(path, np.linspace(from_in, to_in, count)).points
            start = _place(along[0])
            end = start if len(plan.stages) == 1 else _place(along[-1])
            tab_in = to_in - TAB_IN if is_onward else to_in + TAB_IN
            tab = _place(places_at(path, [tab_in]).points[0]) if number == len(plan.stages) else None
            begin = _begin(chain, origin, start, ends)
            runs.append(Run(f"{number}{letter}", begin, start, end, tab, along))
        ends += [run.end for run in runs]
        stages.append(tuple(runs))
    return tuple(stages)


def _begin(chain: GuideChain, origin: Place | None, start: Place, ends: list[Place]) -> Begin:
    if any(np.hypot(start[0] - x, start[1] - y) < _SAME_IN for x, y in ends):
        return "end of a run"
    if origin is None:
        return "own hole"
    if np.hypot(start[0] - origin[0], start[1] - origin[1]) < _SAME_IN:
        return "starter"
    way = np.array(origin) + np.linspace(0.0, 1.0, _ON_WAY)[:, None] * (np.array(start) - np.array(origin))
    found = distances(chain.reached, way)
    is_in_waste = bool((found.inside | (found.distance_in < _SAME_IN)).all())
    return "run-in" if is_in_waste and chain.guide.kind == "female" else "own hole"


def _place(point: Floats) -> Place:
    return float(point[0]), float(point[1])
