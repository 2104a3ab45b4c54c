"""The hand's note: what is pinned and what is cut, stage by stage, and how the cutter gets there."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.layout.layout import Layout
from hatchwright.making.cutter.starter import clear_starter
from hatchwright.making.pins.pin_layout import Pin, PinLayout
from hatchwright.making.pins.plan import Stage
from hatchwright.making.pins.runs import TAB_IN, Run, runs_of, way_round
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.units import figure, length_words


def stage_notes(layout: Layout, chain: GuideChain, pins: PinLayout) -> tuple[str, ...]:
    """Say what to do in each stage.

    Args:
        layout: of the job; its frame decides which way round a person sees the run.
    Returns:
        tuple: one note for each stage; empty without a plan.
    """
    return tuple(" ".join(lines) for lines in stage_lines(layout, chain, pins))


def stage_lines(layout: Layout, chain: GuideChain, pins: PinLayout) -> tuple[tuple[str, ...], ...]:
    """Say what to do in each stage, line by line.

    Args:
        layout: of the job; its frame decides which way round a person sees the run.
    Returns:
        tuple: the lines of each stage: what holds, what is cut run by run, where it stops; empty without a plan.
    """
    if pins.plan is None:
        return ()
    stages, runs = pins.plan.stages, runs_of(layout, chain, pins)
    return tuple(
        (
            f"Stage {number} of {len(stages)}: {_hold(layout, pins, stage)}."
            + (_change(layout, pins, stages[number - 2], stage) if number > 1 else ""),
            f"Cut {way_round(layout)}, seen from outside:",
            *(
                f"{run.name}: {way}."
                for run, way in zip(of_stage, _each(layout, chain, of_stage), strict=True)
            ),
            *(_tabs(layout, [run for one in runs for run in one]) if number == len(stages) else ()),
        )
        for number, (stage, of_stage) in enumerate(zip(stages, runs, strict=True), start=1)
    )


def _change(layout: Layout, pins: PinLayout, before: Stage, stage: Stage) -> str:
    freed = [pins.pins[index] for index in before.pins if index not in stage.pins]
    return f" Put the new pins in first, then take out {named(layout, freed)}." if freed else ""


def _hold(layout: Layout, pins: PinLayout, stage: Stage) -> str:
    held = [pins.pins[index] for index in stage.pins]
    clamps, fasteners = [pin for pin in held if pin.is_clamp], [pin for pin in held if not pin.is_clamp]
    said = [f"pin {named(layout, fasteners)}"] if fasteners else []
    said += [f"clamp the border at {'; '.join(_at(layout, pin.place) for pin in clamps)}"] if clamps else []
    return ", and ".join(said)


def named(layout: Layout, pins: list[Pin]) -> str:
    """Name fasteners and clamps as a person finds them.

    Args:
        pins: some of its pins.
    Returns:
        str: holes by their numbers, others by their places, "none" for none.
    """
    numbers = [str(pin.hole) for pin in pins if pin.hole is not None]
    waste = [_at(layout, pin.place) for pin in pins if pin.hole is None and not pin.is_clamp]
    clamps = [_at(layout, pin.place) for pin in pins if pin.is_clamp]
    said = [f"hole{'s' * (len(numbers) > 1)} {', '.join(numbers)}"] if numbers else []
    said += [f"the waste at {'; '.join(waste)}"] if waste else []
    said += [f"the clamps at {'; '.join(clamps)}"] if clamps else []
    return ", and ".join(said) or "none"


def _each(layout: Layout, chain: GuideChain, runs: tuple[Run, ...]) -> Iterator[str]:
    hole = clear_starter(layout, chain)
    for number, run in enumerate(runs):
        start, end = _at(layout, run.start), _at(layout, run.end)
        cut = "cut all round" if run.start == run.end else f"cut from {start} to {end}"
        if run.begin == "run-in":
            assert hole is not None  # a run-in begins in it
            back = "go back in the cut to S, " if number else ""
            yield f"{back}run in straight through the waste from S ({_at(layout, hole.center)}) to {start}, {cut}"
        elif run.begin == "starter":
            yield f"set in at S ({start}) and {cut}"
        elif run.begin == "end of a run":
            yield f"go on in the cut where {run.after} ends, {cut}"
        elif run.begin == "before the pins":
            yield (
                f"the pins of this stage stand in the tool's way along the cut: bring it to where {run.after} ends "
                f"before they are put in; {cut}"
            )
        elif hole is None:
            yield f"the starter hole is not settled (T601), so no way to {start} can be named; {cut}"
        else:
            yield (
                f"no way leads from S to {start} clear of pins and skin: drill another starter near it, as far inside "
                f"the rough line as S, and run in from there; {cut}"
            )


def _tabs(layout: Layout, runs: list[Run]) -> Iterator[str]:
    """Where the waste is left hanging, and in how many pieces it comes away."""
    places = [_at(layout, run.tab) for run in runs if run.tab]
    left = length_words(TAB_IN, layout.job.unit)
    many = len(places) > 1
    yield (
        f"Stop {left} short of the end of {'each last run' if many else 'the run'}, at {' and at '.join(places)}: "
        f"{'these tabs hold' if many else 'this tab holds'} the waste until it is held from outside; then cut "
        f"{'them one after the other' if many else 'it'}."
    )
    pieces = sum(run.begin == "run-in" for run in runs)
    if pieces > 1:
        yield f"The run-ins part the waste in {pieces} pieces: hold each of them before its tab is cut."


def _at(layout: Layout, place: tuple[float, float]) -> str:
    unit = layout.job.unit
    return f"X {figure(place[0], unit)} Y {figure(place[1], unit)} {unit}"
