"""Steps of the work card that get the template onto the skin: located, pinned and drilled through."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

from hatchwright.documents.step import PRACTICE, Line, Step, led_holes, line
from hatchwright.drawings.bay_structure import region_said
from hatchwright.drawings.template_holes_view import spans_said
from hatchwright.drawings.waste_holes import waste_holes
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Hole, Layout
from hatchwright.making.cutter.starter import BACKING_PILOT_IN, DrilledHole, drill_stop_in, shallowest
from hatchwright.making.making import Making, cutting_of
from hatchwright.making.pins.findings import what_would_hold
from hatchwright.making.pins.notes import named
from hatchwright.making.pins.pin_layout import Pin, PinLayout, planned_pins
from hatchwright.making.template.guide_template import corner_drills
from hatchwright.making.template.holes import TemplateHole
from hatchwright.said import Listed, Place, Said, Value, inch, said
from hatchwright.shapes.corners import Corner


def laying_steps(layout: Layout, making: Making | None) -> Iterator[Step]:
    """What is drilled and pinned before the cut; a plug covers the holes in the waste, so that they come before it."""
    if making is None or not making.is_window:
        yield _corners_and_starter(layout, making)
    if making is not None:
        yield _lay_on(making)
        if led := led_holes(making):
            yield _pilots(led, planned_pins(making))
    if making is not None and making.is_window:
        yield _corners_and_starter(layout, making)


def _lay_on(making: Making) -> Step:
    layout, pins = making.layout, planned_pins(making)
    ways = Listed(tuple(word for word, _ in layout.frame.directions()))
    lines = [line(said("card.lay_on.face", side=said(f"side.{layout.job.aircraft.side}"), ways=ways))]
    if template_stretch(layout) is not None:
        lines += [line(said("card.lay_on.bend")), line(said("card.lay_on.reach_down"))]
    blanks: list[Value] = [said("card.lay_on.read_out")]
    first = pins.plan.stages[0] if pins and pins.plan else None
    held = [pins.pins[index] for index in first.pins] if pins and first else []
    if pair := _far_apart(led_holes(making), held):
        one, other = (
            said("card.hole_at", number=hole.number, at=Place(hole.x_in, hole.y_in)) for hole in pair
        )
        lines += [
            line(said("card.lay_on.mark_two", first=one, second=other)),
            line(said("card.lay_on.marks_show"), said("card.lay_on.drill_two")),
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


def _far_apart(holes: tuple[TemplateHole, ...], held: list[Pin]) -> tuple[Hole, ...]:
    """The two pilot holes farthest apart, of those that hold in the first stage where there are two."""
    numbers = {pin.hole for pin in held}
    of_plan = [one.hole for one in holes if one.hole.number in numbers]
    found = of_plan if len(of_plan) > 1 else [one.hole for one in holes]
    return max(
        combinations(found, 2),
        key=lambda pair: math.dist((pair[0].x_in, pair[0].y_in), (pair[1].x_in, pair[1].y_in)),
        default=(),
    )


def _pilots(led: tuple[TemplateHole, ...], pins: PinLayout | None) -> Step:
    """What is drilled through the template while it lies on the skin, hole by hole of the template's own sizes."""
    sizes: dict[float, list[int]] = {}
    for one in led:
        sizes.setdefault(one.pilot_in, []).append(one.hole.number)
    first = [pins.pins[index] for index in pins.plan.stages[0].pins] if pins and pins.plan else []
    lines = [
        line(said("card.pilot.of_size", size=inch(size_in, fine=True), numbers=spans_said(numbers)))
        for size_in, numbers in sorted(sizes.items())
    ]
    lines.append(line(said("card.pilot.as_you_go")))
    if first:
        lines.append(line(said("card.pilot.leave", pins=named(first))))
    if any("doubler" in one.hole.stack for one in led):
        lines.append(line(said("card.pilot.doubler_later")))
    return Step(said("card.pilot.title"), tuple(lines), (said("card.pilot.off_place"),))


def _corners_and_starter(layout: Layout, making: Making | None) -> Step:
    cutting = making or cutting_of(layout)
    holes = waste_holes(cutting) if cutting else ()
    has_corners = any(hole.mark != "S" for hole in holes)
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
    nearest = shallowest(layout)
    behind = (said("card.starter.behind", region=region_said(nearest)),) if nearest else ()
    stop = said("card.starter.drill_stop", stop=inch(drill_stop_in(layout)))
    backing = said("card.starter.backing", pilot=inch(BACKING_PILOT_IN))
    lines.append(line(stop, *behind, backing, rests_on=(PRACTICE,)))
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
