"""Where a trial cut lies among the holes of the pins that held its template, from one scan.

Method: docs/theory/scan.md, eq. 16.   Constants: computed on rendered scans, no real plate.
"""

from __future__ import annotations

import cmath
import math

from msgspec import Struct

from hatchwright.inspection.scan.budget import MIDDLE_FIT_IN, MIDDLE_PRINT_IN
from hatchwright.inspection.scan.values import Scan, ScannedHole, Value, value_of

_WALL = 0.33
"""What a lens's view of walls leaves in the middle of a cut less that of four holes, over its part in the middle of the
cut alone [-]."""

_TURN_IN = 0.0002
"""Of the turn of either, over its length [in]."""

_SQUARE = 0.02
"""By how much four holes may miss a rectangle that lies about level, over its size [-]. Own choice, no source."""


class CutPose(Struct, frozen=True):
    """Where a cut lies from the datum cross of its template, level with it.

    Args:
        shift: of its middle along X and along Y [in].
        turn_deg: counterclockwise as seen [deg].
    """

    shift: tuple[Value, Value]
    turn_deg: Value


def cut_pose(scan: Scan) -> CutPose | None:
    """The cut among the four holes of the pins; None without an opening of a known shape, or with other holes than four
    at the corners of a rectangle."""
    shape = scan.opening.shape if scan.opening else None
    cross = _cross(scan.holes) if len(scan.holes) == _PINS else None
    if shape is None or cross is None:
        return None
    middle, right = cross
    cut = complex(shape.center[0].value_in, shape.center[1].value_in)
    off = (cut - middle) * right.conjugate() / abs(right)
    walls = [_WALL * dict(one.parts).get("wall", 0.0) for one in shape.center]
    x, y = (
        value_of(size, fit=MIDDLE_FIT_IN, print=MIDDLE_PRINT_IN, wall=wall)
        for size, wall in zip((off.real, off.imag), walls, strict=True)
    )
    turn = shape.turn_deg.value_in - math.degrees(cmath.phase(right))
    own = math.degrees(_TURN_IN / max(shape.width.value_in, shape.height.value_in))
    # Half of the sum of both ways, see `_cross`.
    return CutPose((x, y), value_of(turn, fit=own, holes=math.degrees(2.0 * _TURN_IN / abs(right))))


_PINS = 4


def _cross(holes: tuple[ScannedHole, ...]) -> tuple[complex, complex] | None:
    """The middle of four holes, and their ways from left to right and, turned, from bottom to top added up [in]; None
    where they are no rectangle."""
    places = sorted((complex(hole.x.value_in, hole.y.value_in) for hole in holes), key=lambda z: z.real)
    (low_left, high_left), (low_right, high_right) = (
        sorted(pair, key=lambda z: z.imag) for pair in (places[:2], places[2:])
    )
    right = 0.5 * (low_right + high_right - low_left - high_left)
    up = 0.5 * (high_left + high_right - low_left - low_right) / 1j
    skew = low_left + high_right - high_left - low_right
    size_in = min(abs(right), abs(up))
    if not size_in or abs(skew) > _SQUARE * size_in or abs(cmath.phase(up / right)) > _SQUARE:
        return None
    return 0.25 * sum(places), right + up
