"""What every way out enters: another rivet in a hole, another size of it, an edge moved out on one side."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from msgspec import Struct

from hatchwright.job.as_made import AsMade
from hatchwright.job.as_typed import typed_length
from hatchwright.job.job import Job
from hatchwright.job.outline import Circle, Obround, Outline, RoundedRectangle, own_center
from hatchwright.layout.layout import Hole
from hatchwright.remedy import PartChange
from hatchwright.units import Unit


class Side(Struct, frozen=True):
    """One side of a rectangle along the job's axes.

    Args:
        axis: 0 where it faces along X, 1 along Y.
        sign: 1 where it faces the way of the axis, else -1.
    """

    axis: int
    sign: int

    @property
    def name(self) -> str:
        """As findings call it, such as ``X+``."""
        return f"{'XY'[self.axis]}{'+' if self.sign > 0 else '-'}"


SIDES = tuple(Side(axis, sign) for axis in (0, 1) for sign in (1, -1))


def nearest_side(place: tuple[float, float], bounds: tuple[float, float, float, float]) -> Side:
    """The side of a box that a point lies nearest to, or farthest past."""
    return min(SIDES, key=lambda side: side.sign * (edge_of(bounds, side) - place[side.axis]))


def edge_of(bounds: tuple[float, float, float, float], side: Side) -> float:
    """Where one side of a box (x_min, y_min, x_max, y_max) lies on its axis [in]."""
    return bounds[side.axis + (2 if side.sign > 0 else 0)]


def moved_out(
    outline: RoundedRectangle, side: Side, by_in: float, middle_in: tuple[float, float], unit: Unit
) -> dict[str, Any]:
    """A rectangle with one edge moved out, as the file writes it.

    Args:
        by_in: outward [in].
        middle_in: its center as it lies now [in].
    """
    key = ("width", "height")[side.axis]
    size_in = (outline.width.inch, outline.height.inch)[side.axis] + by_in
    at = list(own_center(outline) or middle_in)
    at[side.axis] += side.sign * by_in / 2.0
    center = [typed_length(one, unit) for one in at]
    return {**outline.model_dump(exclude_none=True), key: typed_length(size_in, unit), "center": center}


def widened(
    outline: Outline, side: Side, by_in: float, middle_in: tuple[float, float], unit: Unit
) -> dict[str, Any] | None:
    """An outline farther out on one side, all round where it is round or has round ends; None for any other shape.

    Args:
        by_in: outward [in].
        middle_in: its center as it lies now [in].
    """
    if isinstance(outline, RoundedRectangle):
        return moved_out(outline, side, by_in, middle_in, unit)
    return widened_all_round(outline, by_in, unit)


def widened_all_round(outline: Outline | None, by_in: float, unit: Unit) -> dict[str, Any] | None:
    """An outline farther out all round, as the file writes it; None for a shape that has no such sizes.

    Args:
        by_in: outward [in].
    """
    match outline:
        case RoundedRectangle():
            sizes = {"width": outline.width, "height": outline.height}
        case Circle():
            sizes = {"diameter": outline.diameter}
        case Obround():
            sizes = {"length": outline.length, "width": outline.width}
        case _:
            return None
    new = {key: typed_length(size.inch + 2.0 * by_in, unit) for key, size in sizes.items()}
    if isinstance(outline, RoundedRectangle):
        new["radius"] = typed_length(outline.radius.inch + by_in, unit)
    return {**outline.model_dump(exclude_none=True), **new}


def fitted(made: AsMade, number: int, rivet: str) -> Iterator[PartChange]:
    """Another rivet in one hole, in place of what was fitted there."""
    count = len(made.fitted)
    for at, one in enumerate(made.fitted):
        if number in one.holes:
            left = [hole for hole in one.holes if hole != number]
            yield PartChange(f"as_made.fitted.{at}", {"holes": left, "rivet": one.rivet} if left else None)
            count -= not left
    yield PartChange(f"as_made.fitted.{count}", {"holes": [number], "rivet": rivet})


def resized(made: AsMade, number: int, diameter: str) -> PartChange | None:
    """The reading of a hole's size as it is to be drilled; None where its size was not measured."""
    held: tuple[tuple[str, tuple[Any, ...], int], ...] = (
        ("as_made.holes", made.holes, 3),
        ("as_made.sizes", made.sizes, 1),
        *((f"as_made.polar.{k}.holes", one.holes, 3) for k, one in enumerate(made.polar)),
    )
    for field, readings, place in held:
        for at, reading in enumerate(readings):
            if reading.number == number and reading.diameter is not None:
                line = reading.as_typed()
                line[place] = diameter
                return PartChange(f"{field}.{at}", line)
    return None


_BY_NUMBER = ("holes", "sizes", "heads", "countersinks", "cracked_dimples")
"""Lists of readings each line of which is of one hole."""


def without_readings(made: AsMade, numbers: frozenset[int]) -> Iterator[PartChange]:
    """Everything that was measured or fitted at some holes, taken away."""
    lists = [(f"as_made.{name}", getattr(made, name, ())) for name in _BY_NUMBER]
    lists += [(f"as_made.polar.{k}.holes", one.holes) for k, one in enumerate(made.polar)]
    for field, readings in lists:
        for at in reversed(range(len(readings))):
            if readings[at].number in numbers:
                yield PartChange(f"{field}.{at}", None)
    for at in reversed(range(len(made.fitted))):
        one = made.fitted[at]
        left = [hole for hole in one.holes if hole not in numbers]
        if len(left) < len(one.holes):
            yield PartChange(f"as_made.fitted.{at}", {"holes": left, "rivet": one.rivet} if left else None)


def row_at(job: Job, hole: Hole) -> int | None:
    """Which row of the job a rivet belongs to."""
    return next((at for at, row in enumerate(job.rows) if row.name == hole.row), None)
