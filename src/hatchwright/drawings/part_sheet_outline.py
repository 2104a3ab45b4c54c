"""An edge in figures: a circle by its diameter, a rectangle by its sides and radius, all else by its points and arcs.

From these figures alone, as a sheet tells them, the edge can be laid out again.
"""

from __future__ import annotations

import math
from statistics import median

import numpy as np
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.layout.sizes import is_round
from hatchwright.shapes.corners import corners, smallest_corner
from hatchwright.shapes.distance import distances
from hatchwright.shapes.outlines import circle, rounded_rectangle
from hatchwright.shapes.profile import Arc, Line, Loop, Profile

_SAME_IN = 1e-6
_CHORD_IN = 1e-4

_HELD_IN = 0.002
"""What no file holds: a fifth of the general tolerance of three places [in]. Own choice, no source."""


class Round(Struct, frozen=True):
    """A circle [in]."""

    center: tuple[float, float]
    diameter_in: float


class Rounded(Struct, frozen=True):
    """A rectangle along both axes with the same radius at its four corners, 0 for square ones, half of its lesser side
    for round ends [in]."""

    x: tuple[float, float]
    y: tuple[float, float]
    radius_in: float

    @property
    def arcs(self) -> int:
        """How many corners the radius is told of: two round ends have one each."""
        ends = self.x[1] - self.x[0], self.y[1] - self.y[0]
        return 2 if 2.0 * self.radius_in > min(ends) - _SAME_IN else 4


class Turn(Struct, frozen=True):
    """A point of an edge, and how it goes on to the next.

    Args:
        at: the point (x, y) [in].
        radius_in: of the arc to the next point, None for a straight [in].
        center: of that arc (x, y), None for a straight [in].
        is_inward: whether the arc is hollow, seen from outside the edge.
    """

    at: tuple[float, float]
    radius_in: float | None = None
    center: tuple[float, float] | None = None
    is_inward: bool = False


class Points(Struct, frozen=True):
    """The points of an edge in their order, counter-clockwise as X turns to Y."""

    turns: tuple[Turn, ...]


Figures = Round | Rounded | Points


def figures_of(edge: Loop) -> Figures:
    """The plainest figures that give an edge, counter-clockwise, in its own coordinates [in]."""
    loop = edge if edge.area_sq_in > 0.0 else edge.reversed()
    x_min, y_min, x_max, y_max = loop.bounds
    corner = smallest_corner(loop)
    middle = (x_min + x_max) / 2.0, (y_min + y_max) / 2.0
    if corner and is_round(loop.bounds, corner):
        return Round(middle, x_max - x_min)
    radius_in = corner.radius_in if corner else 0.0
    try:
        plain = rounded_rectangle(
            width_in=x_max - x_min, height_in=y_max - y_min, radius_in=radius_in, center=middle
        )
    except GeometryError:
        plain = None
    if plain is not None and _is_same(loop, plain):
        return Rounded((x_min, x_max), (y_min, y_max), radius_in)
    return Points(tuple(_turn(piece) for piece in loop.cleaned().pieces()))


def plainest(edge: Loop) -> Loop:
    """An edge of a sheet laid flat, as a circle or a rectangle where it is one within `_HELD_IN`, so that it can be cut
    by its sizes; else as it is."""
    x_min, y_min, x_max, y_max = edge.bounds
    wide, high = x_max - x_min, y_max - y_min
    middle = (x_min + x_max) / 2.0, (y_min + y_max) / 2.0
    radii = [corner.radius_in for corner in corners(edge) if corner.radius_in > 0.0]
    tried = []
    if abs(wide - high) < 2.0 * _HELD_IN:
        tried.append(circle(diameter_in=(wide + high) / 2.0, center=middle))
    radius_in = min(median(radii), 0.5 * wide, 0.5 * high) if radii else 0.0
    tried.append(rounded_rectangle(width_in=wide, height_in=high, radius_in=radius_in, center=middle))
    return next((plain for plain in tried if _is_held(edge, plain)), edge)


def _is_held(edge: Loop, plain: Loop) -> bool:
    """Whether two edges are nowhere farther apart than `_HELD_IN`."""
    pairs = ((edge, plain), (plain, edge))
    return all(
        distances(Profile((one,)), other.points(_CHORD_IN)).distance_in.max() < _HELD_IN
        for one, other in pairs
    )


def _is_same(loop: Loop, other: Loop) -> bool:
    """Whether two edges run through the same corners with the same arcs, wherever each begins."""
    first, second = (_knots(one) for one in (loop, other))
    return first.shape == second.shape and bool(np.allclose(first, second, atol=_SAME_IN))


def _knots(loop: Loop) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """Ends and middles of the pieces, from the least one on."""
    rows = [(*piece.start, _bulge(piece)) for piece in loop.cleaned().pieces()]
    start = min(range(len(rows)), key=lambda k: (round(rows[k][0], 6), round(rows[k][1], 6)))
    return np.array([*rows[start:], *rows[:start]])


def _bulge(piece: Line | Arc) -> float:
    return math.tan(0.25 * piece.sweep_rad) if isinstance(piece, Arc) else 0.0


def _turn(piece: Line | Arc) -> Turn:
    if isinstance(piece, Arc):
        return Turn(piece.start, piece.radius_in, piece.center, piece.sweep_rad < 0.0)
    return Turn(piece.start)
