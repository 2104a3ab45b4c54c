"""The mechanic's note: what is pinned and what is cut, stage by stage, and how the cutter gets there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hatchwright.making.cutter.starter import clear_starter
from hatchwright.making.making import Making
from hatchwright.making.pins.pin_layout import Pin, PinLayout
from hatchwright.making.pins.plan import Stage
from hatchwright.making.pins.runs import TAB_IN, Run, runs_of, way_round
from hatchwright.said import Listed, Place, Said, Value, inch, said


def stage_lines(making: Making, pins: PinLayout) -> tuple[tuple[Said, ...], ...]:
    """Say what to do in each stage, line by line: what holds, what is cut run by run, where it stops; empty
    without a plan."""
    if pins.plan is None:
        return ()
    stages, runs = pins.plan.stages, runs_of(making, pins)
    lines: list[tuple[Said, ...]] = []
    for number, (stage, of_stage) in enumerate(zip(stages, runs, strict=True), start=1):
        first = _hold(pins, stage, number, len(stages))
        before = stages[number - 2].pins if number > 1 else ()
        if freed := [pins.pins[index] for index in before if index not in stage.pins]:
            first = said("stage.then_free", hold=first, freed=named(freed))
        way = "clockwise" if way_round(making) == "clockwise" else "counterclockwise"
        tabs = _tabs([run for some in runs for run in some]) if number == len(stages) else ()
        lines.append((first, said(f"stage.cut.{way}"), *_each(making, of_stage), *tabs))
    return tuple(lines)


def _hold(pins: PinLayout, stage: Stage, number: int, of: int) -> Said:
    holding = [pins.pins[index] for index in stage.pins]
    clamps, fasteners = [pin for pin in holding if pin.is_clamp], [pin for pin in holding if not pin.is_clamp]
    what: dict[str, Value] = {"pins": named(fasteners)} if fasteners or not clamps else {}
    if clamps:
        what["places"] = _places(clamps)
    id = "stage.pin" if not clamps else "stage.pin_and_clamp" if fasteners else "stage.clamp"
    return said(id, number=number, of=of, **what)


def named(pins: list[Pin]) -> Value:
    """Name fasteners and clamps as a person finds them: holes by their numbers, others by their places."""
    numbers = tuple(str(pin.hole) for pin in pins if pin.hole is not None)
    waste = [pin for pin in pins if pin.hole is None and not pin.is_clamp]
    clamps = [pin for pin in pins if pin.is_clamp]
    told: list[Said] = []
    if numbers:
        told.append(said("pins.holes", n=len(numbers), numbers=Listed(numbers, ",")))
    if waste:
        told.append(said("pins.waste", places=_places(waste)))
    if clamps:
        told.append(said("pins.clamps", n=len(clamps), places=_places(clamps)))
    return Listed(tuple(told)) if told else said("pins.none")


def _places(pins: Iterable[Pin]) -> Listed:
    return Listed(tuple(Place(*pin.place) for pin in pins), ";")


def _each(making: Making, runs: tuple[Run, ...]) -> Iterator[Said]:
    """How the cutter gets to each run, and where it is cut to."""
    for number, run in enumerate(runs):
        all_round = run.start == run.end
        cut = said("run.all_round") if all_round else said("run.to", end=Place(*run.end))
        yield said("run.line", run=run.name, way=_way(making, run, is_first=number == 0), cut=cut)


def _way(making: Making, run: Run, *, is_first: bool) -> Said:
    hole, start = clear_starter(making), Place(*run.start)
    if on := {"end of a run": "run.go_on", "before the pins": "run.before_the_pins"}.get(run.begin):
        return said(on, after=run.after, start=start)
    if run.begin == "run-in" and hole:
        id = "run.run_in" if is_first else "run.run_in_again"
        return said(id, hole=Place(*hole.center), start=start)
    if run.hole is not None:
        return said("run.own_starter", mark=run.hole.mark, hole=Place(*run.hole.center), start=start)
    if hole is None:
        return said("run.no_starter", start=start)
    return said("run.set_in" if run.begin == "starter" else "run.own_hole", start=start)


def _tabs(runs: list[Run]) -> Iterator[Said]:
    """Where the waste is left hanging, and in how many pieces it comes away."""
    places = tuple(Place(*run.tab) for run in runs if run.tab)
    yield said("stage.tabs", n=len(places), left=inch(TAB_IN), places=Listed(places))
    pieces = sum(run.begin == "run-in" for run in runs)
    if pieces > 1:
        yield said("stage.pieces", pieces=pieces)
