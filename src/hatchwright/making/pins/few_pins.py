"""Few pins that are enough: of all fasteners that may stand in a stage, the well-spread ones that a hand puts in."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt

from hatchwright.making.pins.pins import worst_holds
from hatchwright.making.pins.plan import PinPlan, Stage
from hatchwright.shapes.pieces import Bools, Complexes, complex_of
from hatchwright.shapes.profile import Loop
from hatchwright.shapes.stations import places_at

FEWEST = 4
"""No stage is held by fewer pins than this where as many may stand [-]. Own choice, no source."""

HOLD_AIM = 0.75
"""Pins are added until the edge moves no farther than this for each unit that they are loose [-]. Own choice, no
source."""

_PLACES = 288


def with_few_pins(plan: PinPlan, path: Loop, pins: npt.ArrayLike) -> PinPlan:
    """Leave in each stage only the pins that are needed.

    Args:
        plan: in which every fastener that blocks nothing holds.
        path: of the tool's middle [in].
        pins: places of all fasteners, shape (n, 2) [in].
    Returns:
        PinPlan: the same stages with fewer pins; a pin that holds in a stage stays for the next where it may.
    Method: the pin farthest from those chosen is added, until there are `FEWEST` and the hold is `HOLD_AIM` or better.
    """
    at = complex_of(pins)
    places = places_at(path, (np.arange(_PLACES) + 0.5) * path.length_in / _PLACES)
    edge = complex_of(places.points)
    stages: list[Stage] = []
    for stage in plan.stages:
        kept = [pin for pin in stages[-1].pins if pin in stage.pins] if stages else []
        stages.append(_few(stage, kept, at, edge, _counted(stage, places.along_in, len(plan.stages) == 1)))
    return replace(plan, stages=tuple(stages))


def _few(stage: Stage, kept: list[int], at: Complexes, edge: Complexes, counted: Bools) -> Stage:
    free = np.array(stage.pins)
    chosen = kept or [int(free[np.abs(at[free] - at[free].mean()).argmax()])]
    while True:
        holds = np.zeros((1, len(at)), dtype=np.bool_)
        holds[0, chosen] = True
        g, worst = worst_holds(at, edge, holds, counted[None, :])
        is_enough = len(chosen) >= FEWEST and g[0] <= HOLD_AIM
        if is_enough or len(chosen) == len(free):
            place = edge[worst[0]]
            return replace(
                stage,
                pins=tuple(sorted(chosen)),
                hold_ratio=float(g[0]),
                worst=(float(place.real), float(place.imag)),
            )
        away = np.abs(at[free][:, None] - at[chosen]).min(axis=1)
        chosen.append(int(free[away.argmax()]))


def _counted(stage: Stage, along_in: npt.NDArray[np.float64], is_whole: bool) -> Bools:
    """Which places of the edge are cut in a stage."""
    counted = np.full(len(along_in), is_whole, dtype=np.bool_)
    for one in stage.stretches if not is_whole else ():
        after, before = along_in >= one.start_in, along_in < one.end_in
        counted |= after & before if one.start_in < one.end_in else after | before
    return counted
