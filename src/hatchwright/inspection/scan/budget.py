"""The uncertainty of what a scan says, by a stated budget: scale and edge bias are common, and never divided by n.

Method: docs/theory/scan.md, eq. 8 to 12 and 17.   Constants: computed on rendered scans, no real plate.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from typing import Literal

from msgspec import Struct

from hatchwright.inspection.scan.values import Value, value_of
from hatchwright.metrology.budget import RESOLUTION

Scanner = Literal["contact", "lens"]

LENS_IN = 14.0
"""From the glass to the lens of a lens scanner, folded by mirrors [in]. Own assumption, no source."""

_BIAS_IN = 0.0001
_BIAS_PER_BLUR = 0.06
_PRINT_IN, _PRINT_TYPED_IN = 0.0013, 0.00075
"""Bow of the print and what is left of the carriage's over one length; the second where a size of the part itself was
typed in, which takes out what is common to both [in]."""

_FIT_IN = 0.0002
_RADIUS_IN, _DIAMETER_IN, _CENTER_IN, _CENTER_PER_IN = 0.0003, 0.0002, 0.00045, 0.0003
_CORNER_IN = 0.0004
"""Of one corner beside the mean of four [in]."""

_DIAMETER_EDGE = 1.2
"""Bias of edges in a diameter; less than twice that of one, for plateaus all round a hole vary [-]."""

_RADIUS_PER_IN = 0.00009
_HOLE_WALL, _CENTER_WALL = 2.0 / math.pi, 0.5
"""By how much a circle is smaller, and its center off, over a strip of bright wall seen at its far half: mean and first
harmonic of the strip's width round it [-]."""

MIDDLE_FIT_IN, MIDDLE_PRINT_IN = 0.00028, 0.0002
"""Of the middle of an edge beside the holes of its part: both fits, bow of the print [in]."""

_MOST_SPREAD_PX, _MOST_SPREAD_IN = 0.75, 0.0015

_ROOT_IN = 0.00025
"""Of the definition of a root line, on each edge [in]."""


class Strips(Struct, frozen=True):
    """Walls of an edge that a lens sees beside it, low and high along the sensor [in]; nothing on a contact sensor."""

    low_in: float = 0.0
    high_in: float = 0.0

    @property
    def both_in(self) -> float:
        """Of both edges together [in]."""
        return self.low_in + self.high_in


