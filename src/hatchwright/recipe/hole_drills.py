"""The drills of a hole as one reads them: the first, the last, and what is done to each sheet in order."""

from __future__ import annotations

from collections.abc import Iterable

from hatchwright.layout.layout import Hole, Layout
from hatchwright.recipe.sheet_work import LayerWork, WorkedPart, hole_work
from hatchwright.said import Said, Value, inch, said
from hatchwright.tables.drill_chain import DrillStep
from hatchwright.tables.drills import Drill, drill


def starter_pilot() -> Drill:
    """The pilot through thin sheet of starter and corner holes, and of the screw that holds the waste. Common
    practice, no source."""
    return drill("1/8")


_FINISHING = ("final", "ream")


def first_drill(hole: Hole, layout: Layout) -> Drill | None:
    """The drill that begins a hole, through all of its sheets; None where nobody knows it."""
    return hole_work(hole, layout)[0].steps[0].drill


def is_drilled_once(hole: Hole, layout: Layout) -> bool:
    """Whether the drill that begins a hole finishes it in every sheet."""
    return all(layer.steps[0].operation == "final" for layer in hole_work(hole, layout))


def final_drills(layers: Iterable[LayerWork]) -> tuple[Drill, ...]:
    """The drills of a finished hole, as a rule one, the largest first; none while that of a sheet is not known."""
    lasts = [
        next((one for one in reversed(layer.steps) if one.operation in _FINISHING), None) for layer in layers
    ]
    known = dict.fromkeys(last.drill for last in lasts if last and last.drill)
    is_known = all(last and last.drill for last in lasts)
    return tuple(sorted(known, key=lambda one: -one.diameter_in)) if is_known else ()


def alike(layers: Iterable[LayerWork]) -> dict[tuple[DrillStep, ...], list[WorkedPart]]:
    """What is done in order, to the sheets that it is done to."""
    found: dict[tuple[DrillStep, ...], list[WorkedPart]] = {}
    for layer in layers:
        found.setdefault(layer.steps, []).append(layer.part)
    return found


def drill_said(drill: Drill) -> Value:
    """A drill by its name and size, such as ``#30 .1285``; a name in millimeters is the size itself, and one that is
    in no table is known by its size alone."""
    if drill.name.endswith(" mm"):
        return drill.name
    size = inch(drill.diameter_in, fine=True)
    is_sized = drill.name.endswith(" in")
    return said("drill.sized", size=size) if is_sized else said("drill.named", name=str(drill), size=size)


def drill_named(drill: Drill | None) -> Value:
    """A drill by its name alone, or by its size where it has none; nothing where there is none."""
    return "" if drill is None else drill_said(drill) if drill.name.endswith(" in") else str(drill)


def step_said(step: DrillStep, drill: Value) -> Said:
    """One operation with its drill, in the words of card and list; that it is not known where nobody knows it."""
    does = step.operation.replace(" ", "_")
    return said(f"card.chain.{does}_drill", drill=drill) if step.drill else said(f"card.chain.{does}")
