"""Parts of a carried step that several have: what is drilled, what holds it meanwhile, how far the drill may come."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator
from itertools import chain

from msgspec.structs import replace

from hatchwright.documents.made_lines import drilled_alike
from hatchwright.documents.step import Carried, Check
from hatchwright.documents.stop_lines import JUDGED_BY, Reaching
from hatchwright.judged import Status
from hatchwright.layout.layout import Layout
from hatchwright.making.making import Making
from hatchwright.making.template.findings import larger_than_drill
from hatchwright.recipe.hole_drills import drill_named
from hatchwright.recipe.sheet_work import WorkedPart
from hatchwright.recipe.stops import Stop
from hatchwright.recipe.task import Does, Task
from hatchwright.recipe.tools import TEMPORARY, Tool
from hatchwright.said import Listed, Said, Value, inch, room, said
from hatchwright.tables.drills import Drill
from hatchwright.units import nearest_64th
from hatchwright.words.of_job import said_of
from hatchwright.words.spans import spans_said

_TO_64TH_IN = 5e-5
_MOST_SPANS = 2
"""Runs of numbers that are named; the map shows where more of them lie. Own choice, no source."""


def off_place() -> Check:
    """Where the numbers of the holes go that came out off their place."""
    return Check("reading", said("carry.off_place"))


def hand_size(size_in: float, layout: Layout) -> Value:
    """A size of a hand tool: by 64ths where it is one."""
    if layout.job.unit == "in" and math.isclose(size_in * 64.0, round(size_in * 64.0), abs_tol=_TO_64TH_IN):
        return nearest_64th(size_in)
    return inch(by_hand(size_in, layout))


def by_hand(length_in: float, layout: Layout) -> float:
    """A length to which a hand works or measures: of inches never a fourth place [in]."""
    return round(length_in, 3) if layout.job.unit == "in" else length_in


def drilling(task: Task, layout: Layout, what: Reaching = "drill", *, holds: bool = True) -> Carried:
    """What a task drills on the aircraft, what holds it meanwhile, and its stop.

    Args:
        holds: whether to tell what holds it and what was measured; the step after one that locates a part does.
    """
    numbers, checks = stop_told(task.stop, what)
    is_done = is_drilled(task, layout)
    drilled = drilled_before(task, layout) if holds and not is_done else ()
    held = held_told(task) if holds else ()
    told = (*drilled_told(task, layout), *held, *numbers, *drilled)
    return Carried("", tuple(told), checks, is_done)


def drilled_before(task: Task, layout: Layout) -> Iterator[Said]:
    """The holes of the skin that were measured, where a task drills others of them still."""
    if made := _measured(task, layout) & _numbers(task):
        yield said("carry.drilled", numbers=spans_said(made))


def is_drilled(task: Task, layout: Layout) -> bool:
    """Whether every hole that a task begins in the skin was measured there."""
    begun = {number for one in task.made if one.lead for number in one.numbers}
    return bool(begun) and begun <= _measured(task, layout)


def _measured(task: Task, layout: Layout) -> set[int]:
    in_skin = {number for one in task.made if one.part == "skin" and one.lead for number in one.numbers}
    return in_skin & {hole.number for hole in layout.holes if hole.is_made}


def _numbers(task: Task) -> set[int]:
    return {number for one in task.made for number in one.numbers}


def drilled_told(task: Task, layout: Layout) -> Iterator[Said]:
    """What a task drills, a sentence for each fastener and drill; what nobody knows is NOT KNOWN."""
    numbers: dict[_Drilled, set[int]] = {}
    parts: dict[_Drilled, dict[WorkedPart, None]] = {}
    for made, of_sheets, of_these in drilled_alike(task.made):
        what = made.kind.holes[0].fastener, made.does, made.drill
        numbers.setdefault(what, set()).update(of_these)
        parts.setdefault(what, {}).update(dict.fromkeys(of_sheets))
    if len({(does, drill) for _, does, drill in numbers}) == 1:  # then one drill goes through all of them
        _, does, drill = next(iter(numbers))
        yield said("carry.made", made=_with(does, drill, set().union(*numbers.values())))
        return
    fasteners = [fastener for fastener, _, _ in numbers]
    for (fastener, does, drill), holes in numbers.items():
        of: list[Value] = [fastener] if len(set(fasteners)) > 1 else []
        if fasteners.count(fastener) > 1:
            named = (said_of(layout.job.kind, said(f"part.{part}")) for part in parts[fastener, does, drill])
            of.append(Listed(tuple(named), "+"))
        yield said("carry.made.of", of=Listed(tuple(of), ","), made=_with(does, drill, holes))


def _with(does: Does, drill: Drill | None, holes: Collection[int]) -> Said:
    id = does.replace(" ", "_") + ("" if drill or does == "not known" else "_not_known")
    return said(f"carry.made.{id}", drill=drill_named(drill), holes=_which(holes))


_Drilled = tuple[str, Does, Drill | None]
"""A fastener, what is done to its holes, and with which drill."""


def _which(numbers: Collection[int]) -> Said:
    """Holes by their numbers where these are few runs, else by how many they are: the map shows them."""
    spans = spans_said(numbers)
    if len(spans.items) <= _MOST_SPANS:
        return said("carry.holes_numbered", numbers=spans)
    return said("carry.holes_counted", count=len(numbers))


def held_told(task: Task) -> Iterator[Said]:
    """The temporary fasteners of a task, by count, size and color; those that may be loose are tried."""
    held = [one for one in task.tools if one.name.id == TEMPORARY]
    if held:
        several = tuple(_held(one) for one in held)
        yield said("carry.held", fasteners=Listed(several, "+"))
    if any(one.loose_over_in is not None for one in held):
        yield said("carry.held.loose")


def _held(one: Tool) -> Said:
    """So many of a size, by the color that one sees in the box."""
    values = dict(one.name.values)
    color = str(values["color"])
    seen = color[color.index("(") + 1 : color.index(")")] if "(" in color else color
    return said("carry.held.of_size", count=one.count, size=values["size"], color=seen)


def too_large(task: Task, making: Making) -> Iterator[Said]:
    """Where holes of the template are too large to lead their drill."""
    for holes in larger_than_drill(making).values():
        if found := _numbers(task) & {one.hole.number for one in holes}:
            yield said("carry.template_hole", numbers=spans_said(found))


def stop_told(stop: Stop | None, what: Reaching = "drill") -> tuple[tuple[Said, ...], tuple[Check, ...]]:
    """How far something may come behind the skin, and the box of a stop that is set; see `stop_lines`."""
    if stop is None:
        return (), ()
    setting_in, before = stop.setting_in, stop.before
    takes_stop = what in ("drill", "drill_through_template", "step_drill")
    set_ = "inside" if stop.is_from_inside else what
    checks = (
        (Check("tick", said(f"carry.stop.{set_}"), inch(setting_in)),)
        if takes_stop and setting_in is not None
        else ()
    )
    if before is None:
        is_unknown = takes_stop and setting_in is None
        return ((said("carry.stop.not_known"),) if is_unknown else ()), checks
    behind: dict[str, Value] = {
        "tool": said(f"card.stop.tool.{what}"),
        "name": before.keep_out.name,
        "depth": inch(before.depth_in),
        "code": JUDGED_BY.get(what, "R702"),
    }
    if stop.is_from_inside:
        return (said("carry.stop.room_inside", **behind),), checks
    if before.status is Status.STOP:
        return (said("carry.stop.strikes", **behind),), ()
    if before.status is not Status.PASS or setting_in is None or stop.reach_in is None:
        return (said("carry.stop.not_shown", **behind),), ()
    if takes_stop:
        return (said("carry.stop.behind", most=room(stop.most_in or 0.0), **behind),), checks
    return (), ()  # what clears by itself is nothing to be set


def carried(
    what: Value, *parts: Iterable[Value] | Carried, checks: Iterable[Check] = (), is_done: bool = False
) -> Carried:
    """One carried step of what is told and of what others have of it, its own checks behind theirs."""
    told = chain.from_iterable(part.numbers if isinstance(part, Carried) else part for part in parts)
    of_parts = (check for part in parts if isinstance(part, Carried) for check in part.checks)
    done = is_done or any(part.is_done for part in parts if isinstance(part, Carried))
    return replace(Carried(what, is_done=done), numbers=tuple(told), checks=(*of_parts, *checks))
