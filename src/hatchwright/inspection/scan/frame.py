"""The printed frame that lies round a part on the scanner: our own design, its geometry as data.

Coordinates have their origin in the middle of the window, x to the right and y up, as seen on the printed face.
Method: docs/theory/scan.md, section 1.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np
from msgspec import Struct

from hatchwright.shapes.pieces import Floats

DOT_IN = 0.09
"""Diameter of a dot [in]."""

PITCH_IN = 0.25
"""From one dot to the next, along a row and between the two rows of a side [in]."""

MARKER_IN = 0.26
"""Width of an identity mark with its black border [in]."""

ROWS_IN = (0.125, 0.375)
"""How far the two rows of dots lie outside the window [in]."""

CARDS = 38
"""Numbers that a card may bear, from 0."""

_MARKER_OUT_IN = 0.25
_NUMBER_OUT_IN = 0.70
_FIRST_NUMBER = 12
_BAR_IN = 5.75
"""As long as a 6 in caliper measures [in]."""


class ScanFrame(Struct, frozen=True, dict=True):
    """One frame by the window that the part lies in.

    Args:
        name: such as ``5x5``.
        half_in: half the width and half the height of the window [in].
        first_id: identity of the mark in the upper left corner; the others follow clockwise.
    """

    name: str
    half_in: tuple[float, float]
    first_id: int

    @cached_property
    def dots(self) -> Floats:
        """Centers of all dots, shape (n, 2) [in]."""
        a, b = self.half_in
        across, up = _steps(a), _steps(b)
        level = [(x, way * (b + row)) for way in (1.0, -1.0) for row in ROWS_IN for x in across]
        upright = [(way * (a + row), y) for way in (1.0, -1.0) for row in ROWS_IN for y in up]
        return np.array(level + upright)

    @cached_property
    def markers(self) -> tuple[tuple[int, tuple[float, float]], ...]:
        """Identity and center of each corner's mark, clockwise from the upper left [in]."""
        x, y = (half + _MARKER_OUT_IN for half in self.half_in)
        corners = ((-x, y), (x, y), (x, -y), (-x, -y))
        return tuple((self.first_id + number, corner) for number, corner in enumerate(corners))

    @property
    def number_at(self) -> tuple[float, float]:
        """Center of the mark that tells the card's number [in]."""
        return 0.0, self.half_in[1] + _NUMBER_OUT_IN

    @property
    def bars_in(self) -> tuple[float, float]:
        """Lengths as drawn of the two bars that a caliper measures, along x and along y [in]."""
        x, y = (min(_BAR_IN, 2.0 * (half + ROWS_IN[1])) for half in self.half_in)
        return x, y

    @property
    def reach_in(self) -> tuple[float, float]:
        """How far the outermost dots lie from the middle [in]."""
        a, b = self.half_in
        return a + ROWS_IN[1], b + ROWS_IN[1]


def _steps(half_in: float) -> Floats:
    """Places of dots along one side, the middle one at 0 [in]."""
    count = int(half_in / PITCH_IN + 1e-9)
    return np.arange(-count, count + 1) * np.float64(PITCH_IN)


def number_id(card: int) -> int:
    """Identity of the mark that tells a card's number."""
    return _FIRST_NUMBER + card


def card_number(identity: int) -> int | None:
    """The card's number that a mark tells; None for a mark of a corner."""
    return identity - _FIRST_NUMBER if identity >= _FIRST_NUMBER else None


FRAMES = {
    frame.name: frame
    for frame in (
        ScanFrame("4x4", (2.0, 2.0), 0),
        ScanFrame("5x5", (2.5, 2.5), 4),
        ScanFrame("6x7", (3.0, 3.5), 8),
    )
}
"""Every frame by its name."""
