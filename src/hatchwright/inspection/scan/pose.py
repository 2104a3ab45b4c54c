"""How an edge lay on the glass, so that it can be handed on level and about its own middle."""

from __future__ import annotations

import math

import numpy as np

from hatchwright.inspection.outline.pose import pose_of_lines, turned
from hatchwright.inspection.scan.values import Traced
from hatchwright.shapes.profile import Loop


def pose_of(traced: Traced) -> tuple[complex, float]:
    """The middle of an edge x + iy [in], and its turn [rad]: of a known shape its own; of lines and arcs that of the
    longest line from the axis nearest to it, and the middle of the box round the edge once it is level."""
    shape = traced.shape
    if shape is not None:
        middle = complex(shape.center[0].value_in, shape.center[1].value_in)
        return middle, math.radians(shape.turn_deg.value_in)
    return pose_of_lines(np.array(traced.profile))


def leveled(traced: Traced) -> Loop:
    """An edge of lines and arcs, level and about its own middle [in]."""
    middle, turn = pose_of(traced)
    rows = np.array(traced.profile)
    rows[:, :2] -= (middle.real, middle.imag)
    return turned(rows, -turn)
