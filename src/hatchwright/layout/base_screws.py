"""The screws of a mounted base: four at the corners of their pattern, about the middle of the opening.

They are no holes of the layout: the base gives them their places, and is drilled through.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hatchwright.errors import TableError
from hatchwright.layout.layout import Hole, Layout, PartName
from hatchwright.tables.screws import screw_size

_CORNERS = np.array([[1, 1], [1, -1], [-1, -1], [-1, 1]])


def base_screw_points(layout: Layout) -> NDArray[np.float64] | None:
    """Their places, shape (4, 2) [in]; None without a mount, or while its pattern is not entered."""
    mount = layout.job.mount
    if mount is None or mount.screw_pattern is None:
        return None
    half = np.array([length.inch / 2.0 for length in mount.screw_pattern])
    points: NDArray[np.float64] = np.array(layout.center_in) + half * _CORNERS
    return points


def base_screw_holes(layout: Layout) -> tuple[Hole, ...]:
    """Their holes through the skin and, where there is one, the doubler, numbered for themselves; none while the
    pattern is not entered."""
    mount, points = layout.job.mount, base_screw_points(layout)
    if mount is None or points is None:
        return ()
    try:
        nominal_in = screw_size(mount.screw_size, layout.shop).major_diameter_in
    except TableError:
        nominal_in = None
    stack: tuple[PartName, ...] = ("skin", "doubler") if layout.part("doubler") else ("skin",)
    return tuple(
        Hole(number, "base", "screw", x_in, y_in, mount.screw_size, nominal_in, stack)
        for number, (x_in, y_in) in enumerate(points.tolist(), 1)
    )
