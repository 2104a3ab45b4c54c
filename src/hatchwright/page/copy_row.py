"""Copy a straight row beside one side of the opening to its three other sides."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from hatchwright.errors import JobError
from hatchwright.job.as_typed import number_in_list, raw_data, standing_at, typed_length
from hatchwright.job.file import read_job
from hatchwright.job.frame import OPPOSITE
from hatchwright.job.job import Job
from hatchwright.job.list_lines import with_lines
from hatchwright.job.outline import loop_about
from hatchwright.job.rivet_rows import LineRow

_ACROSS_IN = 1e-9
"""Ends that lie no farther apart than this across a row make it run along an axis [in]."""

_CALLED: Mapping[str, tuple[str, ...]] = {
    "FWD": ("forward", "fwd"),
    "AFT": ("aft",),
    "OUTBD": ("outboard", "outbd"),
    "INBD": ("inboard", "inbd"),
    "LEFT": ("left",),
    "RIGHT": ("right",),
    "UP": ("upper", "up"),
    "DOWN": ("lower", "down"),
}
"""How people call the side of an opening that lies in a direction, first the usual word."""


class _Side(Struct, frozen=True):
    """One side of the rectangle around the opening.

    Args:
        turns: quarter turns from X toward Y to the way that it faces, 0 to 3.
        center_in: of the opening, as a complex number [in].
        out_in: from the center to the side [in].
        half_in: half of its length [in].
    """

    turns: int
    center_in: complex
    out_in: float
    half_in: float

    def seen(self, point_in: complex) -> complex:
        """A point as it lies for this side: outward from its line, and along it the way round from X toward Y [in]."""
        return (point_in - self.center_in) / 1j**self.turns - self.out_in

    def laid(self, seen_in: complex) -> complex:
        """The point that a side sees so [in]."""
        return self.center_in + (seen_in + self.out_in) * 1j**self.turns


def with_copied_row(text: str, path: str) -> str:
    """Add the rows of the three other sides to a row along one side.

    The side opposite gets its mirror image; the two beside it get a row as far from their edge, its ends as far from
    the corners. They take everything else from it and run on the same way round; a count beside it holds the same
    spaces as near as whole holes allow.

    Args:
        path: of the row, such as ``rows.0``.
    Returns:
        str: the job's text with three more rows at its end of rows, named by their sides.
    Raises:
        JobError: the job is not sound, it has no such row, the row does not run along a side of the opening, a side is
            too short for its ends, or one of the rows is there already.
    """
    job = read_job(text)
    index = number_in_list(path.removeprefix("rows."))
    if index is None or index >= len(job.rows):
        raise JobError.about(path[:80], "page.fault.no_such_part")
    row = job.rows[index]
    if not isinstance(row, LineRow):
        raise JobError.about(path, "copy_row.no_line", row.name)
    ends = [complex(at[0].inch, at[1].inch) for at in (row.start, row.end)]
    sides = _sides(job)
    own = next((side for side in sides if _runs_along(side, ends)), None)
    if own is None:
        raise JobError.about(path, "copy_row.no_side", row.name)
    held = {name: one for name, one in standing_at(raw_data(text), path).items() if name != "first_number"}
    names, new = {one.name for one in job.rows}, list[dict[str, Any]]()
    for further in (1, 2, 3):
        side = sides[(own.turns + further) % 4]
        start, end = _copied(own, side, ends)
        way = math.copysign(1.0, _along(own, *ends))
        if way * _along(side, start, end) <= _ACROSS_IN:
            raise JobError.about(path, "copy_row.no_room", _CALLED[_ways(job)[side.turns]][0])
        copied: dict[str, Any] = {**held, "name": _name(row.name, _ways(job), own.turns, side.turns)}
        copied |= {"start": _typed(start, job), "end": _typed(end, job)}
        if row.count is not None:
            spaces = (row.count - 1) * abs(end - start) / abs(ends[1] - ends[0])
            copied["count"] = max(round(spaces), 1) + 1
        if copied["name"] in names:
            raise JobError.about(path, "copy_row.there_already", copied["name"])
        new.append(copied)
    return with_lines(text, "rows", new)


def _sides(job: Job) -> tuple[_Side, ...]:
    """The four sides, the first toward X, then on toward Y."""
    x_min, y_min, x_max, y_max = loop_about(job.opening, (0.0, 0.0)).bounds
    center, half = complex(x_min + x_max, y_min + y_max) / 2.0, ((x_max - x_min) / 2.0, (y_max - y_min) / 2.0)
    return tuple(_Side(turns, center, half[turns % 2], half[1 - turns % 2]) for turns in range(4))


def _runs_along(side: _Side, ends: list[complex]) -> bool:
    """Whether a row runs along a side, on the near side of the opening's center and beside the side itself."""
    start, end = map(side.seen, ends)
    low, high = sorted((start.imag, end.imag))
    is_straight = abs(start.real - end.real) <= _ACROSS_IN < high - low
    return is_straight and start.real > -side.out_in and low < side.half_in and high > -side.half_in


def _along(side: _Side, start_in: complex, end_in: complex) -> float:
    """How far a row runs along a side, negative against the way round from X toward Y [in]."""
    return (side.seen(end_in) - side.seen(start_in)).imag


def _copied(own: _Side, side: _Side, ends: list[complex]) -> tuple[complex, complex]:
    """The ends of the row of another side [in]."""
    start, end = map(own.seen, ends)
    if (side.turns - own.turns) % 4 == 2:
        return side.laid(complex(end.real, -end.imag)), side.laid(complex(start.real, -start.imag))
    longer_in = side.half_in - own.half_in
    way = 1.0 if end.imag > start.imag else -1.0
    return side.laid(start - 1j * way * longer_in), side.laid(end + 1j * way * longer_in)


def _ways(job: Job) -> tuple[str, ...]:
    x, y = job.frame_entry.x, job.frame_entry.y
    return x, y, OPPOSITE[x], OPPOSITE[y]


def _name(name: str, ways: tuple[str, ...], own: int, other: int) -> str:
    """The name of the row with the word for its side in place of that for the other, or behind it."""
    word = _CALLED[ways[other]][0]
    for called in _CALLED[ways[own]]:
        new, count = re.subn(rf"\b{called}\b", word, name, count=1, flags=re.IGNORECASE)
        if count:
            return new
    return f"{name}, {word}"


def _typed(point_in: complex, job: Job) -> list[str]:
    return [typed_length(at, job.unit) for at in (point_in.real, point_in.imag)]
