"""The recipe of a job: what is done to every hole of every sheet, task by task, in an order that can be followed.

Everything that tells how the work goes reads this: card, hole table, layout, lists, template, machine files and page.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.layout.layout import Layout, PartName
from hatchwright.recipe.made_alike import Lead, MadeAlike, made_alike
from hatchwright.recipe.planned import Guide, Planned, tasks_of
from hatchwright.recipe.sheet_work import WorkedPart
from hatchwright.recipe.task import Made, Task, TaskName, Thing, in_order
from hatchwright.recipe.tools import TEMPORARY, Tool, tool_list
from hatchwright.said import Said

_DRILLED_IN: dict[tuple[str, Lead], TaskName] = {
    ("skin", "template"): "pilot",
    ("skin", "marks"): "mark_skin",
    ("skin", "doubler"): "back_drill",
    ("skin", "cover"): "drill_cover",
    ("doubler", "marks"): "drill_doubler",
    ("doubler", "skin"): "back_drill",
    ("doubler", "cover"): "drill_cover",
    ("doubler", "plug"): "drill_plug",
    ("cover", "template"): "cover_blank",
    ("cover", "marks"): "drill_cover",
    ("cover", "skin"): "transfer_cover",
    ("cover", "doubler"): "transfer_cover",
    ("plug", "marks"): "drill_plug",
    ("strap", "skin"): "strap",
    ("strap", "doubler"): "strap",
    ("strap", "cover"): "strap",
}
"""The task in which a sheet gets its first hole, by what leads it there."""


_AT_ONCE: tuple[TaskName, ...] = ("back_drill", "drill_cover", "transfer_cover", "drill_plug")
"""Tasks whose temporary fasteners are all in at the same time."""

Early = Mapping[tuple[WorkedPart, Lead], tuple[TaskName, frozenset[int]]]
"""By sheet and what leads it: the task in which a few holes are drilled before the others, and which."""


class Recipe(Struct, frozen=True):
    """How a job is made.

    Args:
        kinds: its holes, those together that are made alike.
        tasks: in an order in which none needs what a later one gives.
    """

    kinds: tuple[MadeAlike, ...]
    tasks: tuple[Task, ...]

    def task(self, name: TaskName) -> Task | None:
        """The task of a name, None where the job has none."""
        return next((task for task in self.tasks if task.name == name), None)

    @property
    def tools(self) -> tuple[Tool, ...]:
        """Every tool that a task takes."""
        at_once = Counter[Said]()
        for one in (one for task in self.tasks if task.name in _AT_ONCE for one in task.tools):
            at_once[one.name] += one.count
        every = tool_list(one for task in self.tasks for one in task.tools)
        return tuple(
            replace(one, count=max(one.count, at_once[one.name])) if one.name.id == TEMPORARY else one
            for one in every
        )


def recipe_of(layout: Layout, guide: Guide | None = None) -> Recipe:
    """Work out how a job is made.

    Args:
        guide: what its template does for the holes, None without one.
    """
    kinds = made_alike(layout, guide.led if guide else ())
    early: Early = {
        ("skin", "template"): ("lay_on", guide.locating if guide else frozenset()),
        ("doubler", "skin"): ("locate", _locating_doubler(kinds, "skin", "doubler")),
        ("skin", "doubler"): ("locate", _locating_doubler(kinds, "doubler", "skin")),
    }
    made: dict[TaskName, list[Made]] = defaultdict(list)
    for kind in kinds:
        for name, one in _operations(kind, early):
            made[name].append(one)
    there: tuple[Thing, ...] = ("way in",) if layout.job.bay.way_in else ()
    return Recipe(kinds, in_order(tasks_of(Planned(layout, guide, kinds, made)), there))


def _operations(kind: MadeAlike, early: Early) -> Iterator[tuple[TaskName, Made]]:
    """What is done to each sheet, with the task in which it is done.

    Where a sheet of the stack is dimpled, those that are not get their final size when they are apart: drilled
    through, it would open the dimpled one.
    """
    has_dimple = any(layer.preparation == "dimple" for layer in kind.layers)
    for layer, lead in zip(kind.layers, kind.leads, strict=True):
        first, *rest = layer.steps
        for name, numbers in _first_made(kind, layer.part, lead, early):
            yield name, Made(kind, numbers, layer.part, first.operation, first.drill, lead)
        is_strap, is_dimpled = layer.part == "strap", False
        for step in rest:
            is_dimpled = is_dimpled or step.operation == "dimple"
            is_cold = step.operation in ("dimple", "countersink")
            is_apart = has_dimple and layer.preparation != "dimple"
            if is_dimpled and not is_cold:
                name = "ream"
            elif is_cold or (is_apart and not is_strap):
                name = "prepare"
            else:
                name = "strap" if is_strap else "to_size"
            yield name, Made(kind, kind.numbers, layer.part, step.operation, step.drill)
        yield "strap" if is_strap else "apart", Made(kind, kind.numbers, layer.part, "deburr")


def _first_made(
    kind: MadeAlike, part: WorkedPart, lead: Lead, early: Early
) -> Iterator[tuple[TaskName, tuple[int, ...]]]:
    """The tasks in which a sheet gets its first holes: those that locate template or doubler before the others."""
    task, locating = early.get((part, lead), (None, frozenset[int]()))
    first = tuple(number for number in kind.numbers if number in locating)
    rest = tuple(number for number in kind.numbers if number not in locating)
    if task and first:
        yield task, first
    if rest or not first:
        yield _DRILLED_IN[part, lead], rest


def _locating_doubler(kinds: Iterable[MadeAlike], led_by: Lead, part: PartName) -> frozenset[int]:
    """Two holes far apart that hold a doubler where it is located: the farthest from the middle of all that one sheet
    leads in the other, and the farthest from that one; none where there are fewer, or their drill is not known."""
    holes = [
        hole
        for kind in kinds
        for layer, lead in zip(kind.layers, kind.leads, strict=True)
        if layer.part == part and lead == led_by and layer.steps and layer.steps[0].drill
        for hole in kind.holes
    ]
    if len(holes) < 2:
        return frozenset()
    middle = tuple(sum(hole.place[axis] for hole in holes) / len(holes) for axis in (0, 1))
    one = max(holes, key=lambda hole: math.dist(hole.place, middle))
    other = max(holes, key=lambda hole: math.dist(hole.place, one.place))
    return frozenset({one.number, other.number})
