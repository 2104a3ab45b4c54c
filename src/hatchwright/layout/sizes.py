"""The over-all size of an outline, as it is told wherever its figures stand."""

from __future__ import annotations

from hatchwright.judged import FLOAT_NOISE
from hatchwright.said import Said, inch, said
from hatchwright.shapes.corners import Corner

Bounds = tuple[float, float, float, float]


def size_of(bounds: Bounds, corner: Corner | None = None) -> Said:
    """The over-all size of an outline, along X by along Y; of a circle its diameter.

    Args:
        bounds: its x_min, y_min, x_max, y_max in the job's frame [in].
        corner: its smallest, where it is to be told as a circle if it is one.
    """
    if is_round(bounds, corner):
        return diameter_of(bounds)
    return said("size.x_by_y", x=inch(bounds[2] - bounds[0]), y=inch(bounds[3] - bounds[1]))


def diameter_of(bounds: Bounds) -> Said:
    """The diameter of a circle of these bounds [in]."""
    return said("size.diameter", across=inch(bounds[2] - bounds[0]))


def is_round(bounds: Bounds, corner: Corner | None) -> bool:
    """Whether an outline of these bounds [in] and this smallest corner is a circle."""
    x_min, y_min, x_max, y_max = bounds
    return corner is not None and 2.0 * corner.radius_in + FLOAT_NOISE >= max(x_max - x_min, y_max - y_min)
