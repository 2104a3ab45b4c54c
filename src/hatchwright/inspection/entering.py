"""Readings put into the text of a job as what was made: comments, order and all other readings stay."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from hatchwright.errors import Fault, JobError
from hatchwright.inspection.held_lines import (
    DIAMETER,
    HOLE_U,
    HOLES,
    SetU,
    held_lines,
    value_at,
    with_common_u,
    with_numbered,
    with_strays,
    without_end,
    without_numbered,
)
from hatchwright.inspection.other_readings import placed
from hatchwright.inspection.readings import Reading
from hatchwright.inspection.sorting import Sorted
from hatchwright.job.bounds import first_of

_SIZES = "as_made.sizes"


def entered(text: str, readings: Sorted, *, u: SetU) -> str:
    """The text with the readings of a set.

    A hole that was measured before gets its new reading in the same line; a diameter that was not measured again stays
    with its own uncertainty. A hole of no row that lies where one did takes its line. The set goes in as it was read:
    what is doubtful in it is for the caller to refuse.

    Raises:
        JobError: a hole of no row has no diameter, or the text can't take the lines; nothing is to be written then.
    """
    if faults := first_of(_without_diameter(readings.strays)):
        raise JobError(faults)
    text, u = with_common_u(text, u)
    text = _with_holes(text, readings.holes, u)
    return with_strays(text, [_line(one, one.diameter, u) for one in readings.strays], u)


def _with_holes(text: str, readings: Mapping[int, Reading], u: SetU) -> str:
    """The text with a line for each hole; a diameter that is not as uncertain as the place stands by itself."""
    held = held_lines(text, HOLES)
    lines: dict[int, list[Any]] = {}
    sizes: dict[int, list[Any]] = {}
    for number, one in readings.items():
        before = held.get(number, [])
        diameter, size_u = one.diameter, u.of_size(one.own_u)
        if not diameter:
            diameter, size_u = value_at(before, DIAMETER), value_at(before, HOLE_U)
        is_apart = bool(diameter) and u.inch(size_u) != u.inch(u.of_place(one.own_u))
        lines[number] = [number, *_line(one, "" if is_apart else diameter, u)]
        if is_apart:
            sizes[number] = without_end([number, diameter, size_u])
    text = with_numbered(text, HOLES, lines)
    text = without_numbered(
        text, _SIZES, [number for number, line in lines.items() if value_at(line, DIAMETER)]
    )
    return with_numbered(text, _SIZES, sizes)


def _without_diameter(strays: Sequence[Reading]) -> Iterator[Fault]:
    for one in strays:
        if not one.diameter:
            yield Fault.saying("", "measure.no_diameter", line=one.row)


def _line(reading: Reading, diameter: str, u: SetU) -> list[Any]:
    """Place, diameter and own uncertainty as a job takes them; an empty text holds a place before another value."""
    places = reading.typed or tuple(placed(one, u.unit) for one in reading.place)
    return without_end([*places, diameter, u.of_place(reading.own_u)])
