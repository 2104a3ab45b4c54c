"""Room for a toolpath on the machine: in the blank, in the travel, clear of clamps, no deeper than the spoil board.

It is judged on the traced file, so on what the machine will really do.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import chain, pairwise

from hatchwright.errors import Fault
from hatchwright.job.machine import CLEAR_IN, Clamp, Machine
from hatchwright.layout.named import size
from hatchwright.making.template.blank import Blank
from hatchwright.making.toolpath.retrace import DrilledHole, Place, Stroke, Trace
from hatchwright.said import Place as At
from hatchwright.said import inch, missing
from hatchwright.units import Unit

_NOISE_IN = 1e-5
_FINEST_RAD = 0.02

Line = tuple[Place, Place]


def room_faults(trace: Trace, *, tool_in: float, blank: Blank, machine: Machine) -> tuple[Fault, ...]:
    """Find where a traced toolpath has no room: the worst of each kind, none when there is room."""
    lines = [line for action in trace.actions for line in _lines_of(action)]
    tool, radius_in, unit = trace.tool, tool_in / 2.0, machine.units
    clamped = (_into(clamp, lines, tool, radius_in, unit) for clamp in machine.clamps)
    return (
        *_out_of_blank(lines, tool, radius_in, blank, unit),
        *_out_of_travel(lines, tool, machine),
        *_too_deep(lines, tool, blank, machine),
        *chain.from_iterable(clamped),
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
    lines: list[Line], tool: int, radius_in: float, blank: Blank, unit: Unit
) -> Iterator[Fault]:
    cut = (place for line in lines for place in line if min(line[0][2], line[1][2]) < 0.0)
    sizes = ((at, across) for place in cut for at, across in zip(place[:2], blank.size_in, strict=True))
    over = max((max(radius_in - at, at + radius_in - across) for at, across in sizes), default=0.0)
    if over > _NOISE_IN:
        given, by = size(blank.size_in), missing(over)
        yield Fault.saying("template.blank", "machine.off_blank", given, unit=unit, tool=tool, by=by)


def _out_of_travel(lines: list[Line], tool: int, machine: Machine) -> Iterator[Fault]:
    unit, places = machine.units, [place for line in lines for place in line]
    for axis, letter in enumerate("XY"):
        at = machine.blank_at[axis].inch
        low, high = (pick(place[axis] for place in places) + at for pick in (min, max))
        travel = machine.travel[axis]
        over = max(-low, high - travel.inch)
        if over > _NOISE_IN:
            field, by, given = f"travel.{axis}", missing(over), travel.text
            yield Fault.saying(field, "machine.off_travel", given, unit=unit, tool=tool, axis=letter, by=by)
    rise, up = max(place[2] for place in places) - min(place[2] for place in places), machine.travel[2]
    if rise > up.inch + _NOISE_IN:
        by = missing(rise)
        yield Fault.saying("travel.2", "machine.off_travel_z", up.text, unit=unit, tool=tool, rise=by)


def _too_deep(lines: list[Line], tool: int, blank: Blank, machine: Machine) -> Iterator[Fault]:
    lowest = min(place[2] for line in lines for place in line)
    board, unit = machine.spoil_board, machine.units
    if -lowest - blank.thickness_in - board.inch > -_NOISE_IN:
        depth = inch(-lowest)
        yield Fault.saying("spoil_board", "machine.too_deep", board.text, unit=unit, tool=tool, depth=depth)


def _into(clamp: Clamp, lines: list[Line], tool: int, radius_in: float, unit: Unit) -> Iterator[Fault]:
    """Whether the tool comes too near to a clamp, beside it or over it."""
    reach, along_x, along_y = radius_in + CLEAR_IN, (clamp.x_from, clamp.x_to), (clamp.y_from, clamp.y_to)
    box = [(low.inch - reach, high.inch + reach) for low, high in (along_x, along_y)]
    for start, end in lines:
        if min(start[2], end[2]) < clamp.height.inch + CLEAR_IN - _NOISE_IN and _crosses(start, end, box):
            field = f"clamps ({clamp.name})" if clamp.name else "clamps"
            place, clear = At(*start[:2]), inch(CLEAR_IN)
            yield Fault.saying(field, "machine.clamp", unit=unit, tool=tool, place=place, clear=clear)
            return


def _crosses(start: Place, end: Place, box: list[tuple[float, float]]) -> bool:
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
