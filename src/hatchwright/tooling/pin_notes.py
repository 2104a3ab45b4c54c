"""The hand's note: what is pinned and what is cut, stage by stage."""

from __future__ import annotations

from hatchwright.layout.layout import Layout
from hatchwright.tooling.pin_layout import Pin, PinLayout
from hatchwright.tooling.pin_plan import Stage
from hatchwright.units import Unit, figure


def stage_notes(layout: Layout, pins: PinLayout) -> tuple[str, ...]:
    """Say what to do in each stage.

    Args:
        layout: of the job; its frame decides which way round a person sees the run.
        pins: planned.
    Returns:
        tuple: one note for each stage; empty without a plan.
    """
    if pins.plan is None:
        return ()
    stages = pins.plan.stages
    notes = []
    for number, stage in enumerate(stages, start=1):
        said = [f"Stage {number} of {len(stages)}: {_hold(layout, pins, stage)}."]
        if number > 1:
            freed = [p for p in stages[number - 2].pins if p not in stage.pins]
            said.append(
                f"Put the new pins in first, then take out {_named(layout, [pins.pins[p] for p in freed])}."
            )
        said.append(_cut(layout, stage, whole=len(stages) == 1))
        notes.append(" ".join(said))
    return tuple(notes)


def _hold(layout: Layout, pins: PinLayout, stage: Stage) -> str:
    return f"pin {_named(layout, [pins.pins[index] for index in stage.pins])}"


def _named(layout: Layout, pins: list[Pin]) -> str:
    numbers = [str(pin.hole) for pin in pins if pin.hole is not None]
    extra = [f"the waste at {_at(layout, pin.place)}" for pin in pins if pin.hole is None]
    holes = [f"hole{'s' * (len(numbers) > 1)} {', '.join(numbers)}"] if numbers else []
    return ", and ".join([*holes, ", ".join(extra)] if extra else holes) or "none"


def _cut(layout: Layout, stage: Stage, *, whole: bool) -> str:
    """Which way a stretch lies, and which way to run: a router's spindle does not turn with the drawing."""
    cutter = layout.job.cutter
    assert cutter is not None  # pins are planned for a template
    as_stored = "clockwise" if layout.frame.is_mirrored else "counter-clockwise"
    way = as_stored
    if cutter.kind == "router":
        way = "clockwise" if cutter.template == "female" else "counter-clockwise"
    if whole:
        return f"Cut all round, {way}, seen from outside." if cutter.kind == "router" else "Cut all round."
    ends = [(one.start, one.end) if way == as_stored else (one.end, one.start) for one in stage.stretches]
    runs = "; ".join(f"from {_at(layout, start)} to {_at(layout, end)}" for start, end in ends)
    return f"Cut {way}, seen from outside, {runs}."


def _at(layout: Layout, place: tuple[float, float]) -> str:
    unit: Unit = "mm" if layout.job.units == "mm" else "in"
    return f"X {figure(place[0], unit)} Y {figure(place[1], unit)} {unit}"
