"""The true gap between an outline and what is in the bay."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from hatchwright.job.bay import LandmarkRow, Region
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.shapes.reach import extreme_points

_CROSSING_CHORD_IN = 1e-4

Floats = npt.NDArray[np.float64]
Bounds = tuple[float, float, float, float]
"""x_from, y_from, x_to, y_to; infinite where there is no bound [in]."""


def gap_to(loop: Loop, there: Region | LandmarkRow) -> tuple[float, tuple[float, float]]:
    """The gap between a closed outline and a rectangular region or the line of a landmark row, arcs included.

    Args:
        loop: the outline, counter-clockwise [in].
    Returns:
        tuple: the gap, negative by the depth of the overlap [in], and the point of the outline concerned [in].
    """
    return _gap(loop, there.bounds_in)


def gap_to_point(region: Region, point: tuple[float, float]) -> float:
    """The distance from a point (x, y) to a rectangular region, 0 inside it [in]."""
    return float(gaps_to_points(region, np.array([point]))[0])


def gaps_to_points(region: Region, points: Floats) -> Floats:
    """The distances from points of shape (n, 2) to a rectangular region, 0 inside it, shape (n,) [in]."""
    return _off(points, region.bounds_in)


def lies_inside(region: Region, loop: Loop) -> bool:
    """Whether a rectangular region lies wholly inside a closed outline, arcs included, and does not touch it; never
    one that is open to a side."""
    x_from, y_from, x_to, y_to = region.bounds_in
    if not all(math.isfinite(bound) for bound in region.bounds_in):
        return False
    corners = np.array([(x, y) for x in (x_from, x_to) for y in (y_from, y_to)])
    inside = bool(distances(Profile((loop,)), corners).inside.all())
    return inside and not _runs_through(loop, region.bounds_in)


def within(region: Region, axis: int, sides_in: tuple[float, float]) -> float:
    """The lesser gap from a region to the two sides of a strip that it lies in, negative where it reaches out of it.

    Args:
        axis: the axis that the strip crosses, 0 for X, 1 for Y.
        sides_in: where the strip's two sides cross it [in].
    """
    bounds = region.bounds_in
    return min(bounds[axis] - sides_in[0], sides_in[1] - bounds[axis + 2])


@lru_cache(maxsize=256)  # several rules ask for the same gap, and while one row is edited the outlines stay
def _gap(loop: Loop, bounds: Bounds) -> tuple[float, tuple[float, float]]:
    """Method: the nearest pair is an extreme point of the outline and the rectangle, or a corner of the rectangle and
    the outline; an overlap is as deep as the least move along an axis that would end it.
    """
    x_from, y_from, x_to, y_to = bounds
    points = _extremes(loop)
    off = _off(points, bounds)
    nearest = int(np.argmin(off))
    gap_in, place = float(off[nearest]), (float(points[nearest, 0]), float(points[nearest, 1]))
    corners = [
        (x, y) for x in (x_from, x_to) for y in (y_from, y_to) if math.isfinite(x) and math.isfinite(y)
    ]
    if corners:
        found = distances(Profile((loop,)), np.array(corners))
        at = int(np.argmin(found.distance_in))
        if bool(found.inside.any()):
            gap_in = 0.0
        elif float(found.distance_in[at]) < gap_in:
            gap_in = float(found.distance_in[at])
            place = (float(found.foot[at][0]), float(found.foot[at][1]))
    (x_min, y_min), (x_max, y_max) = points.min(axis=0).tolist(), points.max(axis=0).tolist()
    apart_in = max(x_from - x_max, x_min - x_to, y_from - y_max, y_min - y_to)
    if gap_in > 0.0 and (apart_in > 0.0 or not _runs_through(loop, bounds)):
        return gap_in, place
    return min(apart_in, 0.0), place


@lru_cache(maxsize=64)
def _extremes(loop: Loop) -> Floats:
    points = extreme_points(loop)
    points.setflags(write=False)  # shared by all who ask
    return points


def _off(points: Floats, bounds: Bounds) -> Floats:
    """Distance from each point to the rectangle, 0 inside it [in]."""
    x_from, y_from, x_to, y_to = bounds
    off_x = np.maximum(np.maximum(x_from - points[:, 0], points[:, 0] - x_to), 0.0)
    off_y = np.maximum(np.maximum(y_from - points[:, 1], points[:, 1] - y_to), 0.0)
    off: Floats = np.hypot(off_x, off_y)
    return off


def _runs_through(loop: Loop, bounds: Bounds) -> bool:
    """Whether a strip crosses the outline although neither has a corner in the other."""
    x_from, y_from, x_to, y_to = bounds
    points = loop.points(_CROSSING_CHORD_IN)
    step = np.roll(points, -1, axis=0) - points
    enter, leave = np.zeros(len(points)), np.ones(len(points))
    with np.errstate(divide="ignore", invalid="ignore"):
        for axis, low, high in ((0, x_from, x_to), (1, y_from, y_to)):
            still = step[:, axis] == 0.0
            inside = (points[:, axis] >= low) & (points[:, axis] <= high)
            one = (low - points[:, axis]) / step[:, axis]
            two = (high - points[:, axis]) / step[:, axis]
            enter = np.maximum(
                enter, np.where(still, np.where(inside, -np.inf, np.inf), np.minimum(one, two))
            )
            leave = np.minimum(
                leave, np.where(still, np.where(inside, np.inf, -np.inf), np.maximum(one, two))
            )
    return bool(np.any(enter <= leave))
