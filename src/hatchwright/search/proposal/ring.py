"""The opening that a ring is laid round, and the ring's own measures."""

from __future__ import annotations

import math

from msgspec import Struct

_STRAIGHT_IN = 1e-9
"""A side shorter than this has no straight edge [in]."""


class Shape(Struct, frozen=True):
    """A rounded rectangle, or a circle: then both sizes are its diameter and the radius half of it.

    Args:
        width_in, height_in: along X and Y [in].
        radius_in: of its corners [in].
    """

    width_in: float
    height_in: float
    radius_in: float
    is_round: bool = False

    @property
    def half_x_in(self) -> float:
        """Half of its straight edge along X [in]."""
        return max(0.0, self.width_in / 2.0 - self.radius_in)

    @property
    def half_y_in(self) -> float:
        """Half of its straight edge along Y [in]."""
        return max(0.0, self.height_in / 2.0 - self.radius_in)

    @property
    def cut_in(self) -> tuple[float, float]:
        """Metal cut away across a load along X, and along Y [in]."""
        return self.height_in, self.width_in

    @property
    def has_straight(self) -> tuple[bool, bool]:
        """Whether a straight edge lies across a load along X, and along Y."""
        return self.half_y_in > _STRAIGHT_IN, self.half_x_in > _STRAIGHT_IN

    @property
    def longest_chord_in(self) -> float:
        """The longest straight line across it [in]."""
        return 2.0 * (math.hypot(self.half_x_in, self.half_y_in) + self.radius_in)

    def area_sq_in(self, out_in: float = 0.0) -> float:
        """Its area, grown all round by so much [in^2]."""
        radius_in = self.radius_in + out_in
        box = 4.0 * (self.half_x_in + radius_in) * (self.half_y_in + radius_in)
        return box - (4.0 - math.pi) * radius_in**2
