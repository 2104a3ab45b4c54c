"""The stages of the cut as a hand follows them: which pins hold, and between which holes each run ends."""

from __future__ import annotations

import math

from hatchwright.layout.layout import Hole
from hatchwright.making.making import Making
from hatchwright.making.pins.pin_layout import Pin, PinLayout
from hatchwright.making.pins.runs import Run, runs_of, way_round
from hatchwright.said import Listed, Said, Value, said

_BESIDE_IN = 2.0
"""Holes farther from a place than this do not tell where it is. Own choice, no source [in]."""


def stages_told(making: Making, pins: PinLayout) -> tuple[Said, ...]:
    """Each stage of the cut in a few words, for a hand that sees the holes; the sheet of the pins has the places."""
    if pins.plan is None:
        return ()
    runs = runs_of(making, pins)
    holes = making.layout.holes_of("rivet") or making.layout.holes
    way = said("carry.run.clockwise" if way_round(making) == "clockwise" else "carry.run.counterclockwise")
    told = list[Said]()
    for number, (stage, of_stage) in enumerate(zip(pins.plan.stages, runs, strict=True), start=1):
        holding = _holding([pins.pins[index] for index in stage.pins])
        ends = Listed(tuple(_run(run, holes) for run in of_stage), ",")
        told.append(said("carry.stage", number=number, pins=holding, way=way, runs=ends))
    return tuple(told)


def _holding(pins: list[Pin]) -> Value:
    """The pins by their holes; those in the waste, and clamps, as the sheet of the pins shows them."""
    if all(pin.hole is not None for pin in pins):
        return Listed(tuple(str(pin.hole) for pin in pins), ",")
    return said("carry.stage.as_shown")


def _run(run: Run, holes: tuple[Hole, ...]) -> Said:
    """How the cutter gets to the edge, and where along it the run ends."""
    if run.start == run.end:
        return said("carry.run.all_round")
    start, end = between(holes, run.start), between(holes, run.end)
    if start is None or end is None:
        return said("carry.run.as_shown")
    if run.hole is not None:
        return said("carry.run.own_starter", mark=run.hole.mark, start=start, end=end)
    how = {
        "run-in": "run_in",
        "starter": "from_starter",
        "end of a run": "go_on",
        "before the pins": "before_the_pins",
    }
    return said(f"carry.run.{how.get(run.begin, 'own_hole')}", start=start, end=end)


def between(holes: tuple[Hole, ...], place: tuple[float, float]) -> Said | None:
    """The two holes of one row between which a place lies, or the one beside which it does; None where none is near."""
    near = [hole for hole in holes if math.dist(hole.place, place) <= _BESIDE_IN]
    by_distance = sorted(near, key=lambda hole: (math.dist(hole.place, place), hole.number))
    if not by_distance:
        return None
    first, *others = [hole for hole in by_distance if hole.row == by_distance[0].row]
    if others and 0.0 <= _along(first, others[0], place) <= 1.0:
        return said("carry.run.between", numbers=Listed(tuple(sorted((first.number, others[0].number)))))
    return said("carry.run.beside", number=first.number)


def _along(one: Hole, other: Hole, place: tuple[float, float]) -> float:
    """How far along the line of two holes a place lies: 0 at the one, 1 at the other [-]."""
    along = [there - here for here, there in zip(one.place, other.place, strict=True)]
    off = [at - here for here, at in zip(one.place, place, strict=True)]
    return sum(a * b for a, b in zip(along, off, strict=True)) / sum(a * a for a in along)
