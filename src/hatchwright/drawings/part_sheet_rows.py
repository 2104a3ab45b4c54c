"""Rows in a hole table: holes equally spaced along X or Y, told in one line by the first, the last and their count.

They are told so only where that gives every hole of the row as well as its own figures would.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from msgspec import Struct

from hatchwright.drawings.part_sheet_pieces import Place
from hatchwright.layout.layout import Hole
from hatchwright.said import said
from hatchwright.units import MM_PER_IN, Unit, figure
from hatchwright.words.tell import tell

_LEAST = 4
"""Holes of a row: one line for less saves little [-]. Common practice, no source."""

_HALF_IN: dict[Unit, float] = {"in": 0.0005, "mm": 0.005 / MM_PER_IN}
"""Half of the last place of a figure, by which any figure may be off [in]."""

_OFF_IN = 1e-9

Placed = tuple[Hole, Place]
"""A hole with its place from the datum of its piece [in]."""


class EvenRow(Struct, frozen=True):
    """Holes of following numbers, equally spaced along one axis, alike in the other as printed.

    Args:
        axis: along which they lie, 0 for X, 1 for Y.
    """

    holes: tuple[Placed, ...]
    axis: int

    def cells(self, unit: Unit) -> tuple[str, str, str, str]:
        """Numbers, X, Y, then count and spacing, as a line of the table."""
        (first, start), (last, end) = self.holes[0], self.holes[-1]
        numbers = said("part_sheet.numbers", first=str(first.number), last=str(last.number))
        places = [figure(one, unit) for one in start]
        span = said("part_sheet.span", first=places[self.axis], last=figure(end[self.axis], unit))
        places[self.axis] = tell(span)
        step_in = abs(end[self.axis] - start[self.axis]) / (len(self.holes) - 1)
        spaced = said("part_sheet.spaced", count=str(len(self.holes)), step=figure(step_in, unit))
        return tell(numbers), places[0], places[1], tell(spaced)


def even_rows(holes: Sequence[Placed], unit: Unit) -> tuple[tuple[EvenRow, ...], tuple[Placed, ...]]:
    """The rows among holes in the order of their numbers, and the holes that are in none.

    A hole that was measured as drilled is in none.
    """
    rows: list[EvenRow] = []
    others: list[Placed] = []
    at = 0
    while at < len(holes):
        row = next(_rows_from(holes[at:], unit), None)
        if row is None:
            others.append(holes[at])
        else:
            rows.append(row)
        at += len(row.holes) if row else 1
    return tuple(rows), tuple(others)


def _rows_from(holes: Sequence[Placed], unit: Unit) -> Iterator[EvenRow]:
    """The rows that begin with the first of these holes, the longest first along each axis."""
    for axis in (0, 1):
        level = figure(holes[0][1][1 - axis], unit)
        most = 1
        for (before, _), (hole, place) in pairwise(holes):
            if hole.number != before.number + 1 or figure(place[1 - axis], unit) != level:
                break
            most += 1
        for count in range(most, _LEAST - 1, -1):
            some = tuple(holes[:count])
            if not any(hole.is_made for hole, _ in some) and _is_even([at[axis] for _, at in some], unit):
                yield EvenRow(some, axis)


def _is_even(along: Sequence[float], unit: Unit) -> bool:
    """Whether the printed first and last of coordinates along a row and their count give each of them [in]."""
    per_in = MM_PER_IN if unit == "mm" else 1.0
    first, last = (float(figure(one, unit)) / per_in for one in (along[0], along[-1]))
    step = (last - first) / (len(along) - 1)
    nearest = _HALF_IN[unit] + _OFF_IN
    return abs(step) > nearest and all(
        abs(first + number * step - one) <= nearest for number, one in enumerate(along)
    )
