"""The tasks of one job: those that apply to it, with what each makes of the holes, fits and takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property

from msgspec import Struct

from hatchwright.job.job import Job
from hatchwright.layout.base_screws import base_screw_holes
from hatchwright.layout.layout import HoleKind, Layout, PartName
from hatchwright.layout.named import kind_named
from hatchwright.recipe.base_holes import base_drill, base_stop
from hatchwright.recipe.hole_drills import starter_pilot
from hatchwright.recipe.made_alike import MadeAlike
from hatchwright.recipe.nutplate_seat import NutplateSeat, nutplate_seat
from hatchwright.recipe.riveting import rivet_orders
from hatchwright.recipe.stops import Stop, stop_from_inside, stops_for
from hatchwright.recipe.task import TASKS, Fitted, Made, Task, TaskName
from hatchwright.recipe.tools import Tool, drill_of, held_with, tool, tool_list


class Guide(Struct, frozen=True):
    """What a guide template does for the holes.

    Args:
        led: the holes that are drilled through it.
        locating: those of them that are drilled first, to locate it.
    """

    is_window: bool
    led: frozenset[int] = frozenset()
    locating: frozenset[int] = frozenset()


class Planned(Struct, frozen=True, dict=True):
    """What the tasks of a job follow from.

    Args:
        guide: None without a template.
        made: the operations on its holes, by the task in which each is done.
    """

    layout: Layout
    guide: Guide | None
    kinds: tuple[MadeAlike, ...]
    made: Mapping[TaskName, Sequence[Made]]

    @property
    def job(self) -> Job:
        """The job itself."""
        return self.layout.job

    @cached_property
    def applying(self) -> frozenset[TaskName]:
        """The names of the tasks that the job has."""
        job, has_parts = self.job, len(self.layout.parts) > 1
        doubler, cover, mount, hole = job.doubler, job.cover, job.mount, job.plain_hole
        rivets = bool(self.layout.holes_of("rivet"))
        asked: dict[TaskName, object] = {
            "measure_cut": job.cutter,
            "make_template": self.guide,
            "trial": self.guide,
            "make_parts": has_parts,
            "bracket": mount and mount.bracket,
            "coupon": any(kind.is_listed for kind in self.kinds),
            "protect": True,
            "contain": True,
            "mark_out": True,
            "starter": True,
            "lay_on": self.guide,
            "cut_out": True,
            "file": True,
            "measure_opening": True,
            "fit_cover": cover and cover.fit == "flush",
            "fit_plug": job.patch,
            "find_damage": job.patch,
            "bring_in": doubler and doubler.face == "inside",
            "locate": doubler,
            "ears": self.has_nutplates,
            "protection": has_parts,
            "nutplates": self.has_nutplates,
            "rivet": rivets,
            "inspect": rivets,
            "hole_edge": hole and (hole.edge == "grommet" or hole.wires),
            "cover": cover,
            "drill_base": mount,
            "fit_mount": mount,
            "mount": mount,
            "close": True,
        }
        return frozenset(name for name, is_asked in asked.items() if is_asked) | self.made.keys()

    @property
    def has_nutplates(self) -> bool:
        """Whether nutplates are riveted on."""
        return self.seat is not None

    @cached_property
    def seat(self) -> NutplateSeat | None:
        """How its nutplates sit; None without nutplates."""
        return nutplate_seat(self.layout)

    def drilled_in(self, tasks: Iterable[TaskName]) -> dict[int, float]:
        """The size to which some tasks drill each hole, by its number, the largest of its sheets [in]."""
        sizes: dict[int, float] = {}
        for one in (one for task in tasks for one in self.made.get(task, ())):
            if one.drill is None:
                continue
            for number in one.numbers:
                sizes[number] = max(sizes.get(number, 0.0), one.drill.diameter_in)
        return sizes

    @property
    def ways(self) -> frozenset[str]:
        """How the job is made where that changes the order of tasks."""
        is_plug = self.guide is not None and not self.guide.is_window
        is_last = self.seat is not None and self.seat.ears_drilled in ("after_dimple", "at_size")
        return frozenset({"", "plug" if is_plug else "window", "ears last" if is_last else "ears first"})

    def fitted(self, name: TaskName) -> Iterator[Fitted]:
        """The fasteners that a task fits."""
        fits: dict[TaskName, tuple[HoleKind, tuple[str, ...]]] = {
            "rivet": ("rivet", ("rivet",)),
            "nutplates": ("screw", ("nutplate",)),
            "cover": ("screw", ("screw",) if self.has_nutplates else ("nut", "screw")),
        }
        if name == "fit_mount" and (base := base_screw_holes(self.layout)):
            return iter((Fitted("base_screw", tuple(hole.number for hole in base)),))
        kind, whats = fits.get(name, ("rivet", ()))
        numbers = tuple(hole.number for hole in self.layout.holes_of(kind))
        return (Fitted(what, numbers) for what in whats if numbers)


def tasks_of(plan: Planned) -> Iterator[Task]:
    """The tasks of a job, in the order in which a mechanic would take those that wait for nothing."""
    for row in TASKS:
        if row.name not in plan.applying or row.when not in plan.ways:
            continue
        made = tuple(plan.made.get(row.name, ()))
        tools = tool_list((*map(tool, row.tools), *_tools_for(row.name, made, plan)))
        fitted = tuple(plan.fitted(row.name))
        needs, gives, stop = frozenset(row.needs), frozenset(row.gives), _stop(row.name, made, plan)
        yield Task(row.name, needs, gives, made, fitted, tools, stop)


_LOCATING: tuple[TaskName, ...] = ("lay_on", "locate")
"""Tasks that drill a few holes and pin each of them."""

_HOLDING: dict[TaskName, tuple[TaskName, ...]] = {
    "lay_on": ("lay_on",),
    "pilot": ("lay_on", "pilot"),
    "locate": ("locate",),
    "back_drill": ("locate", "back_drill"),
    "drill_cover": ("drill_cover",),
    "transfer_cover": ("transfer_cover",),
    "drill_plug": ("drill_plug",),
    "to_size": ("to_size",),
    "ream": ("ream",),
}
"""Tasks in which what they drill is held by temporary fasteners, with the tasks that made the holes these are in."""

_THROUGH_TEMPLATE: tuple[TaskName, ...] = ("lay_on", "pilot")
_IN_PLACE = (
    *_THROUGH_TEMPLATE,
    "mark_skin",
    "locate",
    "back_drill",
    "drill_cover",
    "transfer_cover",
    "drill_plug",
    "to_size",
    "prepare",
    "ream",
)


def _stop(name: TaskName, made: Iterable[Made], plan: Planned) -> Stop | None:
    """The stop of the holes that a task drills on the aircraft, through all sheets down to the last that it drills."""
    if name == "drill_base":
        return base_stop(plan.layout)
    drilled = [one for one in made if one.does not in ("dimple", "countersink", "deburr")]
    if name not in _IN_PLACE or not drilled:
        return None
    made_in = {one.part for one in drilled}
    is_apart = name in ("prepare", "ream")
    if is_apart and "skin" not in made_in:
        return None
    there = made_in | {one.lead for one in drilled}  # neither doubler nor cover is there yet, unless it leads
    through: set[PartName] = {
        part
        for one in drilled
        for part in one.kind.holes[0].stack
        if part in there or part not in ("doubler", "cover")
    }
    numbers = {number for one in drilled for number in one.numbers}
    holes = [hole for hole in plan.layout.holes if hole.number in numbers]
    if name == "transfer_cover" or _leads_from_inside(drilled, plan.job):
        return stop_from_inside(plan.layout, holes, through)
    template = plan.job.template if name in _THROUGH_TEMPLATE else None
    return stops_for(
        plan.layout, holes, tuple(through), template_in=template.thickness.inch if template else 0.0
    )


def _leads_from_inside(drilled: Iterable[Made], job: Job) -> bool:
    """Whether a doubler behind the skin leads: its holes are only seen from there."""
    is_inside = job.doubler is not None and job.doubler.face == "inside"
    return is_inside and any(one.lead == "doubler" for one in drilled)


def _tools_for(name: TaskName, made: Iterable[Made], plan: Planned) -> Iterator[Tool]:
    """What the operations on holes take: drills, and what holds the sheets meanwhile; dies, countersinks, deburrers."""
    if name == "cut_out":
        yield Tool(kind_named(plan.job.tool.kind)) if plan.job.tool else tool("cutting")
    if name == "rivet":
        for fastener in dict.fromkeys(hole.fastener for hole in plan.layout.holes_of("rivet")):
            yield tool("set", fastener=fastener)
    if name == "drill_base" and (drill := base_drill(plan.layout)):
        yield drill_of(drill)
    if name == "fit_mount" and (mount := plan.job.mount):
        yield from [tool("bond_meter")] if mount.bonded else []
        yield from [tool("sealant")] if mount.sealed else []
    if name == "starter":
        yield drill_of(starter_pilot())
    if name == "cut_out" and "window" in plan.ways:
        yield tool("waste_screws")
    if name == "ears" and plan.seat is not None:
        yield from _tools_for_ears(plan.seat)
    for one in made:
        if one.drill is not None:
            yield drill_of(one.drill)
        elif one.does in ("dimple", "countersink"):
            yield tool(one.does, fastener=one.kind.holes[0].fastener)
        elif one.does == "deburr":
            yield tool("deburr")
    yield from _held(name, plan)


def _held(name: TaskName, plan: Planned) -> Iterator[Tool]:
    """The temporary fasteners that a task takes, with those that are in from locating the template or the doubler."""
    shop = plan.layout.shop
    if name in _HOLDING:
        holes = plan.drilled_in(_HOLDING[name])
        yield from held_with(holes.values(), shop, every=1 if name in _LOCATING else None)
    elif name == "rivet":
        finished = plan.drilled_in(plan.made)
        pinned = [number for order in rivet_orders(plan.layout) for number in order.last]
        yield from held_with([finished[one] for one in pinned if one in finished], shop, every=1)
    elif name == "ears" and plan.seat and (first := plan.seat.first_ear_drill):
        yield from (one for one in held_with([first.diameter_in], shop, every=1) if one.loose_over_in is None)
    elif name == "drill_base" and (drill := base_drill(plan.layout)):
        yield from held_with([drill.diameter_in] * len(base_screw_holes(plan.layout)), shop)


def _tools_for_ears(seat: NutplateSeat) -> Iterator[Tool]:
    """What holds the nutplates while their rivet holes are drilled, and what these take."""
    yield tool("pin_screws" if seat.is_pinned_by_screw else "clamps")
    for layer in seat.ear_layers:
        for step in layer.steps:
            if step.drill is not None:
                yield drill_of(step.drill)
            elif step.operation in ("dimple", "countersink"):
                yield tool(step.operation, fastener=str(seat.rivet))
