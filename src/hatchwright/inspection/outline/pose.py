"""How an edge of lines and arcs lies, so that it can be handed on level and about its own middle."""

from __future__ import annotations

import cmath
import math

import numpy as np

from hatchwright.shapes.pieces import Floats
from hatchwright.shapes.profile import Loop


def pose_of_lines(rows: Floats) -> tuple[complex, float]:
    """The middle x + iy of the box round an edge once it is level [in], and the turn of its longest line from the axis
    nearest to it, 0 without a line [rad].

    Args:
        rows: x, y [in] and bulge [-] of the piece that leaves each corner, shape (n, 3).
    """
    turn = turn_of_lines(rows) or 0.0
    return middle_of(rows, turn), turn


def turn_of_lines(rows: Floats) -> float | None:
    """The turn of the longest line alone [rad]; None where there is none."""
    longest = longest_line(rows)
    angle = cmath.phase(longest)
    return angle - 0.5 * math.pi * round(angle / (0.5 * math.pi)) if longest else None


def longest_line(rows: Floats) -> complex:
    """The longest line from end to end, x + iy [in]; 0 where there is none."""
    z = rows[:, 0] + 1j * rows[:, 1]
    sides = np.where(rows[:, 2] == 0.0, np.roll(z, -1) - z, 0.0)
    return complex(sides[int(np.argmax(np.abs(sides)))])


def middle_of(rows: Floats, turn: float) -> complex:
    """The middle x + iy of the box round an edge that is level once it is turned back [in], [rad]."""
    x_min, y_min, x_max, y_max = turned(rows, -turn).bounds
    return 0.5 * complex(x_min + x_max, y_min + y_max) * cmath.rect(1.0, turn)


def turned(rows: Floats, turn: float) -> Loop:
    """The loop of these rows, turned about zero [rad]."""
    cos, sin = math.cos(turn), math.sin(turn)
    return Loop(rows).transformed(((cos, -sin), (sin, cos)))
