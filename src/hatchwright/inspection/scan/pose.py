"""How an edge lay on the glass, so that it can be handed on level and about its own middle."""

from __future__ import annotations

import cmath
import math

import numpy as np

from hatchwright.inspection.scan.values import Traced
from hatchwright.shapes.pieces import Floats
from hatchwright.shapes.profile import Loop


def pose_of(traced: Traced) -> tuple[complex, float]:
    """The middle of an edge x + iy [in], and its turn [rad]: of a known shape its own; of lines and arcs that of the
    longest line from the axis nearest to it, and the middle of the box round the edge once it is level."""
    shape = traced.shape
    if shape is not None:
        middle = complex(shape.center[0].value_in, shape.center[1].value_in)
        return middle, math.radians(shape.turn_deg.value_in)
    rows = np.array(traced.profile)
    z = rows[:, 0] + 1j * rows[:, 1]
    sides = np.where(rows[:, 2] == 0.0, np.roll(z, -1) - z, 0.0)
    longest = complex(sides[int(np.argmax(np.abs(sides)))])
    angle = cmath.phase(longest) if longest else 0.0
    turn = angle - 0.5 * math.pi * round(angle / (0.5 * math.pi))
    x_min, y_min, x_max, y_max = _turned(rows, -turn).bounds
    return 0.5 * complex(x_min + x_max, y_min + y_max) * cmath.rect(1.0, turn), turn


def leveled(traced: Traced) -> Loop:
    """An edge of lines and arcs, level and about its own middle [in]."""
    middle, turn = pose_of(traced)
    rows = np.array(traced.profile)
    rows[:, :2] -= (middle.real, middle.imag)
    return _turned(rows, -turn)


def _turned(rows: Floats, turn: float) -> Loop:
    cos, sin = math.cos(turn), math.sin(turn)
    return Loop(rows).transformed(((cos, -sin), (sin, cos)))
