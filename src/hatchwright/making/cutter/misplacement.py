"""What goes wrong when the template lies a little off, or the cut is not concentric with its guide.

Method: docs/theory/misplacement.md.
"""

from __future__ import annotations

import math

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.said import Amount
from hatchwright.shapes.deviation import Deviation, deviation
from hatchwright.shapes.profile import Profile


def misplaced(
    predicted: Profile,
    wanted: Profile,
    *,
    shift_in: tuple[float, float] = (0.0, 0.0),
    turn_deg: float = 0.0,
    pivot: tuple[float, float] = (0.0, 0.0),
) -> Deviation:
    """The cut of a template that was pinned off its place, against the wanted cut.

    Args:
        predicted: cut that the template gives when it lies true [in].
        shift_in: how far the template lies off, along X and Y [in].
        turn_deg: how far it is turned, from X towards Y [deg].
    Method: docs/theory/misplacement.md, eq. 1 and 2.
    """
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    turn = np.array([[cos, -sin], [sin, cos]])
    about = np.array(pivot)
    return deviation(predicted.transformed(turn, about - turn @ about + np.array(shift_in)), wanted)


def trailing_error_in(*, path_radius_in: float, trail_in: float) -> float:
    """Over-cut on an arc by a punch that sits before or behind the guide's center along the feed [in], by
    sqrt(rho^2 + e^2) - rho.

    The tool is turned with the feed, so straight sides are cut true; the opening only changes on its arcs.
    Method: docs/theory/misplacement.md, eq. 3.
    """
    return math.hypot(path_radius_in, trail_in) - path_radius_in


def yaw_error_in(*, towards_edge_in: float, along_feed_in: float, yaw_deg: float) -> float:
    """Greatest error of the edge when the tool's heading wanders by an angle either way: e_n (1 - cos phi) +
    e_t sin phi, both as sizes [in].

    Args:
        towards_edge_in: distance of the punch from the guide's center, towards the edge [in].
        yaw_deg: how far the heading wanders, less than a right angle [deg].
    Raises:
        GeometryError: the heading is not kept at all; the edge then lies anywhere within the eccentricity.
    Method: docs/theory/misplacement.md, eq. 4.
    """
    if not 0.0 <= yaw_deg < 90.0:
        raise GeometryError.saying("heading.lost", where="yaw_deg", angle=Amount(yaw_deg, "deg"))
    phi = math.radians(yaw_deg)
    return abs(towards_edge_in) * (1.0 - math.cos(phi)) + abs(along_feed_in) * math.sin(phi)
