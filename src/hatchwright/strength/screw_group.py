"""A group of screws under one load beside and above its middle: shear and tension of each, under a stiff base."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.errors import GeometryError

Array = npt.NDArray[np.float64]

_FLAT = 1e-9
"""A group this much flatter than it is long lies on one line [-]."""


class ScrewLoads(Struct, frozen=True):
    """What each screw of a group takes.

    Args:
        shear_lbf: in the plane of the base, shape (n, 2) [lbf].
        tension_lbf: away from the skin, negative where the base presses instead, shape (n,) [lbf].
    """

    shear_lbf: Array
    tension_lbf: Array

    @property
    def pull_lbf(self) -> Array:
        """Tension of each screw, none where the base presses on the skin [lbf]."""
        return np.maximum(self.tension_lbf, 0.0)


def screw_loads(
    points_in: npt.ArrayLike, *, force_lbf: npt.ArrayLike, offset_in: npt.ArrayLike, height_in: float
) -> ScrewLoads:
    """Share one force among the screws of a stiff base.

    Args:
        points_in: places of the screws, shape (n, 2) [in].
        force_lbf: along X, along Y and away from the skin, shape (3,) [lbf].
        offset_in: where it acts, from the middle of the screws along X and Y, shape (2,) [in].
        height_in: how far it acts from the face that the base sits on [in].
    Raises:
        GeometryError: the screws lie on one line, so that nothing holds the base against tipping about it.
    Method: docs/theory/mount.md, eq. 1 and 2: direct share, turning by the distance from the middle, tipping by the
        distance from the axis through the middle.

    >>> found = screw_loads([(1, 1), (1, -1), (-1, -1), (-1, 1)], force_lbf=(8, 0, 0), offset_in=(0, 0), height_in=1)
    >>> found.shear_lbf[0].tolist(), [round(one, 6) for one in found.tension_lbf.tolist()]
    ([2.0, 0.0], [-2.0, -2.0, 2.0, 2.0])
    """
    points = np.asarray(points_in, dtype=float)
    from_middle = points - points.mean(axis=0)
    along_x, along_y, away = np.asarray(force_lbf, dtype=float)
    x_in, y_in = np.asarray(offset_in, dtype=float)
    spread = from_middle.T @ from_middle
    if np.linalg.det(spread) <= _FLAT * np.trace(spread) ** 2:
        raise GeometryError.saying("error.screws_in_line", where="mount.screw_pattern")
    turning = x_in * along_y - y_in * along_x
    across = np.column_stack((-from_middle[:, 1], from_middle[:, 0]))
    shear = np.array([along_x, along_y]) / len(points) + turning / np.trace(spread) * across
    tipping = np.array([x_in * away - height_in * along_x, y_in * away - height_in * along_y])
    tension = away / len(points) + from_middle @ np.linalg.solve(spread, tipping)
    return ScrewLoads(shear, tension)
