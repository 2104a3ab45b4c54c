"""A closed profile of lines and arcs, measured along its length: what the mesher needs of a loop.

Each piece has constant curvature (nought for a line), so one formula serves both: the point at
distance s lies s · sin(κs/2) / (κs/2) from the start of the piece, in the direction of the mean tangent.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from hatchwright.shapes.profile import Loop

Array = NDArray[np.float64]

CORNER_RAD = np.deg2rad(2.0)
"""A larger tangent break is a sharp corner [rad]; arcs fitted to an ellipse break by under half a degree."""


class Curve(Struct, frozen=True):
    """A closed profile, anticlockwise; every array has one row a piece.

    Args:
        start: where the piece starts, shape (n, 2) [in].
        chord: from its start to its end, shape (n, 2) [in].
        sweep: its turning, anticlockwise positive, shape (n,) [rad].
        length: shape (n,) [in].
        heading: its tangent angle at the start, shape (n,) [rad].
    """

    start: Array
    chord: Array
    sweep: Array
    length: Array
    heading: Array

    @classmethod
    def of(cls, loop: Loop) -> Curve:
        """The same profile, anticlockwise."""
        rows = loop.rows if loop.area_sq_in > 0 else loop.reversed().rows
        start = rows[:, :2]
        chord = np.roll(start, -1, axis=0) - start
        sweep = 4.0 * np.arctan(rows[:, 2])
        return cls(
            start=start,
            chord=chord,
            sweep=sweep,
            length=np.hypot(*chord.T) / np.sinc(sweep / (2 * np.pi)),
            heading=np.arctan2(chord[:, 1], chord[:, 0]) - sweep / 2,
        )

    @property
    def curvature(self) -> Array:
        """Curvature of each piece, anticlockwise positive, shape (n,) [1/in]."""
        return self.sweep / self.length

    @property
    def turn(self) -> Array:
        """Tangent break where each piece starts, left positive, shape (n,) [rad]."""
        before = np.roll(self.heading + self.sweep, 1)
        return (self.heading - before + np.pi) % (2 * np.pi) - np.pi

    @property
    def sharp(self) -> NDArray[np.bool_]:
        """Whether a sharp corner lies where each piece starts, shape (n,)."""
        sharp: NDArray[np.bool_] = np.abs(self.turn) > CORNER_RAD
        return sharp

    def at(self, distance: Array) -> tuple[Array, Array]:
        """Points on the curve and the directions square to it, outward.

        Args:
            distance: along the curve from its first vertex, shape (m,) [in].
        Returns:
            tuple: points, shape (m, 2) [in]; unit normals, midway at a corner, shape (m, 2).
        """
        joints = np.concatenate([[0.0], np.cumsum(self.length)])
        nudge = 1e-9 * joints[-1]
        normals = []
        for shift in (-nudge, nudge):
            moved = (distance + shift) % joints[-1]
            piece = np.minimum(np.searchsorted(joints, moved, side="right") - 1, len(self.length) - 1)
            bend = self.curvature[piece] * (moved - joints[piece])
            normals.append(unit(self.heading[piece] + bend - np.pi / 2))
        ahead = distance % joints[-1] - joints[piece]
        half = self.curvature[piece] * ahead / 2
        points = self.start[piece] + (ahead * np.sinc(half / np.pi))[:, None] * unit(
            self.heading[piece] + half
        )
        mean = normals[0] + normals[1]
        return points, mean / np.hypot(*mean.T)[:, None]

    def reach(self, origin: Array, direction: Array) -> Array:
        """How far each ray runs before it meets the curve.

        Args:
            origin: where the rays start, inside the curve, shape (m, 2) [in].
            direction: unit vectors, shape (m, 2).
        Returns:
            Array: distances along the rays, infinite where nothing is met, shape (m,) [in].
        """
        slack = 1e-9 * float(self.length.sum())
        origin, direction = origin[:, None], direction[:, None]
        line = self.sweep == 0
        reach = np.full((len(origin), len(line)), np.inf)

        to_start = self.start[line] - origin
        facing = cross(direction, self.chord[line])
        facing = np.where(np.abs(facing) > 1e-12 * self.length[line], facing, np.nan)
        ahead = cross(to_start, self.chord[line]) / facing
        along = cross(to_start, direction) / facing * self.length[line]
        with np.errstate(invalid="ignore"):
            met = (ahead > slack) & (along > -slack) & (along < self.length[line] + slack)
        reach[:, line] = np.where(met, ahead, np.inf)

        radius = 1.0 / self.curvature[~line]
        spoke = self.heading[~line] + np.pi / 2
        to_middle = self.start[~line] + radius[:, None] * unit(spoke) - origin
        half = (to_middle * direction).sum(axis=2)
        under_root = half**2 - (to_middle**2).sum(axis=2) + radius**2
        root = np.sqrt(np.maximum(under_root, 0.0))
        for ahead in (half - root, half + root):
            from_start = origin + ahead[..., None] * direction - self.start[~line]
            beyond_chord = (
                cross(self.chord[~line], from_start) * np.sign(radius) <= slack * self.length[~line]
            )
            met = (under_root >= 0) & (ahead > slack) & beyond_chord
            reach[:, ~line] = np.minimum(reach[:, ~line], np.where(met, ahead, np.inf))
        nearest: Array = reach.min(axis=1)
        return nearest


def cross(a: Array, b: Array) -> Array:
    """Plane cross product a_x b_y - a_y b_x over the last axis of vectors of shape (..., 2)."""
    product: Array = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return product


def unit(angle: Array) -> Array:
    """Unit vectors of shape (..., 2) at angles of shape (...) [rad]."""
    return np.stack([np.cos(angle), np.sin(angle)], axis=-1)
