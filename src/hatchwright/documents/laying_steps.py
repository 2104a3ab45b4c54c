"""Steps of the work card that get the template onto the skin: located, pinned and drilled through."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

from hatchwright.documents.step import Step, led_holes, limit_words
from hatchwright.drawings.bay_structure import region_words
from hatchwright.drawings.figures import figure, unit_of
from hatchwright.drawings.flexed_template import flexed_notes
from hatchwright.drawings.template_holes_view import spans
from hatchwright.drawings.waste_holes import waste_holes
from hatchwright.layout.layout import Hole, Layout
from hatchwright.making.cutter.starter import BACKING, DrilledHole, drill_stop_in, shallowest
from hatchwright.making.making import Making, cutting_of
from hatchwright.making.pins.findings import what_would_hold
from hatchwright.making.pins.notes import named
from hatchwright.making.pins.pin_layout import Pin, PinLayout, planned_pins
from hatchwright.making.template.guide_template import CornerDrill, corner_drills
from hatchwright.making.template.holes import TemplateHole
from hatchwright.units import length_words
from hatchwright.words.tell import tell, tell_all


def laying_steps(layout: Layout, making: Making | None) -> Iterator[Step]:
    """What is drilled and pinned before the cut; a plug covers the holes in the waste, so that they come before it.

    Yields:
        Step: in the order of the work.
    """
    if making is None or not making.is_window:
        yield _corners_and_starter(layout, making)
    if making is not None:
        yield _lay_on(making)
        if led := led_holes(making):
            yield _pilots(layout, led, planned_pins(making))
    if making is not None and making.is_window:
        yield _corners_and_starter(layout, making)


def _lay_on(making: Making) -> Step:
    side, pins = making.layout.job.aircraft.side.upper(), planned_pins(making)
    ways = " and ".join(word for word, _ in making.layout.frame.directions())
    lines = [
        f"The {side} template, THIS SIDE OUT, arrows {ways}, its centre lines on the pencil lines.",
        *flexed_notes(making.layout)[1:],
    ]
    blanks = ["read by a second person: side, face, arrows"]
    first = pins.plan.stages[0] if pins and pins.plan else None
    held = [pins.pins[index] for index in first.pins] if pins and first else []
    if pair := _far_apart(led_holes(making), held):
        lines.append(
            f"Locate it by two of its pilot holes: mark "
            f"{' and '.join(_hole_at(making.layout, hole) for hole in pair)} on the "
            "skin from both datums. The marks must show in the middle of both holes of the template; drill these two "
            "through it, a temporary fastener in each, and look at the centre lines again."
        )
        blanks.append(
            f"marks of {' and '.join(str(hole.number) for hole in pair)} in the middle of their holes"
        )
    elif waste := [pin for pin in held if pin.hole is None and not pin.is_clamp]:
        places = "; ".join(_from_center_lines(making.layout, pin) for pin in waste)
        lines.append(
            f"Mark the pins in the waste on the plug: {places}. Drill plug and skin together at pilot size: two "
            "of them far apart first, a temporary fastener in each, then look at the centre lines again and drill the "
            "others."
        )
    elif clamps := [pin for pin in held if pin.is_clamp]:
        places = "; ".join(_at(making.layout, pin.place) for pin in clamps)
        lines.append(
            f"No hole of the job lies on it, so the centre lines alone locate it. Clamp it down at {places}, and look "
            "at the centre lines again."
        )
    elif pins is not None:
        ways = tell_all(what_would_hold(making, pins), making.unit)
        lines.append(f"STOP: nothing that is entered holds it (T501). {ways}")
    else:
        lines.append(
            "Two pins or more, far apart, in the waste or at final holes at pilot size, and hold-downs. "
            "[common practice, no source]"
        )
    return Step("Lay on the template and locate it", tuple(lines), tuple(blanks))


def _from_center_lines(layout: Layout, pin: Pin) -> str:
    """A pin in the waste from both datums, and from the center lines that the plug bears."""
    unit = unit_of(layout.job)
    off = [
        length_words(abs(at - middle), unit) for at, middle in zip(pin.place, layout.center_in, strict=True)
    ]
    return f"{_at(layout, pin.place)} ({off[0]} along X and {off[1]} along Y from its centre lines)"


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


def _pilots(layout: Layout, led: tuple[TemplateHole, ...], pins: PinLayout | None) -> Step:
    """What is drilled through the template while it lies on the skin, hole by hole of the template's own sizes."""
    unit = unit_of(layout.job)
    sizes: dict[float, list[int]] = {}
    for one in led:
        sizes.setdefault(one.pilot_in, []).append(one.hole.number)
    later = (
        ("The doubler is not there yet: it is drilled later, through these holes of the skin.",)
        if any("doubler" in one.through for one in led)
        else ()
    )
    first = [pins.pins[index] for index in pins.plan.stages[0].pins] if pins and pins.plan else []
    stay = (
        (f"When all are drilled, leave pins only for the first stage: {tell(named(first), unit)}.",)
        if first
        else ()
    )
    return Step(
        "Drill the pilot holes through the template",
        (
            *(
                f"Through template and skin, {length_words(size_in, unit, fine=True)}: no. {spans(numbers)}."
                for size_in, numbers in sorted(sizes.items())
            ),
            "Temporary fasteners in as you go, from the two that locate it outward; the drill square to the skin.",
            *stay,
            *later,
        ),
        ("holes drilled off their place, numbers",),
    )