class ScanBudget(Struct, frozen=True):
    """What is common to one scan.

    Args:
        scale_u: standard uncertainty of the scale along x and y, as a share [-].
        edge_u_in: of the place of an edge, common to all edges of one kind [in].
        print_u_in: of one length by the bow of the print [in].
        scanner: which kind of sensor.
        thickness_in: of the part [in].
        sensor: coordinate of the card along which the sensor lies, 0 or 1.
        middle_in: where the middle of the sensor lies along that coordinate [in].
    """

    scale_u: tuple[float, float]
    edge_u_in: float
    print_u_in: float
    scanner: Scanner
    thickness_in: float
    sensor: int
    middle_in: float

    def strips(self, low_in: float, high_in: float, *, within: bool) -> Strips:
        """Walls seen of two edges along the sensor; of edges within the part those that face the middle.

        Args:
            low_in: place of the edge at the lower coordinate [in].
            within: whether metal lies outside of the two, as round an opening.
        """
        if self.scanner == "contact":
            return Strips()
        low, high = low_in - self.middle_in, high_in - self.middle_in
        seen = (-low, high) if within else (low, -high)
        strips = (self.thickness_in * max(one, 0.0) / LENS_IN for one in seen)
        return Strips(*strips)

    def length(
        self, value_in: float, axis: int, *, strips: Strips, within: bool, root: bool = False
    ) -> Value:
        """A length between two edges along one axis; what a lens adds is taken off by half."""
        seen = strips.both_in if axis == self.sensor else 0.0
        return value_of(
            value_in + (0.5 if within else -0.5) * seen,
            scale=value_in * self.scale_u[axis],
            edge=2.0 * self.edge_u_in,
            print=self.print_u_in,
            wall=seen / RESOLUTION,
            fit=_FIT_IN,
            root=2.0 * _ROOT_IN if root else 0.0,
        )

    def radius(self, value_in: float, *, side_in: float, strips: Strips, is_single: bool = False) -> Value:
        """The radius of rounded corners, of one of them or the mean of four.

        Args:
            side_in: longest straight side between them: bowed, it bends the corners [in].
        """
        return value_of(
            value_in,
            scale=value_in * max(self.scale_u) / math.sqrt(2.0),
            edge=1.2 * self.edge_u_in,
            print=_RADIUS_PER_IN * side_in,
            wall=0.15 * max(strips.low_in, strips.high_in),
            fit=_RADIUS_IN,
            corner=_CORNER_IN if is_single else 0.0,
        )

    def hole_diameter(self, value_in: float, at: tuple[float, float]) -> Value:
        """The diameter of a hole at a place [in]."""
        strip = abs(self._hole_strip(at))
        wall = _HOLE_WALL * strip / RESOLUTION
        seen = value_in + 0.5 * _HOLE_WALL * strip
        return value_of(seen, edge=_DIAMETER_EDGE * self.edge_u_in, wall=wall, fit=_DIAMETER_IN)

    def place(self, value_in: float, axis: int, *, reach_in: float, at: tuple[float, float]) -> Value:
        """One coordinate of a hole among others.

        Args:
            reach_in: half the pattern, the farthest hole from its middle [in].
        """
        strip = self._hole_strip(at) if axis == self.sensor else 0.0
        return value_of(
            value_in + 0.5 * _CENTER_WALL * strip,
            scale=0.7 * reach_in * self.scale_u[axis],
            print=_CENTER_PER_IN * reach_in,
            wall=_CENTER_WALL * abs(strip) / RESOLUTION,
            fit=_CENTER_IN,
        )

    def middle(self, value_in: float, axis: int, *, strips: Strips) -> Value:
        """One coordinate of the middle between two edges, in the frame's own coordinates."""
        seen = 0.25 * (strips.high_in - strips.low_in) if axis == self.sensor else 0.0
        return value_of(
            value_in + seen,
            scale=abs(value_in) * self.scale_u[axis],
            print=0.5 * self.print_u_in,
            wall=self.middle_wall_in(axis, strips),
            fit=_CENTER_IN,
        )

    def middle_wall_in(self, axis: int, strips: Strips) -> float:
        """Standard uncertainty of the middle between two edges by what a lens sees of their walls [in]."""
        return 0.3 * max(strips.low_in, strips.high_in) if axis == self.sensor else 0.0

    def from_middle(
        self, away: complex, *, turn_rad: float, turn_u_rad: float, wall_u_in: Sequence[float]
    ) -> tuple[Value, Value]:
        """Both coordinates of a hole from the middle of an edge, level with it.

        Args:
            away: from that middle x + iy along the frame [in].
            turn_rad: from the frame to the edge [rad].
            turn_u_rad: standard uncertainty of the edge's turn [rad].
            wall_u_in: of hole and middle together by what a lens sees of walls, along the frame [in].
        """
        level = cmath.rect(1.0, -turn_rad)
        placed = away * level
        reach_in = max(abs(placed.real), abs(placed.imag))
        scale = [abs(one) * u for one, u in zip((away.real, away.imag), self.scale_u, strict=True)]
        told = [
            value_of(
                along,
                scale=math.hypot(*(one * way for one, way in zip(scale, ways, strict=True))),
                print=_CENTER_PER_IN * reach_in,
                wall=math.hypot(*(one * way for one, way in zip(wall_u_in, ways, strict=True))),
                fit=_CENTER_IN,
                middle=math.hypot(MIDDLE_FIT_IN, MIDDLE_PRINT_IN),
                turn=turn_u_rad * abs(across),
            )
            for along, across, ways in (
                (placed.real, placed.imag, (level.real, level.imag)),
                (placed.imag, placed.real, (level.imag, level.real)),
            )
        ]
        return told[0], told[1]

    def _hole_strip(self, at: tuple[float, float]) -> float:
        """Wall that a lens sees of a hole, positive where the hole lies beyond the middle [in]."""
        if self.scanner == "contact":
            return 0.0
        return self.thickness_in * (at[self.sensor] - self.middle_in) / LENS_IN


def edge_bias_in(blur_in: float) -> float:
    """Standard uncertainty of the place of an edge by tone curve, glare and bevel [in]."""
    return _BIAS_PER_BLUR * blur_in + _BIAS_IN


def most_spread_in(pixel_in: float) -> float:
    """Robust spread of an edge about its shape above which the shape is another [in]."""
    return max(_MOST_SPREAD_PX * pixel_in, _MOST_SPREAD_IN)


def print_in(*, typed: bool) -> float:
    """Standard uncertainty of a length by the bow of the print [in], smaller where a size of the part was typed in."""
    return _PRINT_TYPED_IN if typed else _PRINT_IN


def turn_u_deg(length_in: float) -> float:
    """Standard uncertainty of the turn of a side [deg]."""
    return math.degrees(_CENTER_IN / max(length_in, 0.1))
