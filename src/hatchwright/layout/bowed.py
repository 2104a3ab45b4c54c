"""A flat sheet squeezed at two edges until they are nearer together: the curve that it takes, and what that bends it.

A strip pressed at its ends alone stands in the curve of a buckled column (the elastica), which bends most at its
middle: more than the even arc through the same ends does.
Method: docs/theory/way_in.md.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from msgspec import Struct

_AGM_STEPS = 40
_POINTS = 161
_HALVINGS = 44
_FLATTEST = 1e-6
DEEPEST = 0.85
"""A strip bent so far that its ends are at a tenth of its length is folded, not bowed."""

Floats = npt.NDArray[np.float64]


class Bow(Struct, frozen=True):
    """One bowed strip.

    Args:
        length_in: of the strip, flat [in].
        modulus: k of the curve, the sine of half the slope at its ends [-].
    """

    length_in: float
    modulus: float

    @property
    def chord_in(self) -> float:
        """Between its ends, eq. 3 [in]."""
        first, second = elliptic(self.modulus)
        return self.length_in * (2.0 * second / first - 1.0)

    @property
    def rise_in(self) -> float:
        """How far its middle stands off the line between its ends, eq. 4 [in]."""
        return self.modulus * self.length_in / elliptic(self.modulus)[0]

    @property
    def least_radius_in(self) -> float:
        """At its middle, where it is bent most, eq. 5 [in]."""
        return self.length_in / (4.0 * self.modulus * elliptic(self.modulus)[0])

    def stress_psi(self, *, thickness_in: float, e_psi: float, sharper: float = 1.0) -> float:
        """Bending stress at its middle, E t / (2 r), eq. 6 [psi].

        Args:
            sharper: how much sharper it bends there than an even strip, as of `sharper_at_window` [-].
        """
        return e_psi * thickness_in * sharper / (2.0 * self.least_radius_in)

    def faces(self, thickness_in: float) -> tuple[Floats, float]:
        """Points of both faces, the line between its ends along the first axis, its middle at the origin.

        Returns:
            tuple: points, shape (2 n, 2) [in], and how far a face may bulge between two of them [in].
        """
        along, off, slope = self._middle_line()
        normal = np.column_stack([-np.sin(slope), np.cos(slope)])
        line = np.column_stack([along, off])
        half_in = 0.5 * thickness_in
        step_in = 1.1 * self.length_in * math.pi / (2.0 * (_POINTS - 1))
        bulge_in = step_in**2 / (8.0 * max(self.least_radius_in - half_in, half_in))
        return np.vstack([line + half_in * normal, line - half_in * normal]), bulge_in

    def _middle_line(self) -> tuple[Floats, Floats, Floats]:
        k, rate = self.modulus, 2.0 * elliptic(self.modulus)[0] / self.length_in
        phi = np.linspace(-0.5 * math.pi, 0.5 * math.pi, _POINTS)
        root = np.sqrt(1.0 - (k * np.sin(phi)) ** 2)
        speed = (2.0 * root - 1.0 / root) / rate
        steps = 0.5 * (speed[1:] + speed[:-1]) * np.diff(phi)
        along = np.concatenate([[0.0], np.cumsum(steps)])
        slope = -2.0 * np.arcsin(k * np.sin(phi))
        return along - 0.5 * along[-1], 2.0 * k * np.cos(phi) / rate, slope


def bow(length_in: float, chord_in: float) -> Bow | None:
    """A strip squeezed until its ends are a chord apart; None where that folds it.

    Args:
        length_in: of the strip, flat [in].
        chord_in: less than that [in].
    """
    low, high = _FLATTEST, DEEPEST
    if not Bow(length_in, high).chord_in < chord_in < length_in:
        return None
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if Bow(length_in, middle).chord_in > chord_in:
            low = middle
        else:
            high = middle
    return Bow(length_in, high)


def sharper_at_window(*, beside_ratio: float, stiffer_ratio: float) -> float:
    """How much sharper a squeezed sheet bends at its middle where a window leaves it less metal there, eq. 10 [-].

    Args:
        beside_ratio: metal on each side of the window, of the sheet's length that is squeezed, under a half [-].
        stiffer_ratio: metal across the sheet beside the window, of that at the window [-].
    """
    beside, window = beside_ratio, 1.0 - 2.0 * beside_ratio
    if beside <= 0.0 or stiffer_ratio <= 1.0:
        return 1.0
    root = math.sqrt(stiffer_ratio)
    low, high = 0.0, min(math.pi / window, 0.5 * math.pi * root / beside)  # of k, where a tan has its pole
    for _ in range(_HALVINGS):
        k = 0.5 * (low + high)
        if math.tan(0.5 * k * window) * math.tan(k * beside / root) < 1.0 / root:
            low = k
        else:
            high = k
    k, slow = low, low / root
    rise = math.sin(slow * beside) / math.cos(0.5 * k * window)  # of the window's curve, 1 of that beside it
    shorter = (slow**2) * (0.5 * beside + math.sin(2.0 * slow * beside) / (4.0 * slow))
    shorter += (rise * k) ** 2 * (0.25 * window - math.sin(k * window) / (4.0 * k))
    return max(1.0, rise * k**2 / (2.0 * math.pi * math.sqrt(shorter)))


def elliptic(modulus: float) -> tuple[float, float]:
    """Complete elliptic integrals K and E of a modulus, by the arithmetic-geometric mean [-]."""
    a, b, c, power, total = 1.0, math.sqrt(1.0 - modulus**2), modulus, 0.5, 0.0
    for _ in range(_AGM_STEPS):
        total += power * c * c
        if c < 1e-17:
            break
        a, b, c, power = 0.5 * (a + b), math.sqrt(a * b), 0.5 * (a - b), 2.0 * power
    first = math.pi / (2.0 * a)
    return first, first * (1.0 - total)
