"""Scallops: the ridges that a punch leaves between two bites, by advance and by the corner it goes round.

A bite is a circle of the cut's width. Between two bites a ridge of metal stands on the waste side of the line;
it is filed off, so it adds to what is filed and never takes from the finished line.
Method: docs/theory/scallop.md.
"""

from __future__ import annotations

import math
from typing import Literal

from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.said import inch
from hatchwright.shapes.profile import Arc, Line, Profile

_NOISE_IN = 1e-9


class Scallop(Struct, frozen=True):
    """The ridge along one piece of the cut.

    Args:
        height_in: how far it stands above the line of the cut [in].
        where: on a straight side, on an inside corner, or on a corner that points into the opening.
        is_short: whether the cutter's path round the corner is shorter than one advance; the height then holds
            only when a bite is placed by hand at each end of the corner, and much more is left without.
    """

    height_in: float
    where: Literal["straight", "inside corner", "re-entrant corner"]
    place: tuple[float, float]
    is_short: bool = False


def straight_scallop_in(*, cut_in: float, advance_in: float) -> float:
    """Ridge on a straight side, rc - sqrt(rc^2 - (p/2)^2), with rc half the cut [in]; GeometryError where the
    bites do not overlap.

    Method: docs/theory/scallop.md, eq. 1.

    >>> round(straight_scallop_in(cut_in=3/16, advance_in=1/16), 4)
    0.0054
    """
    return cut_in / 2.0 - _rise_in(cut_in / 2.0, cut_in=cut_in, advance_in=advance_in)


def inside_corner_scallop_in(*, cut_in: float, advance_in: float, corner_in: float) -> float:
    """Ridge on an inside corner of the opening, higher than on a straight side: R - sqrt((R-rc)^2 - (p/2)^2) -
    sqrt(rc^2 - (p/2)^2) [in]; GeometryError where the bites do not overlap.

    Args:
        corner_in: radius R of the cut corner, no less than half the cut [in].
    Method: docs/theory/scallop.md, eq. 2.
    """
    between_in = _rise_in(corner_in - cut_in / 2.0, cut_in=cut_in, advance_in=advance_in)
    return corner_in - between_in - _rise_in(cut_in / 2.0, cut_in=cut_in, advance_in=advance_in)


def reentrant_corner_scallop_in(*, cut_in: float, advance_in: float, corner_in: float) -> float:
    """Ridge on a corner of the skin that points into the opening, lower than on a straight side:
    sqrt((q+rc)^2 - (p/2)^2) - sqrt(rc^2 - (p/2)^2) - q [in]; GeometryError where the bites do not overlap.

    Args:
        corner_in: radius q of that corner, 0 for a sharp one [in].
    Method: docs/theory/scallop.md, eq. 3.
    """
    between_in = _rise_in(corner_in + cut_in / 2.0, cut_in=cut_in, advance_in=advance_in)
    return between_in - _rise_in(cut_in / 2.0, cut_in=cut_in, advance_in=advance_in) - corner_in


def advance_for_scallop_in(*, cut_in: float, height_in: float) -> float:
    """The longest advance on a straight side whose ridge is no higher than wanted: p = 2 sqrt(2 rc h - h^2),
    h at most half the cut [in].

    Method: docs/theory/scallop.md, eq. 4.
    """
    height_in = min(height_in, cut_in / 2.0)
    return 2.0 * math.sqrt(height_in * (cut_in - height_in))


def _rise_in(radius_in: float, *, cut_in: float, advance_in: float) -> float:
    """Distance from a center to the middle of a chord of one advance."""
    if advance_in >= cut_in:
        raise GeometryError.saying(
            "scallop.no_overlap", where="cutter.advance", advance=inch(advance_in), cut=inch(cut_in)
        )
    return math.sqrt(max(radius_in**2 - (advance_in / 2.0) ** 2, 0.0))


def scallops(cut: Profile, *, cut_in: float, advance_in: float) -> tuple[Scallop, ...]:
    """The ridge along every piece of a cut edge, the highest first; GeometryError where bites do not overlap."""
    pieces = (piece for loop in cut.loops for piece in loop.pieces())
    found = (_scallop(piece, cut_in=cut_in, advance_in=advance_in) for piece in pieces)
    return tuple(sorted(found, key=lambda scallop: -scallop.height_in))


def _scallop(piece: Line | Arc, *, cut_in: float, advance_in: float) -> Scallop:
    (x, y), end = piece.start, piece.end
    if isinstance(piece, Line):
        height_in = straight_scallop_in(cut_in=cut_in, advance_in=advance_in)
        return Scallop(height_in, "straight", ((x + end[0]) / 2.0, (y + end[1]) / 2.0))
    is_inside, radius_in = piece.sweep_rad > 0.0, piece.radius_in
    path_in = radius_in + (-1.0 if is_inside else 1.0) * cut_in / 2.0
    is_short = path_in * abs(piece.sweep_rad) < advance_in - _NOISE_IN
    chord_in = 2.0 * max(path_in, 0.0) * math.sin(abs(piece.sweep_rad) / 2.0)
    ridge = inside_corner_scallop_in if is_inside else reentrant_corner_scallop_in
    height_in = ridge(cut_in=cut_in, advance_in=min(advance_in, chord_in), corner_in=radius_in)
    (hub_x, hub_y), half_rad = piece.center, piece.sweep_rad / 2.0
    angle = math.atan2(y - hub_y, x - hub_x) + half_rad
    middle = hub_x + radius_in * math.cos(angle), hub_y + radius_in * math.sin(angle)
    return Scallop(height_in, "inside corner" if is_inside else "re-entrant corner", middle, is_short)
