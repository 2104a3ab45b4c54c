"""A way in which a measured set of holes may lie on the drawn pattern, and which of several is to be taken.

Method: docs/theory/matching.md, eq. 2 and 3.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
from msgspec import Struct

from hatchwright.inspection.pattern import Counts, Pattern
from hatchwright.metrology.real_offset import Floats

CALL_LEVEL = 1.0 - 1e-5
"""Level of confidence beyond which a set is called mirrored, shifted, or a hole off: one clean set in 100,000 is by
chance; own choice, so that a shop meets no false call [-]."""

PLAIN = np.array([1.0, 1.0])
"""What a pattern that is not mirrored is multiplied by about its middle [-]."""

MIRRORED = np.array([-1.0, 1.0])
"""What a mirrored one is: its own X changes sides [-]."""


class Pose(Struct, frozen=True):
    """One way in which the pattern may lie: mirrored about its own Y first where it is, then turned, then shifted.

    Args:
        shift_in: of the pattern's middle (x, y) [in].
    """

    turn_rad: float
    shift_in: tuple[float, float]
    is_mirrored: bool = False

    @property
    def quarter(self) -> int:
        """Quarter turns, to the nearest, 0 to 3; a mirror image along X has none, one along Y two."""
        return round(self.turn_rad / (0.5 * math.pi)) % 4

    def plainness(self, pattern: Pattern) -> tuple[bool, float]:
        """The less, the plainer: not mirrored, and the holes moved little."""
        return self.is_mirrored, float(np.square(self.laid(pattern) - pattern.places_in).mean())

    def laid(self, pattern: Pattern) -> Floats:
        """Where the holes lie by it, shape (n, 2) [in]."""
        out = (pattern.places_in - pattern.middle_in) * self._signs
        laid: Floats = out @ self._turn + pattern.middle_in + self.shift_in
        return laid

    def taken_back(self, pattern: Pattern, measured_in: Floats) -> Floats:
        """Where measured places would lie on the drawing, shape (n, 2) [in]."""
        out = (measured_in - pattern.middle_in - self.shift_in) @ self._turn.T
        back: Floats = out * self._signs + pattern.middle_in
        return back

    @property
    def _signs(self) -> Floats:
        return MIRRORED if self.is_mirrored else PLAIN

    @property
    def _turn(self) -> Floats:
        c, s = math.cos(self.turn_rad), math.sin(self.turn_rad)
        return np.array([[c, s], [-s, c]])


AS_DRAWN = Pose(0.0, (0.0, 0.0))
"""Where the pattern lies on the drawing."""


def pose_through(pattern: Pattern, drawn: Counts, measured_in: Floats, *, is_mirrored: bool) -> Pose:
    """The pose that carries some holes onto their readings best.

    Args:
        drawn: which holes, shape (k,).
        measured_in: their readings, shape (k, 2) [in].
    """
    sign = MIRRORED if is_mirrored else PLAIN
    out = (pattern.places_in[drawn] - pattern.middle_in) * sign
    about, found = out - out.mean(axis=0), measured_in - measured_in.mean(axis=0)
    across = float(np.sum(about[:, 0] * found[:, 1] - about[:, 1] * found[:, 0]))
    turn = math.atan2(across, float(np.sum(about * found)))
    c, s = math.cos(turn), math.sin(turn)
    shift = measured_in.mean(axis=0) - out.mean(axis=0) @ np.array([[c, s], [-s, c]]) - pattern.middle_in
    return Pose(turn, (float(shift[0]), float(shift[1])), is_mirrored)


class Laid(Struct, frozen=True):
    """A pose with how well it fits.

    Args:
        cost_in2: sum of squares between each reading and the hole next to it, none for more than the gap [in^2].
        count: readings that are nearer to a hole than the gap.
    """

    pose: Pose
    cost_in2: float
    count: int

    def is_worse_than(self, other: Laid) -> bool:
        """Whether it fits so much worse that it is not by chance.

        Method: docs/theory/matching.md, eq. 3: the ratio of two sums of squares, Fisher's law with 2n - 3 degrees of
            freedom each.
        """
        freedom = 2 * other.count - 3
        if freedom < 1:
            return False
        return self.cost_in2 > _critical_ratio(freedom) * max(other.cost_in2, _NOTHING_IN2)


_NOTHING_IN2 = 1e-12
"""What readings without any error are held to have missed by all the same [in^2]."""


def _critical_ratio(freedom: int) -> float:
    from scipy.special import fdtri

    return float(fdtri(freedom, freedom, CALL_LEVEL))


def plainest(pattern: Pattern, found: Iterable[Laid]) -> tuple[Laid | None, tuple[Laid, ...]]:
    """The pose to take: the plainest of those that are not worse than the best by more than chance; and all others of
    these, which fit as well."""
    laid = list(found)
    if not laid:
        return None, ()
    best = min(laid, key=lambda one: one.cost_in2)
    alike = sorted(
        (one for one in laid if not one.is_worse_than(best)), key=lambda one: one.pose.plainness(pattern)
    )
    return alike[0], tuple(alike[1:])
