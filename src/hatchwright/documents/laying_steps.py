"""Steps at length that get template, pilot holes and starter into the skin."""

from __future__ import annotations

from hatchwright.documents.made_lines import drilling_lines, too_large_lines
from hatchwright.documents.step import PRACTICE, Line, Step, Tellers, Work, line
from hatchwright.documents.stop_lines import stop_lines
from hatchwright.drawings.waste_holes import waste_holes
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Layout
from hatchwright.making.cutter.starter import DrilledHole
from hatchwright.making.cutter.starter_stops import pilot_stop, step_drill_stop
from hatchwright.making.guide import first_pins, locating_pair
from hatchwright.making.making import Making, cutting_of
from hatchwright.making.pins.findings import what_would_hold
from hatchwright.making.pins.notes import named
from hatchwright.making.pins.pin_layout import Pin, planned_pins
from hatchwright.making.template.guide_template import corner_drills
from hatchwright.recipe.hole_drills import starter_pilot
from hatchwright.recipe.task import Task
from hatchwright.said import Listed, Place, Said, Value, inch, said
from hatchwright.shapes.corners import Corner


def _lay_on(task: Task, work: Work) -> Step:
    making = work.guided
    layout, pins = making.layout, planned_pins(making)
    ways = Listed(tuple(word for word, _ in layout.frame.directions()))
    lines = [line(said("card.lay_on.face", side=said(f"side.{layout.job.aircraft.side}"), ways=ways))]
    if template_stretch(layout) is not None:
        lines += [line(said("card.lay_on.bend")), line(said("card.lay_on.reach_down"))]
    blanks: list[Value] = [said("card.lay_on.read_out")]
    held = first_pins(making)
    if pair := locating_pair(making):
        one, other = (
            said("card.hole_at", number=hole.number, at=Place(hole.x_in, hole.y_in)) for hole in pair
        )
        lines += [
            line(said("card.lay_on.mark_two", first=one, second=other)),
            line(said("card.lay_on.marks_show"), said("card.lay_on.drill_two")),
            *too_large_lines(task, making),
            *drilling_lines(task, layout, "drill_through_template"),
        ]
        blanks.append(said("card.lay_on.marks", first=pair[0].number, second=pair[1].number))
    elif waste := [pin for pin in held if pin.hole is None and not pin.is_clamp]:
        places = Listed(tuple(_from_center_lines(layout, pin) for pin in waste), ";")
        lines += [line(said("card.lay_on.mark_waste", places=places)), line(said("card.lay_on.drill_waste"))]
    elif clamps := [pin for pin in held if pin.is_clamp]:
        places = Listed(tuple(Place(*pin.place) for pin in clamps), ";")
        lines.append(line(said("card.lay_on.clamp", places=places)))
    elif pins is not None:
        lines.append(line(said("card.lay_on.not_held"), *what_would_hold(making, pins)))
    else:
        lines.append(line(said("card.lay_on.two_pins"), rests_on=(PRACTICE,)))
    return Step(said("card.lay_on.title"), tuple(lines), tuple(blanks))


def _from_center_lines(layout: Layout, pin: Pin) -> Said:
    """A pin in the waste from both datums, and from the center lines that the plug bears."""
    x, y = (inch(abs(at - middle)) for at, middle in zip(pin.place, layout.center_in, strict=True))
    return said("card.lay_on.from_center_lines", at=Place(*pin.place), x=x, y=y)


def _pilots(task: Task, work: Work) -> Step:
    """What is drilled through the template while it lies on the skin."""
    first = first_pins(work.guided)
    lines = [
        *too_large_lines(task, work.guided),
        *drilling_lines(task, work.layout, "drill_through_template"),
    ]
    lines.append(line(said("card.pilot.as_you_go")))
    if first:
        lines.append(line(said("card.pilot.leave", pins=named(first))))
    if any("doubler" in one.kind.holes[0].stack for one in task.made):
        lines.append(line(said("card.pilot.doubler_later")))
    return Step(said("card.pilot.title"), tuple(lines), (said("card.pilot.off_place"),))


def _starter(task: Task, work: Work) -> Step:
    layout, making = work.layout, work.making
    cutting = making or cutting_of(layout)
    holes = waste_holes(cutting) if cutting else ()
    has_corners = any(hole.mark.startswith("D") for hole in holes)
    lines = []
    for hole in holes:
        size, at = inch(hole.diameter_in, fine=True), Place(*hole.center)
        lines.append(line(said("card.starter.hole", mark=hole.mark, size=size, at=at)))
    if has_corners:
        lines.append(line(said("card.starter.corner_holes")))
    elif layout.rough_cut is not None and (corners := corner_drills(layout.rough_cut)):
        lines.append(_no_corner_holes(making, corners))
    if any(hole.mark == "S" for hole in holes):
        lines.append(_starter_line(layout, holes[0]))
    elif layout.job.cutter is not None:
        lines.append(line(said("card.starter.not_resolved")))
    if holes and making is not None and not making.is_window:
        lines.append(line(said("card.starter.before_plug")))
    if cutting is None:
        least = layout.limit("starter_from_cut_min")
        of = "by_hand" if layout.job.hand_tool else "by_tool"
        lines.append(line(said(f"card.starter.{of}", least=inch(least.value)), rests_on=(least,)))
    lines += stop_lines(pilot_stop(layout))
    if cutting is not None:
        lines += stop_lines(step_drill_stop(cutting, holes), "step_drill")
    id = "card.starter.backing" if task.has_way_in else "card.starter.no_backing"
    lines.append(line(said(id, pilot=inch(starter_pilot().diameter_in)), rests_on=(PRACTICE,)))
    if making is None or making.is_window:
        lines.append(line(said("card.starter.for_waste_screw"), rests_on=(PRACTICE,)))
    title = said("card.starter.title_with_corners") if has_corners else said("card.starter.title")
    return Step(title, tuple(lines), (said("card.starter.stop_set"),))


def _starter_line(layout: Layout, starter: DrilledHole) -> Line:
    least = layout.limit("starter_from_cut_min")
    is_beside_plug = starter.to_line_in < least.value - 1e-9
    id = "card.starter.beside_plug" if is_beside_plug else "card.starter.in_waste"
    return line(said(id, least=inch(least.value)), rests_on=(least,))


def _no_corner_holes(making: Making | None, corners: tuple[Corner, ...]) -> Line:
    """Why the corners are not drilled, and where their arcs lie all the same, to be measured."""
    arcs = (
        said("card.starter.arc", size=inch(2.0 * arc.radius_in, fine=True), at=Place(*arc.center))
        for arc in corners
    )
    id = "card.starter.no_corners"
    if making is not None:
        made, wanted = making.chain.predicted_corner, making.chain.wanted_corner
        if made is None or wanted is None or made.radius_in > wanted.radius_in + 1e-6:
            id = "card.starter.no_corners_under_plug"
    return line(said(id, arcs=Listed(tuple(arcs), ";")))


LAYING: Tellers = {"lay_on": _lay_on, "pilot": _pilots, "starter": _starter}
