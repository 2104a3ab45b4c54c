"""Paper: the sizes that a shop's printer takes, and one page as it comes out."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from hatchwright.drawings.sheet import Box, Ink
from hatchwright.units import MM_PER_IN

MARGIN_IN = 0.4
"""Edge that a printer may leave white [in]. Common practice, no source."""

STRIP_IN = 0.62
"""Width of the strip at the left of a tile in which the upright check bars stand [in]."""

GAP_IN = 0.1
"""Between two things on a page [in]."""


class Paper(StrEnum):
    """Paper sizes. Source of A4: ISO 216; of the others: common practice, no source."""

    LETTER = "letter"
    A4 = "a4"
    ELEVEN_BY_SEVENTEEN = "11x17"

    @property
    def size_in(self) -> tuple[float, float]:
        """Width and height, upright [in]."""
        return {
            Paper.LETTER: (8.5, 11.0),
            Paper.A4: (210.0 / MM_PER_IN, 297.0 / MM_PER_IN),
            Paper.ELEVEN_BY_SEVENTEEN: (11.0, 17.0),
        }[self]


@dataclass(frozen=True, slots=True)
class Page:
    """One page, its origin at the lower left corner of the paper.

    Args:
        width_in: width of the paper as it lies [in].
        height_in: height of the paper as it lies [in].
        name: tile such as ``A1``, or "" for a page that is not full size.
        window: part of the page that shows the drawing, or None [in].
        drawing: ink that is shown through the window only.
        parts: ink of the page itself.
    """

    width_in: float
    height_in: float
    name: str
    window: Box | None
    drawing: tuple[Ink, ...]
    parts: tuple[Ink, ...]
