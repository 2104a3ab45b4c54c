"""One line or arc of an outline, and where two of them meet.

Method: docs/theory/scan.md, section 5.
"""

from __future__ import annotations

from msgspec import Struct

_TOUCHES_IN = 0.003
"""A line and an arc that miss each other's tangent by less are taken for tangent [in]. Own choice, no source."""

_NEAR_BREAK_IN, _NEAR_BREAK_RATIO = 0.1, 0.15
"""How far from its break a joint may lie: [in], or over the radius of its arc [-]. Own choice, no source."""

_MOST_STEPS = 60


class Piece(Struct, frozen=True):
    """One line or arc between two bins of the edge.

    Args:
        first: bin that it begins in.
        last: bin that it ends in.
        along: direction of a line, (0, 0) for an arc [-].
        center: of the arc, or a point of the line [in].
        radius_in: 0 for a line [in].
    """

    first: int
    last: int
    along: tuple[float, float]
    center: tuple[float, float]
    radius_in: float

    def nearest(self, z: complex) -> complex:
        """The point of the piece's whole line or circle nearest to a point."""
        hub = complex(*self.center)
        if not self.radius_in:
            way = complex(*self.along)
            return hub + way * ((z - hub) * way.conjugate()).real
        off = z - hub
        return hub + off * (self.radius_in / max(abs(off), 1e-12))


def joint(one: Piece, other: Piece, near: complex) -> complex:
    """Where two pieces meet near the break between them; where they about touch, between the points that touch."""
    if (touched := _touching(one, other, near)) is not None:
        return touched
    z = near
    for _ in range(_MOST_STEPS):
        moved = other.nearest(one.nearest(z))
        if abs(moved - z) < 1e-9:
            break
        z = moved
    met = 0.5 * (one.nearest(z) + other.nearest(z))
    return met if abs(met - near) < _NEAR_BREAK_IN else 0.5 * (one.nearest(near) + other.nearest(near))


def _touching(one: Piece, other: Piece, near: complex) -> complex | None:
    """The middle between a line and an arc, or two arcs, at their nearest; None where they cross or lie apart there."""
    if not (one.radius_in or other.radius_in):
        return None
    arc, rest = (one, other) if one.radius_in else (other, one)
    hub = complex(*arc.center)
    if rest.radius_in:
        way = complex(*rest.center) - hub
        if abs(way) < 1e-9:
            return None
        ends = [hub + sign * way / abs(way) * arc.radius_in for sign in (1.0, -1.0)]
        foot = rest.nearest(min(ends, key=lambda z: abs(z - near)))
    else:
        foot = rest.nearest(hub)
    on_arc = arc.nearest(foot)
    met = 0.5 * (foot + on_arc)
    is_near = abs(met - near) < max(_NEAR_BREAK_IN, _NEAR_BREAK_RATIO * arc.radius_in)
    return met if abs(foot - on_arc) < _TOUCHES_IN and is_near else None
