"""One task of the work: what it needs, what it makes, which holes it drills and which fasteners it fits.

The order of the tasks is worked out from what each needs: none comes before what it needs is there.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.recipe.made_alike import Lead, MadeAlike
from hatchwright.recipe.sheet_work import WorkedPart
from hatchwright.recipe.stops import Stop
from hatchwright.recipe.tools import Tool
from hatchwright.tables.drills import Drill

TaskName = Literal[
    "measure_cut",
    "make_template",
    "trial",
    "make_parts",
    "cover_blank",
    "bracket",
    "coupon",
    "protect",
    "contain",
    "find_damage",
    "mark_out",
    "starter",
    "lay_on",
    "pilot",
    "cut_out",
    "file",
    "measure_opening",
    "fit_cover",
    "fit_plug",
    "mark_skin",
    "drill_doubler",
    "bring_in",
    "locate",
    "back_drill",
    "drill_cover",
    "transfer_cover",
    "drill_plug",
    "drill_base",
    "to_size",
    "apart",
    "strap",
    "ears",
    "prepare",
    "ream",
    "protection",
    "nutplates",
    "rivet",
    "inspect",
    "hole_edge",
    "cover",
    "fit_mount",
    "mount",
    "close",
]

Thing = Literal[
    "cut measured",
    "template",
    "template proved",
    "parts",
    "bracket",
    "coupon",
    "protected",
    "contained",
    "damage known",
    "marks",
    "starter",
    "template on",
    "piloted",
    "way in",
    "opening cut",
    "opening filed",
    "opening measured",
    "cover fits",
    "skin piloted",
    "doubler piloted",
    "doubler in",
    "doubler located",
    "doubler drilled",
    "cover drilled",
    "base drilled",
    "to size",
    "apart",
    "strap drilled",
    "ears",
    "prepared",
    "reamed",
    "primed",
    "nutplates on",
    "riveted",
    "inspected",
    "edge guarded",
    "cover on",
    "mount on",
    "mount proved",
]
"""What stands when a task is done, and what another needs."""

Does = Literal["pilot", "open", "final", "dimple", "countersink", "ream", "deburr", "not known"]


class Made(Struct, frozen=True):
    """One operation on one sheet of holes that are made alike.

    Args:
        numbers: of the holes that are made in this task.
        does: "not known" where no table lists the fastener and the job names no drill.
        drill: None for what takes none, and where nobody knows it.
        lead: what gives the first hole of a sheet its place; None for what comes after it.
    """

    kind: MadeAlike
    numbers: tuple[int, ...]
    part: WorkedPart
    does: Does
    drill: Drill | None = None
    lead: Lead | None = None


class Fitted(Struct, frozen=True):
    """Fasteners that a task fits: through the holes of these numbers, or the nutplates behind them."""

    what: str
    numbers: tuple[int, ...]


class TaskRow(Struct, frozen=True):
    """One kind of task.

    Args:
        when: how the job must be made for it to be so, "" for any: round a "plug", which covers the waste, or not
            ("window"); with ears drilled before the sheets are dimpled ("ears first") or after, nutplates that nest in
            the dimples or whose screws go in only then ("ears last").
    """

    name: TaskName
    needs: tuple[Thing, ...] = ()
    gives: tuple[Thing, ...] = ()
    tools: tuple[str, ...] = ()
    when: Literal["", "plug", "window", "ears first", "ears last"] = ""


_MEASURED: tuple[Thing, ...] = ("opening measured", "contained")
_BENCH: tuple[Thing, ...] = ("template proved", "parts", "bracket", "doubler piloted", "coupon")
_DRILLED: tuple[Thing, ...] = (
    "piloted",
    "skin piloted",
    "doubler drilled",
    "cover drilled",
    "base drilled",
    *_MEASURED,
)
_MADE: tuple[Thing, ...] = ("apart", "prepared", "reamed", "ears")
_PILOTED: tuple[Thing, ...] = ("marks", "template on", "piloted")
_DONE: tuple[Thing, ...] = ("inspected", "edge guarded", "cover on", "mount proved")
_BY_HAND = ("pencil", "punch", "drill_stop")

TASKS: tuple[TaskRow, ...] = (
    TaskRow("measure_cut", (), ("cut measured",), ("scrap", "caliper")),
    TaskRow("make_template", ("cut measured",), ("template",), ("caliper",)),
    TaskRow("trial", ("template",), ("template proved",), ("scrap", "caliper")),
    TaskRow("make_parts", (), ("parts",), ("snips", "file", "caliper")),
    TaskRow("bracket", (), ("bracket",), ("brake", "scrap")),
    TaskRow("drill_doubler", ("parts",), ("doubler piloted",), ("pencil", "punch")),
    TaskRow("cover_blank", ("parts", "template proved"), ("cover drilled",), ("clamps",)),
    TaskRow("coupon", (), ("coupon",), ("scrap", "glass")),
    TaskRow("protect", _BENCH, ("protected",), ("tape", "plugs")),
    TaskRow("contain", ("protected", "way in"), ("contained",), ("light", "tray")),
    TaskRow("find_damage", ("protected",), ("damage known",), ("glass", "penetrant")),
    TaskRow("mark_out", ("protected", "damage known"), ("marks",), ("pencil", "tape_measure")),
    TaskRow("starter", ("marks",), ("starter",), ("drill_stop", "step_drill"), when="plug"),
    TaskRow("lay_on", ("marks", "starter"), ("template on",), ("drill_stop",), when="plug"),
    TaskRow("lay_on", ("marks",), ("template on",), ("drill_stop",), when="window"),
    TaskRow("pilot", ("template on",), ("piloted",), ("drill_stop",)),
    TaskRow(
        "starter",
        ("marks", "template on", "piloted"),
        ("starter",),
        ("drill_stop", "step_drill"),
        when="window",
    ),
    TaskRow("cut_out", ("starter", "template on", "piloted"), ("opening cut", "way in")),
    TaskRow("file", ("opening cut", "contained"), ("opening filed",), ("file", "glass")),
    TaskRow("measure_opening", ("opening filed",), ("opening measured",), ("caliper", "radius_gauge")),
    TaskRow("fit_cover", ("parts", *_MEASURED), ("cover fits",), ("file", "feeler")),
    TaskRow("fit_plug", ("parts", *_MEASURED), ("cover fits",), ("file", "feeler")),
    TaskRow("mark_skin", _MEASURED, ("skin piloted",), _BY_HAND),
    TaskRow("bring_in", ("parts", "way in", "skin piloted", *_MEASURED), ("doubler in",), ("cord",)),
    TaskRow("locate", ("parts", "doubler in", *_MEASURED), ("doubler located",), ("clamps", "caliper")),
    TaskRow(
        "back_drill",
        ("doubler located", "skin piloted", "piloted", "doubler piloted"),
        ("doubler drilled",),
        ("drill_stop", "block"),
    ),
    TaskRow(
        "drill_cover",
        ("parts", "cover fits", "doubler located", "doubler drilled", *_MEASURED),
        ("cover drilled",),
        (*_BY_HAND, "straightedge"),
    ),
    TaskRow(
        "transfer_cover",
        (
            "parts",
            "cover fits",
            "way in",
            "doubler located",
            "doubler drilled",
            "skin piloted",
            "piloted",
            *_MEASURED,
        ),
        ("cover drilled",),
        ("clamps", "block", "straightedge"),
    ),
    TaskRow(
        "drill_plug",
        ("parts", "cover fits", "doubler located", "doubler drilled", *_MEASURED),
        ("cover drilled",),
        _BY_HAND,
    ),
    TaskRow(
        "drill_base",
        ("doubler located", "doubler drilled", "skin piloted", "piloted", *_MEASURED),
        ("base drilled",),
        ("pencil", "tape_measure", "drill_stop", "block", "deburr"),
    ),
    TaskRow("to_size", _DRILLED, ("to size",), ("drill_stop", "block")),
    TaskRow("apart", ("to size", *_DRILLED), ("apart",)),
    TaskRow("strap", ("parts", "apart"), ("strap drilled",), ("clamps",)),
    TaskRow("ears", ("apart", "strap drilled"), ("ears",), when="ears first"),
    TaskRow("ears", ("apart", "strap drilled", "prepared", "reamed"), ("ears",), when="ears last"),
    TaskRow("prepare", ("apart", "strap drilled", "coupon"), ("prepared",), ("glass",)),
    TaskRow("ream", ("prepared",), ("reamed",)),
    TaskRow("protection", _MADE, ("primed",), ("primer",)),
    TaskRow("nutplates", ("primed", *_MADE), ("nutplates on",), ("squeezer",)),
    TaskRow("rivet", ("primed", "nutplates on", *_MADE), ("riveted",), ("gun", "bar")),
    TaskRow("inspect", ("riveted",), ("inspected",), ("head_gauge", "feeler")),
    TaskRow("hole_edge", ("inspected", "primed", *_MADE, *_MEASURED), ("edge guarded",), ("tape_measure",)),
    TaskRow(
        "cover", ("inspected", "primed", "nutplates on", *_MADE), ("cover on",), ("torque", "straightedge")
    ),
    TaskRow(
        "fit_mount",
        ("inspected", "primed", "bracket", "base drilled", *_MADE, *_MEASURED),
        ("mount on",),
        ("torque",),
    ),
    TaskRow("mount", ("mount on",), ("mount proved",)),
    TaskRow("close", (*_DONE, *_MADE, *_MEASURED), (), ("light", "vacuum")),
)
"""Every kind of task with what it needs and gives and the tools that it always takes, in the order in which a mechanic
would take those that wait for nothing."""


class Task(Struct, frozen=True):
    """One task.

    Args:
        needs, gives: what must stand before, and what stands after.
        stop: of its drilling in place; None where it drills nothing on the aircraft.
        has_way_in: whether one can reach behind the skin when it begins.
    """

    name: TaskName
    needs: frozenset[Thing] = frozenset()
    gives: frozenset[Thing] = frozenset()
    made: tuple[Made, ...] = ()
    fitted: tuple[Fitted, ...] = ()
    tools: tuple[Tool, ...] = ()
    stop: Stop | None = None
    has_way_in: bool = False


def in_order(tasks: Iterable[Task], there: Iterable[Thing] = ()) -> tuple[Task, ...]:
    """Put tasks in an order in which none needs what a later one gives.

    Of those that can be done next the first of the list is. What no task of the list gives is asked of none.

    Args:
        there: what stands before the first task, such as another way in.
    Raises:
        ValueError: some wait for each other.
    """
    waiting, have, done = list(tasks), set(there), list[Task]()
    ever = {thing for task in waiting for thing in task.gives}
    while waiting:
        ready = next((task for task in waiting if not (task.needs & ever) - have), None)
        if ready is None:
            raise ValueError(f"tasks wait for each other: {[task.name for task in waiting]}")
        waiting.remove(ready)
        done.append(replace(ready, has_way_in="way in" in have))
        have |= ready.gives
    return tuple(done)
