"""How a traced drawing lies in the frame of a job."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from hatchwright.inspection.outline.drawn_outline import drawn_outline
from hatchwright.inspection.outline.pose import middle_of, turn_of_lines
from hatchwright.shapes.pieces import Complexes, Floats, complex_of, points_of

Point = tuple[float, float]


class Laid(Struct, frozen=True):
    """First flipped, then turned about a point of its own, then moved.

    Args:
        zero: where that point goes, x + iy of the job [in].
        own: the point, of the flipped drawing [in].
        turn_rad: from the job's X toward its Y [rad].
        turned_deg: what of it makes the drawing level [deg].
        flipped: whether its Y runs to the other side.
    """

    zero: complex
    own: complex
    turn_rad: float
    turned_deg: float
    flipped: bool

    def place(self, point: Point) -> Point:
        """Of one point (x, y) [in]."""
        (moved,) = self._moved(np.array([complex(*point)]))
        return float(moved.real), float(moved.imag)

    def polygon(self, polygon: Floats) -> Floats:
        """Of a closed edge, shape (n, 2) [in]."""
        return points_of(self._moved(complex_of(polygon)))

    def _moved(self, z: Complexes) -> Complexes:
        seen = z.conj() if self.flipped else z
        moved: Complexes = self.zero + cmath.rect(1.0, self.turn_rad) * (seen - self.own)
        return moved


def laid_at(zero_in: Point, *, turn_deg: float, flipped: bool) -> Laid:
    """As it was drawn, its zero at a place of the job [in]."""
    return Laid(complex(*zero_in), 0j, math.radians(turn_deg), 0.0, flipped)


def laid_level(
    edges: Sequence[Floats], middle_in: Point, *, turn_deg: float, flipped: bool, within_in: float
) -> Laid:
    """Level by the longest line of the first edge that has one, the middle of the first at a place of the job.

    Args:
        edges: closed polygons, each of shape (n, 2) [in].
        middle_in: of the job [in].
        turn_deg: beyond level [deg].
        within_in: how far their lines and arcs may lie from them [in].
    Raises:
        EntryError: no lines and arcs come within that.
    """
    seen = (edge * (1.0, -1.0) if flipped else edge for edge in edges)
    first, *further = (drawn_outline(edge, within_in=within_in)[0].rows for edge in seen)
    turns = (turn_of_lines(rows) for rows in (first, *further))
    askew = next((turn for turn in turns if turn is not None), 0.0)
    own = middle_of(first, askew)
    return Laid(complex(*middle_in), own, math.radians(turn_deg) - askew, -math.degrees(askew), flipped)
