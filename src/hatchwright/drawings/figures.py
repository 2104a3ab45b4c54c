"""Sizes as a drawing letters them: the unit stands once, on the sheet or at the head of a column."""

from __future__ import annotations

from hatchwright.said import Said, Value, inch, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell


def size_of(bounds: tuple[float, float, float, float]) -> Said:
    """The over-all size of a box, along X by along Y, from x_min, y_min, x_max, y_max in the job's frame [in]."""
    return said("size.x_by_y", x=inch(bounds[2] - bounds[0]), y=inch(bounds[3] - bounds[1]))


def bare(what: Value, unit: Unit) -> str:
    """Write lengths without a unit mark, where the sheet or the head of the column names the unit.

    >>> bare(size_of((0.0, 0.0, 5.0, 4.0)), "in")
    '5.000 x 4.000'
    """
    return tell(said("drawing.bare", what=what), unit)
