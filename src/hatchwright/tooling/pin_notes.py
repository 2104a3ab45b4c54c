"""The hand's note: what is pinned and what is cut, stage by stage."""

from __future__ import annotations

from hatchwright.job.frame import Frame
from hatchwright.tooling.pin_layout import Pin, PinLayout
from hatchwright.tooling.pin_plan import Stage, Stretch


def stage_notes(frame: Frame, pins: PinLayout) -> tuple[str, ...]:
    """Say what to do in each stage.

    Args:
        frame: of the job, which decides which way round a person sees the run.
        pins: planned.
    Returns:
        tuple: one note for each stage; empty without a plan.
    """
    if pins.plan is None:
        return ()
    stages = pins.plan.stages
    notes = []
    for number, stage in enumerate(stages, start=1):
        said = [f"Stage {number} of {len(stages)}: {_hold(pins, stage)}."]
        if number > 1:
            freed = [p for p in stages[number - 2].pins if p not in stage.pins]
            said.append(f"Put the new pins in first, then take out {_named([pins.pins[p] for p in freed])}.")
        said.append(_cut(frame, stage, whole=len(stages) == 1))
        notes.append(" ".join(said))
    return tuple(notes)


def _hold(pins: PinLayout, stage: Stage) -> str:
    return f"pin {_named([pins.pins[index] for index in stage.pins])}"


def _named(pins: list[Pin]) -> str:
    numbers = [str(pin.hole) for pin in pins if pin.hole is not None]
    extra = [f"the waste at X {pin.place[0]:.2f} Y {pin.place[1]:.2f}" for pin in pins if pin.hole is None]
    holes = [f"hole{'s' * (len(numbers) > 1)} {', '.join(numbers)}"] if numbers else []
    return ", and ".join([*holes, ", ".join(extra)] if extra else holes) or "none"


def _cut(frame: Frame, stage: Stage, *, whole: bool) -> str:
    if whole:
        return "Cut all round."
    way = "clockwise" if frame.is_mirrored else "counter-clockwise"
    runs = "; ".join(_run(stretch) for stretch in stage.stretches)
    return f"Cut {way}, seen from outside, {runs}."


def _run(stretch: Stretch) -> str:
    (x, y), (u, v) = stretch.start, stretch.end
    return f"from X {x:.2f} Y {y:.2f} to X {u:.2f} Y {v:.2f}"
