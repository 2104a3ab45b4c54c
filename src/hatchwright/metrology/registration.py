"""The rigid motion that carries a drawn pattern onto measured points best, with the uncertainty of all that follows.

Method: docs/theory/registration.md, eq. 1 to 8.   Source: [UMEYAMA-1991] for the fit, [JCGM 100:2008] 5.1.2 and 5.2.2.
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.metrology.real_offset import LEVEL, Effect, Floats, coverage_factor

FEWEST_POINTS = 2
"""Fewer points have no turn [-]."""

_ONE_PLACE = 1e-12
"""Points whose spread is a smaller part of their own uncertainty lie in one place [-]."""


class Common(Struct, frozen=True):
    """Errors that all points share, so that more points don't lessen them; standard uncertainties.

    Args:
        place_in: of the zero that all were measured from, along each axis [in].
        turn_rad: of the line that the axes were taken from [rad].
        scale: of the ruler that all were measured with, as a part of the length [-].
    """

    place_in: float = 0.0
    turn_rad: float = 0.0
    scale: float = 0.0


NOTHING_COMMON = Common()


class Registration(Struct, frozen=True):
    """A turn about the middle of the drawn points and a shift of that middle, which do not depend on each other.

    Args:
        middle_in: weighted mean of the drawn points (x, y) [in].
        found_middle_in: that of the measured ones (x, y) [in].
        turn_rad: from drawn to measured, from X toward Y [rad].
        scale: that a fit with a scale would find; never applied [-].
        residuals_in: measured less fitted, shape (n, 2) [in].
        mean_square_in2: weighted mean of their squares [in^2].
        freedom: degrees of freedom of the fit, 2n - 3 [-].
        ratio: scatter found over the uncertainty that was stated [-].
        shift_standard_in: standard uncertainty of the shift along each axis, without what is common [in].
        turn_standard_rad: of the turn, without what is common [rad].
        scale_standard: of the scale, without what is common [-].
    """

    middle_in: tuple[float, float]
    found_middle_in: tuple[float, float]
    turn_rad: float
    scale: float
    residuals_in: Floats
    mean_square_in2: float
    freedom: int
    ratio: float
    shift_standard_in: float
    turn_standard_rad: float
    scale_standard: float
    common: Common

    @property
    def shift_in(self) -> tuple[float, float]:
        """How far the middle of the pattern lies off (x, y) [in]."""
        return self.found_middle_in[0] - self.middle_in[0], self.found_middle_in[1] - self.middle_in[1]

    @property
    def rotation(self) -> Floats:
        """R of measured = R drawn + t, shape (2, 2) [-]."""
        c, s = math.cos(self.turn_rad), math.sin(self.turn_rad)
        return np.array([[c, -s], [s, c]])

    def placed(self, drawn_in: Floats) -> Floats:
        """Where drawn points come to lie by the fit, shape (n, 2) [in]."""
        moved: Floats = (drawn_in - self.middle_in) @ self.rotation.T + self.found_middle_in
        return moved

    def taken_back(self, measured_in: Floats) -> Floats:
        """Measured points in the frame of the drawing, the fitted motion taken out, shape (n, 2) [in]."""
        moved: Floats = (measured_in - self.found_middle_in) @ self.rotation + self.middle_in
        return moved

    @property
    def shift_effects(self) -> tuple[Effect, Effect]:
        """The shift along X and along Y with their expanded uncertainties [in]."""
        standard_in = math.hypot(self.shift_standard_in, self.common.place_in)
        x_in, y_in = self.shift_in
        return _effect(x_in, standard_in, self.freedom), _effect(y_in, standard_in, self.freedom)

    @property
    def turn_effect(self) -> Effect:
        """The turn with its expanded uncertainty [rad]."""
        return _effect(self.turn_rad, math.hypot(self.turn_standard_rad, self.common.turn_rad), self.freedom)

    @property
    def scale_effect(self) -> Effect:
        """How much larger than drawn the pattern is, as a part of its length, with its expanded uncertainty [-]."""
        standard = math.hypot(self.scale_standard, self.common.scale)
        return _effect(self.scale - 1.0, standard, max(1, self.freedom - 1))

    def place_standard_in(self, drawn_in: Floats) -> Floats:
        """Standard uncertainty of where drawn points come to lie by the fit, along X and Y, shape (n, 2) [in].

        Method: docs/theory/registration.md, eq. 6.
        """
        out = self.placed(drawn_in) - self.found_middle_in
        turn = self.turn_standard_rad**2 + self.common.turn_rad**2
        across = turn * out[:, ::-1] ** 2 + (self.common.scale * out) ** 2
        found: Floats = np.sqrt(self.shift_standard_in**2 + self.common.place_in**2 + across)
        return found


def _effect(size: float, standard: float, freedom: int) -> Effect:
    return Effect(size, coverage_factor(freedom, LEVEL) * standard)


def registered(
    drawn_in: Floats, measured_in: Floats, *, own_in: Floats, common: Common = NOTHING_COMMON
) -> Registration:
    """Lay drawn points onto measured ones by a turn and a shift, the sum of weighted squares least.

    A mirror image is never fitted, however well it would lie.

    Args:
        drawn_in: shape (n, 2) [in].
        measured_in: the same points in the same order, shape (n, 2) [in].
        own_in: standard uncertainty of each measured point along each axis, its own, shape (n,) [in].
    Raises:
        GeometryError: fewer than two points, points all in one place, or no uncertainty above 0.
    Method: docs/theory/registration.md, eq. 1 to 5.
    """
    if len(drawn_in) < FEWEST_POINTS:
        raise GeometryError.saying("fit.few_points", n=len(drawn_in), least=FEWEST_POINTS)
    if not (np.all(np.isfinite(own_in)) and np.all(own_in > 0.0)):
        raise GeometryError.saying("fit.no_uncertainty")
    weights = 1.0 / own_in**2
    whole = float(weights.sum())
    middle, found_middle_in = weights @ drawn_in / whole, weights @ measured_in / whole
    out, found = drawn_in - middle, measured_in - found_middle_in
    lever = float(weights @ (out**2).sum(axis=1))
    if lever < _ONE_PLACE or float(weights @ (found**2).sum(axis=1)) < _ONE_PLACE:
        raise GeometryError.saying("fit.one_place")
    u, _, vt = np.linalg.svd((weights[:, None] * found).T @ out)
    turned = u @ np.diag([1.0, np.sign(np.linalg.det(u) * np.linalg.det(vt))]) @ vt
    residuals_in = found - out @ turned.T
    left = float(weights @ (residuals_in**2).sum(axis=1))
    freedom = 2 * len(drawn_in) - 3
    ratio = math.sqrt(left / freedom)
    factor = max(1.0, ratio)
    scale = float(np.sum(weights[:, None] * found * (out @ turned.T))) / lever
    unscaled = max(0.0, left - lever * (scale - 1.0) ** 2) / max(1, freedom - 1)
    return Registration(
        middle_in=(float(middle[0]), float(middle[1])),
        found_middle_in=(float(found_middle_in[0]), float(found_middle_in[1])),
        turn_rad=math.atan2(turned[1, 0], turned[0, 0]),
        scale=scale,
        residuals_in=residuals_in,
        mean_square_in2=left / whole,
        freedom=freedom,
        ratio=ratio,
        shift_standard_in=factor / math.sqrt(whole),
        turn_standard_rad=factor / math.sqrt(lever),
        scale_standard=max(1.0, math.sqrt(unscaled)) / math.sqrt(lever),
        common=common,
    )
