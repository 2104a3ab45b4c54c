"""The uncertainty of a measured outline, side by side and corner by corner."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.judged import FLOAT_NOISE

Floats = npt.NDArray[np.float64]
Bounds = tuple[float, float, float, float]
"""x_min, y_min, x_max, y_max [in]."""

_CORNERS = ((0, 2), (1, 2), (1, 3), (0, 3))
"""The two sides that each corner joins, from that at the lowest X and Y toward the highest X, and on round."""


class SideUncertainty(Struct, frozen=True):
    """Expanded uncertainty of each side and each corner of an outline.

    Args:
        sides_in: of the sides at the lowest X, highest X, lowest Y and highest Y [in].
        corners_in: of the radii, from that at the lowest X and Y toward the highest X, and on round [in].
    """

    sides_in: tuple[float, float, float, float]
    corners_in: tuple[float, float, float, float]

    @property
    def greatest_in(self) -> float:
        """Of all of them, of which one may speak for the outline [in]."""
        return max(*self.sides_in, *self.corners_in)

    def at(self, bounds: Bounds, points: Floats) -> Floats:
        """Of the outline at points of it: of the side on which a point lies; round a corner the greatest of the corner
        and the sides that it joins.

        Args:
            bounds: of the outline.
            points: shape (n, 2) [in].
        Returns:
            Floats: shape (n,) [in].
        """
        x_min, y_min, x_max, y_max = bounds
        x, y = points[:, 0], points[:, 1]
        off_in = np.abs(np.stack([x - x_min, x - x_max, y - y_min, y - y_max], axis=1))
        on_sides = np.where(off_in <= FLOAT_NOISE, np.array(self.sides_in), 0.0).max(axis=1)
        between = np.array([self._round(k) for k in self._nearest(bounds, points)])
        return np.where(on_sides > 0.0, on_sides, between)

    def of_corner(self, bounds: Bounds, place: tuple[float, float]) -> float:
        """Of the radius of the corner next to a place [in]."""
        return self.corners_in[self._nearest(bounds, np.array([place]))[0]]

    def _round(self, corner: int) -> float:
        one, other = _CORNERS[corner]
        return max(self.corners_in[corner], self.sides_in[one], self.sides_in[other])

    def _nearest(self, bounds: Bounds, points: Floats) -> list[int]:
        x_min, y_min, x_max, y_max = bounds
        is_right = points[:, 0] > (x_min + x_max) / 2.0
        is_high = points[:, 1] > (y_min + y_max) / 2.0
        numbers: list[int] = np.where(is_high, np.where(is_right, 2, 3), np.where(is_right, 1, 0)).tolist()
        return numbers
