"""Room for a toolpath on the machine: in the blank, in the travel, clear of clamps, no deeper than the spoil board.

It is judged on the traced file, so on what the machine will really do.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from hatchwright.errors import Fault
from hatchwright.job.machine import CLEAR_IN, Clamp, Machine
from hatchwright.making.answer import place_words, size_words
from hatchwright.making.template.blank import Blank
from hatchwright.making.toolpath.retrace import DrilledHole, Place, Stroke, Trace
from hatchwright.units import Unit, length_words

_NOISE_IN = 1e-5
_FINEST_RAD = 0.02

Line = tuple[Place, Place]


def room_faults(trace: Trace, *, tool_in: float, blank: Blank, machine: Machine) -> tuple[Fault, ...]:
    """Find where a traced toolpath has no room.

    Args:
        tool_in: diameter of its tool [in].
        blank: on the table.
    Returns:
        tuple[Fault, ...]: the worst of each kind; empty when there is room.
    """
    lines = [line for action in trace.actions for line in _lines_of(action)]
    name = f"tool {trace.tool}"
    return (
        *_out_of_blank(lines, name, tool_in / 2.0, blank, machine.units),
        *_out_of_travel(lines, name, machine),
        *_too_deep(lines, name, blank, machine),
        *(
            fault
            for clamp in machine.clamps
            for fault in _into(clamp, lines, name, tool_in / 2.0, machine.units)
        ),
    )


def _lines_of(action: Stroke | DrilledHole) -> Iterator[Line]:
    """The way of the tool's tip in straight lines; those of an arc lie outside it, never inside."""
    if isinstance(action, DrilledHole):
        yield (*action.at, action.top_in), (*action.at, action.bottom_in)
        return
    count = math.ceil(abs(action.sweep_rad) / _FINEST_RAD) if action.center else 1
    places = [action.at(k / count) for k in range(count + 1)]
    yield from pairwise(places)


def _out_of_blank(
    lines: list[Line], name: str, radius_in: float, blank: Blank, unit: Unit
) -> Iterator[Fault]:
    cut = [place for line in lines for place in line if min(line[0][2], line[1][2]) < 0.0]
    if not cut:
        return
    over = max(
        max(radius_in - low, high + radius_in - size)
        for place in cut
        for low, high, size in zip(place[:2], place[:2], blank.size_in, strict=True)
    )
    if over > _NOISE_IN:
        yield Fault(
            "template.blank",
            f"the path of {name} leaves the blank by {length_words(over, unit)}",
            size_words(blank.size_in, unit),
            "Take a larger blank or a narrower border; the tool needs its own diameter round the template.",
        )


def _out_of_travel(lines: list[Line], name: str, machine: Machine) -> Iterator[Fault]:
    unit, places = machine.units, [place for line in lines for place in line]
    for axis, letter in enumerate("XY"):
        at = machine.blank_at[axis].inch
        low, high = (pick(place[axis] for place in places) + at for pick in (min, max))
        over = max(-low, high - machine.travel[axis].inch)
        if over > _NOISE_IN:
            yield Fault(
                f"travel.{axis}",
                f"the path of {name} leaves the travel along {letter} by {length_words(over, unit)}",
                machine.travel[axis].text,
                "Move blank_at, or cut this template on a larger machine.",
            )
    rise = max(place[2] for place in places) - min(place[2] for place in places)
    if rise > machine.travel[2].inch + _NOISE_IN:
        yield Fault(
            "travel.2",
            f"{name} goes up and down by {length_words(rise, unit)}, more than the travel along Z",
            machine.travel[2].text,
            "Lower safe_height.",
        )


def _too_deep(lines: list[Line], name: str, blank: Blank, machine: Machine) -> Iterator[Fault]:
    unit = machine.units
    lowest = min(place[2] for line in lines for place in line)
    over = -lowest - blank.thickness_in - machine.spoil_board.inch
    if over > -_NOISE_IN:
        yield Fault(
            "spoil_board",
            f"{name} goes {length_words(-lowest, unit)} deep, through the blank and the spoil board",
            machine.spoil_board.text,
            "Give less cut_below, or a thicker spoil board.",
        )


def _into(clamp: Clamp, lines: list[Line], name: str, radius_in: float, unit: Unit) -> Iterator[Fault]:
    """Whether the tool comes too near to a clamp, beside it or over it."""
    reach = radius_in + CLEAR_IN
    box = (
        (clamp.x_from.inch - reach, clamp.x_to.inch + reach),
        (clamp.y_from.inch - reach, clamp.y_to.inch + reach),
    )
    for start, end in lines:
        if min(start[2], end[2]) < clamp.height.inch + CLEAR_IN - _NOISE_IN and _crosses(start, end, box):
            yield Fault(
                f"clamps ({clamp.name})" if clamp.name else "clamps",
                f"{name} runs into it near {place_words(start[:2], unit)} from the blank's corner",
                remedy=f"Move the clamp: {length_words(CLEAR_IN, unit)} round the tool must be free of it.",
            )
            return


def _crosses(start: Place, end: Place, box: tuple[tuple[float, float], tuple[float, float]]) -> bool:
    """Whether a straight way comes into a rectangle, seen from above."""
    enter, leave = 0.0, 1.0
    for a, b, (low, high) in zip(start[:2], end[:2], box, strict=True):
        if a == b:
            if not low < a < high:
                return False
            continue
        near, far = sorted(((low - a) / (b - a), (high - a) / (b - a)))
        enter, leave = max(enter, near), min(leave, far)
    return enter < leave
