"""The points of a loop that can lie farthest in an axis direction."""

from __future__ import annotations

import math

import numpy as np

from hatchwright.shapes.pieces import Floats
from hatchwright.shapes.profile import Arc, Loop


def extreme_points(loop: Loop) -> Floats:
    """Vertices, and the points where an arc turns back along an axis.

    Returns:
        Floats: points, shape (n, 2) [in]; a half plane along an axis is nearest to one of them.
    """
    points = [loop.rows[:, :2]]
    points += [
        found for piece in loop.pieces() if isinstance(piece, Arc) and len(found := _turning_points(piece))
    ]
    return np.vstack(points)


def _turning_points(arc: Arc) -> Floats:
    start = math.atan2(arc.start[1] - arc.center[1], arc.start[0] - arc.center[0])
    angles = np.arange(4) * (math.pi / 2.0)
    way = math.copysign(1.0, arc.sweep_rad)
    turned = (way * (angles - start)) % (2.0 * math.pi)
    inside = angles[turned < abs(arc.sweep_rad)]
    return np.array(arc.center) + arc.radius_in * np.column_stack([np.cos(inside), np.sin(inside)])
