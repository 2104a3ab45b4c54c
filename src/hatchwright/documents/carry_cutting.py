"""Carried steps from the bare skin to the measured opening."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.carry_lines import (
    by_hand,
    carried,
    drilling,
    hand_size,
    off_place,
    stop_told,
    too_large,
)
from hatchwright.documents.carry_runs import stages_told
from hatchwright.documents.step import Carried, Carriers, Check, Work
from hatchwright.drawings.waste_holes import waste_holes
from hatchwright.job.frame import OPPOSITE
from hatchwright.job.patch import DamagePoint
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.named import tool_named
from hatchwright.layout.sizes import diameter_of, is_round, size_of
from hatchwright.making.cutter.cutter_fit import cutter_stop
from hatchwright.making.cutter.starter_stops import pilot_stop, step_drill_stop
from hatchwright.making.guide import first_pins, locating_pair
from hatchwright.making.making import cutting_of
from hatchwright.making.pins.pin_layout import planned_pins
from hatchwright.making.pins.runs import TAB_IN
from hatchwright.recipe.hole_drills import starter_pilot
from hatchwright.recipe.stops import tool_stop
from hatchwright.recipe.task import Task
from hatchwright.said import Listed, Place, Said, inch, said


def _protect(task: Task, work: Work) -> Carried:
    counted = Check("initials", said("carry.protect.counted_in"))
    return carried(said("carry.protect"), checks=(counted,))


def _contain(task: Task, work: Work) -> Carried:
    way = work.layout.job.bay.way_in
    told = said("carry.contain.way_in", way=way) if way else said("carry.contain.how")
    return carried(said("carry.contain"), (told,), checks=(Check("initials", said("carry.contain.looked")),))


def _find_damage(task: Task, work: Work) -> Carried:
    patch = work.layout.job.patch
    assert patch is not None  # the task is of the recipe only then
    told = said(f"carry.find_damage.{patch.damage}"), said("carry.find_damage.grown")
    found = (Check("reading", said("carry.find_damage.end"), _place(one)) for one in patch.extent)
    return carried(said("carry.find_damage"), told, checks=found)


def _place(point: DamagePoint) -> Place:
    x, y = point.at
    return Place(x.inch, y.inch)


def _mark_out(task: Task, work: Work) -> Carried:
    layout = work.layout
    frame, agree = layout.frame, inch(layout.limit("centre_routes_agree").value)
    told = (
        said("carry.mark_out.origin", origin=frame.origin, x=frame.x, y=frame.y),
        said("carry.mark_out.center", center=Place(*layout.center_in)),
    )
    routes = Check("reading", said("carry.mark_out.routes"), agree)
    return carried(said("carry.mark_out"), told, checks=(routes,))


def _lay_on(task: Task, work: Work) -> Carried:
    making = work.guided
    layout, pins, held = making.layout, planned_pins(making), first_pins(making)
    told = [said("carry.lay_on.lines", ways=Listed(tuple(word for word, _ in layout.frame.directions())))]
    told += [said("carry.lay_on.bend")] if template_stretch(layout) is not None else []
    drilled, checks = Carried(""), [Check("hold", said("carry.lay_on.read_out"))]
    if pair := locating_pair(making):
        one, other = map(_marked, pair)
        told += [said("carry.lay_on.marks", first=one, second=other), *too_large(task, making)]
        drilled = drilling(task, layout, "drill_through_template", holds=False)
    elif waste := [pin for pin in held if pin.hole is None and not pin.is_clamp]:
        places = Listed(tuple(Place(*pin.place) for pin in waste), ";")
        told.append(said("carry.lay_on.waste", places=places))
    elif clamps := [pin for pin in held if pin.is_clamp]:
        places = Listed(tuple(Place(*pin.place) for pin in clamps), ";")
        told.append(said("carry.lay_on.clamp", places=places))
    else:
        told.append(said("card.lay_on.not_held" if pins is not None else "carry.lay_on.two_pins"))
    return carried(said("carry.lay_on"), told, drilled, checks=checks)


def _marked(hole: Hole) -> Said:
    """A hole with the place where it is marked; one that is drilled is there to be seen."""
    if hole.is_made:
        return said("carry.lay_on.hole_drilled", number=hole.number)
    return said("carry.lay_on.hole", number=hole.number, at=Place(hole.x_in, hole.y_in))


def _pilots(task: Task, work: Work) -> Carried:
    """What is drilled through the template while it lies on the skin, and what stays in."""
    making, layout = work.guided, work.layout
    stay = tuple(str(pin.hole) for pin in first_pins(making) if pin.hole is not None)
    left = (said("carry.pilot.leave", numbers=Listed(stay, ",")),) if stay else ()
    drilled = drilling(task, layout, "drill_through_template")
    return carried(said("carry.pilot"), too_large(task, making), drilled, left, checks=(off_place(),))


def _starter(task: Task, work: Work) -> Carried:
    layout, making = work.layout, work.making
    cutting = making or cutting_of(layout)
    holes = waste_holes(cutting) if cutting else ()
    least = inch(layout.limit("starter_from_cut_min").value)
    told = [
        said(
            "carry.starter.hole",
            mark=hole.mark,
            size=hand_size(hole.diameter_in, layout),
            at=_marked_at(hole.center, layout),
        )
        for hole in holes
    ]
    if layout.job.cutter is None:
        told.append(said("carry.starter.to_tool", least=least))
    elif not any(hole.mark == "S" for hole in holes):
        told.append(said("carry.starter.not_resolved"))
    elif holes[0].to_line_in < layout.limit("starter_from_cut_min").value - FLOAT_NOISE:
        told.append(said("carry.starter.beside_plug"))
    else:
        told.append(said("carry.starter.in_waste", least=least))
    told.append(said("carry.starter.pilot", pilot=str(starter_pilot())))
    if making is None or making.is_window:
        told.append(said("carry.starter.waste_screw"))
    parts = [stop_told(pilot_stop(layout))]
    if cutting is not None:
        parts.append(stop_told(step_drill_stop(cutting, holes), "step_drill"))
    checks = (check for _, some in parts for check in some)
    told += [one for some, _ in parts for one in some]
    return carried(said("carry.starter"), told, checks=checks, is_done=_is_cut(layout))


def _marked_at(center: tuple[float, float], layout: Layout) -> Place:
    """A place as a hand marks it."""
    x_in, y_in = center
    return Place(by_hand(x_in, layout), by_hand(y_in, layout))


def _is_cut(layout: Layout) -> bool:
    made = layout.job.as_made
    return made is not None and made.opening is not None


def _cut_out(task: Task, work: Work) -> Carried:
    layout, making = work.layout, work.making
    job, bounds = layout.job, (layout.rough_cut or layout.wanted).bounds
    size = diameter_of(bounds) if is_round(layout.wanted.bounds, layout.wanted_corner) else size_of(bounds)
    pins = planned_pins(making) if making else None
    stages = stages_told(making, pins) if making and pins else ()
    if job.cutter:
        told = [said("carry.cut_out.rough", size=size)]
    elif job.hand_tool:
        of = "round_hole" if job.hand_tool.what.round_holes else "by_hand"
        told = [said(f"carry.cut_out.{of}", size=size, tool=tool_named(job.hand_tool))]
    else:
        told = [said("carry.cut_out.by_tool", size=size)]
    told += [said("card.cut_out.not_held")] if pins is not None and pins.plan is None else []
    told += stages
    told += [said("carry.stage.tabs", left=inch(TAB_IN))]
    reach, _ = stop_told(cutter_stop(layout), "cutter") if job.tool else stop_told(tool_stop(layout), "tool")
    told += reach
    by_plug = making is not None and not making.is_window
    told.append(said("carry.cut_out.hold_by_plug" if by_plug else "carry.cut_out.hold"))
    done = [Check("tick", said("carry.cut_out.stage", number=number)) for number, _ in enumerate(stages, 1)]
    kept = Check("tick", said("carry.cut_out.kept"))
    return carried(said("carry.cut_out"), told, checks=(*done, kept), is_done=_is_cut(layout))


def _file(task: Task, work: Work) -> Carried:
    layout = work.layout
    least, most = (inch(layout.limit(f"edge_break_{end}").value) for end in ("min", "max"))
    to = size_of(layout.wanted.bounds, layout.wanted_corner)
    told, checks = [said("carry.file.edges", least=least, most=most)], []
    if layout.job.patch is not None:
        told.append(said("card.file.no_damage_left"))
        checks.append(Check("initials", said("card.file.penetrant")))
    return carried(said("carry.file", size=to), told, checks=checks, is_done=_is_cut(layout))


def _measure_opening(task: Task, work: Work) -> Carried:
    layout, is_cut, made = work.layout, _is_cut(work.layout), work.layout.job.as_made
    wanted, found, corner = layout.wanted.bounds, layout.opening.bounds, layout.wanted_corner
    across_in = min(wanted[2] - wanted[0], wanted[3] - wanted[1])
    if is_round(wanted, corner):
        as_found = inch(by_hand(found[2] - found[0], layout)) if is_cut else ""
        checks = [Check("reading", said("carry.opening.round"), inch(by_hand(across_in, layout)), as_found)]
    else:
        checks = list(_edges(layout, is_cut=is_cut))
        if corner:
            is_end = 2.0 * corner.radius_in + FLOAT_NOISE >= across_in
            of = "carry.opening.end" if is_end else "carry.opening.corner"
            checks.append(Check("reading", said(of), inch(by_hand(corner.radius_in, layout))))
    told = (said("carry.opening.entered", u=inch(made.edge_u_in(made.opening))),) if made and is_cut else ()
    return carried(said("carry.opening"), told, checks=checks, is_done=is_cut)


def _edges(layout: Layout, *, is_cut: bool) -> Iterator[Check]:
    """The four edges by the ways in which they lie, along X and then along Y."""
    frame, wanted, found = layout.frame, layout.wanted.bounds, layout.opening.bounds
    for way, edge in ((OPPOSITE[frame.x], 0), (frame.x, 2), (OPPOSITE[frame.y], 1), (frame.y, 3)):
        made = inch(by_hand(found[edge], layout)) if is_cut else ""
        yield Check("reading", said("carry.opening.edge", way=way), inch(by_hand(wanted[edge], layout)), made)


CARRIED_CUTTING: Carriers = {
    "protect": _protect,
    "contain": _contain,
    "find_damage": _find_damage,
    "mark_out": _mark_out,
    "lay_on": _lay_on,
    "pilot": _pilots,
    "starter": _starter,
    "cut_out": _cut_out,
    "file": _file,
    "measure_opening": _measure_opening,
}
