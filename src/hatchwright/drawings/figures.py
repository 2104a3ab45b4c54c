"""Figures as a drawing letters them: the unit stands once, on the sheet or at the head of a column."""

from __future__ import annotations

from hatchwright.said import Value, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell


def bare(what: Value, unit: Unit) -> str:
    """Write lengths without a unit mark, where the sheet or the head of the column names the unit.

    >>> from hatchwright.layout.sizes import size_of
    >>> bare(size_of((0.0, 0.0, 5.0, 4.0)), "in")
    '5.000 x 4.000'
    """
    return tell(said("drawing.bare", what=what), unit)
