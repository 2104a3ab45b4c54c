"""Holes of a part: which edges are round, and how well place and size of each are known.

Method: docs/theory/scan.md, eq. 11 and 17.
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from hatchwright.inspection.outline.clockwise import clockwise
from hatchwright.inspection.outline.fitting import Fitted, fit
from hatchwright.inspection.outline.pose import longest_line
from hatchwright.inspection.scan.budget import ScanBudget, most_spread_in, turn_u_deg
from hatchwright.inspection.scan.pose import pose_of
from hatchwright.inspection.scan.values import ScannedHole, Traced, Value
from hatchwright.shapes.pieces import Floats

_LEAST_ROUND = 0.85
"""Area of a hole over that of the circle round its perimeter, below which it is a scratch or a glint [-]."""


class Zero(Struct, frozen=True):
    """What places of holes are taken from: the middle of an edge, level with it.

    Args:
        middle: x + iy in the frame's coordinates [in].
        turn_u_rad: standard uncertainty of its turn [rad].
        wall_u_in: of its middle by what a lens sees of its walls, along x and y of the frame [in].
    """

    middle: complex
    turn_rad: float
    turn_u_rad: float
    wall_u_in: tuple[float, float]


def zero_of(cut: Traced, budget: ScanBudget, *, within: bool) -> Zero:
    """The zero that an edge makes.

    Args:
        within: whether metal lies outside the edge, as round an opening.
    """
    middle, turn = pose_of(cut)
    by_line = turn_u_deg(abs(longest_line(np.array(cut.profile)))) if cut.profile else 0.0
    turn_u = cut.shape.turn_deg.u_in if cut.shape else by_line
    along = cut.points[:, budget.sensor]
    strips = budget.strips(float(along.min()), float(along.max()), within=within)
    walls = budget.middle_wall_in(0, strips), budget.middle_wall_in(1, strips)
    return Zero(middle, turn, math.radians(turn_u), walls)


def hole_in(points: Floats, *, pixel_in: float) -> Fitted | None:
    """The circle of a hole; None where an edge within the part is a scratch, a glint or another shape."""
    after = np.roll(points, -1, axis=0)
    area = 0.5 * abs(float(np.sum(points[:, 0] * after[:, 1] - after[:, 0] * points[:, 1])))
    around = float(np.sum(np.hypot(*(after - points).T)))
    if 4.0 * math.pi * area / around**2 < _LEAST_ROUND:
        return None
    fitted = fit(points, "circle")
    return fitted if fitted.spread_in <= most_spread_in(pixel_in) else None


def told_holes(found: list[Fitted], budget: ScanBudget, zero: Zero) -> tuple[ScannedHole, ...]:
    """Holes with the uncertainty of their places, among each other and from the zero, and of their diameters."""
    places = np.array([one.numbers[:2] for one in found]).reshape(-1, 2)
    reach = float(np.abs(places - places.mean(axis=0)).max()) if len(places) else 0.0
    found = [found[number] for number in clockwise([one.numbers[:2] for one in found])]
    told = []
    for one in found:
        x, y = at = one.numbers[:2]
        place = (
            budget.place(x, 0, reach_in=reach, at=at),
            budget.place(y, 1, reach_in=reach, at=at),
        )
        told.append(ScannedHole(*place, budget.hole_diameter(one.numbers[3], at), _from(zero, place, budget)))
    return tuple(told)


def _from(zero: Zero, place: tuple[Value, Value], budget: ScanBudget) -> tuple[Value, Value]:
    """The place of a hole from the zero, by its place in the frame."""
    away = complex(place[0].value_in, place[1].value_in) - zero.middle
    walls = [
        math.hypot(own, dict(one.parts).get("wall", 0.0))
        for own, one in zip(zero.wall_u_in, place, strict=True)
    ]
    return budget.from_middle(away, turn_rad=zero.turn_rad, turn_u_rad=zero.turn_u_rad, wall_u_in=walls)