def _hole_at(layout: Layout, hole: Hole) -> str:
    return f"hole {hole.number} at {_at(layout, (hole.x_in, hole.y_in))}"


def _at(layout: Layout, place: tuple[float, float]) -> str:
    unit = unit_of(layout.job)
    return f"X {figure(place[0], unit)}, Y {figure(place[1], unit)} {unit}"


def _in_waste(layout: Layout, making: Making | None) -> tuple[DrilledHole, ...]:
    cutting = making or cutting_of(layout)
    return waste_holes(cutting) if cutting else ()


def _corners_and_starter(layout: Layout, making: Making | None) -> Step:
    unit, holes = unit_of(layout.job), _in_waste(layout, making)
    lines = [
        f"{hole.mark}: {length_words(hole.diameter_in, unit, fine=True)} at {_at(layout, hole.center)}."
        for hole in holes
    ]
    if any(hole.mark != "S" for hole in holes):
        lines.append(
            "D: corner holes, twice the radius of the rough cut, at the centres of its arcs, which the cutter cannot "
            "make."
        )
    elif layout.rough_cut is not None and (corners := corner_drills(layout.rough_cut)):
        lines.append(_no_corner_holes(layout, making, corners))
    if any(hole.mark == "S" for hole in holes):
        lines.append(_starter_words(layout, holes[0]))
    elif layout.job.cutter is not None:
        lines.append("S: STOP, the place of the starter hole is not settled (T601). Drill none.")
    if holes and making is not None and not making.is_window:
        lines.append("All of them before the plug is laid on.")
    nearest = shallowest(layout)
    behind = f"; {region_words(nearest, unit)} {unit}" if nearest else ""
    lines.append(
        f"Drill stop {length_words(drill_stop_in(layout), unit)} from the outer face of the skin{behind}. "
        f"{BACKING.capitalize()}. [common practice, no source]"
    )
    title = "Drill starter and corners" if any(hole.mark != "S" for hole in holes) else "Drill the starter"
    return Step(title, tuple(lines), ("drill stop set",))


def _starter_words(layout: Layout, starter: DrilledHole) -> str:
    least, unit = layout.limit("starter_from_cut_min"), unit_of(layout.job)
    if starter.to_line_in < least.value - 1e-9:
        return (
            "S: starter, on the path of the cutter beside the plug, no wider than its cut: it touches the rough line "
            f"(T601). {limit_words(least, unit)} inside it is not to be had here."
        )
    return f"S: starter, in the waste; its edge stays inside the rough cut by {limit_words(least, unit)}."


def _no_corner_holes(layout: Layout, making: Making | None, corners: tuple[CornerDrill, ...]) -> str:
    """Why the corners are not drilled, and where their arcs lie all the same, to be measured."""
    unit = unit_of(layout.job)
    arcs = "; ".join(
        f"{length_words(arc.diameter_in, unit, fine=True)} across about {_at(layout, arc.center)}"
        for arc in corners
    )
    if making is not None and not _cutter_makes_corners(making):
        return (
            "No corner holes: they would lie under the plug, or in one another. The cutter does not make these corners "
            f"on this template (T102): {arcs}."
        )
    return f"No corner holes: the cutter makes these corners by itself. Arcs of the rough cut: {arcs}."


def _cutter_makes_corners(making: Making) -> bool:
    made, wanted = making.chain.predicted_corner, making.chain.wanted_corner
    return made is not None and wanted is not None and made.radius_in <= wanted.radius_in + 1e-6
