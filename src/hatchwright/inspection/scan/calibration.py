"""From pixels to inches by the card's dots: a smooth curve along each axis by itself, as a scanner has them apart.

Method: docs/theory/scan.md, eq. 3.
"""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from hatchwright.errors import ScanError
from hatchwright.inspection.scan.card import Card
from hatchwright.inspection.scan.dots import Dots
from hatchwright.metrology.robust import MAD, robust_fit
from hatchwright.said import inch
from hatchwright.shapes.pieces import Floats

RESIDUAL_PX, RESIDUAL_IN = 0.3, 0.0006
"""Robust residual of the dots above which a scan is refused: the greater of the two [px], [in]."""

LEAN_PX, LEAN_IN = 0.25, 0.0009
"""How far a run of dots may lean one way on the whole: the greater of the two [px], [in]."""

RUN = 6
"""Dots of a run; a line that the scanner lost shifts those on both sides of it."""

_KNOT_IN = 1.0


class Axis(Struct, frozen=True):
    """One coordinate of the card: a cubic spline along its own pixels, and a slope along the others.

    Args:
        knots: of the spline, as multiples of a pixel.
        weights: of its basis functions [in].
        slope_in: along the other axis [in/px].
    """

    knots: Floats
    weights: Floats
    slope_in: float

    def inches(self, along: Floats, across: Floats) -> Floats:
        """The coordinate at pixels; beyond the dots the curve is continued."""
        from scipy.interpolate import BSpline

        placed: Floats = BSpline(self.knots, self.weights, 3)(along) + self.slope_in * across
        return placed


class Calibration(Struct, frozen=True):
    """What turns pixels into inches of the card as it was measured by the caliper.

    Args:
        residual_in: robust standard deviation of what is left of the dots, the larger of both axes [in].
    """

    x: Axis
    y: Axis
    residual_in: float

    def inches(self, pixels: Floats) -> Floats:
        """Column and line, shape (n, 2), to x and y, shape (n, 2) [in]."""
        column, line = pixels[:, 0], pixels[:, 1]
        return np.column_stack([self.x.inches(column, line), self.y.inches(line, column)])


def calibrate(card: Card, dots: Dots, *, stretch: tuple[float, float]) -> Calibration:
    """Fit both axes to the dots.

    Args:
        stretch: length by caliper over length as drawn of the bar along x, and along y [-].
    Raises:
        ScanError: the dots are not where any scanner would put them: perspective, wobble, lines lost.
    """
    pixel_in = 2.0 / sum(card.dpi)
    axes, left = [], []
    for axis in (0, 1):
        places = dots.places[:, axis] * stretch[axis]
        fitted, residual = _axis(dots.pixels[:, axis], dots.pixels[:, 1 - axis], places, card.dpi[axis])
        axes.append(fitted)
        left.append(residual)
    spread = max(MAD * float(np.median(np.abs(residual))) for residual in left)
    most = max(RESIDUAL_PX * pixel_in, RESIDUAL_IN)
    if spread > most:
        raise ScanError.saying("scan.residual", residual=inch(spread, fine=True), most=inch(most, fine=True))
    for axis in (0, 1):
        _refuse_leaning(dots, left[axis], axis, pixel_in)
    return Calibration(axes[0], axes[1], spread)


def _axis(along: Floats, across: Floats, places: Floats, dpi: float) -> tuple[Axis, Floats]:
    """One axis by least squares, weighted anew until single marks that are spoilt count for little."""
    from scipy.interpolate import BSpline

    first, last = float(along.min()) - 1.0, float(along.max()) + 1.0
    spans = max(1, round((last - first) / dpi / _KNOT_IN))
    inner = np.linspace(first, last, spans + 1)
    knots = np.concatenate([[first] * 3, inner, [last] * 3])
    basis = BSpline.design_matrix(along, knots, 3).toarray()
    matrix = np.column_stack([basis, across])
    found = robust_fit(matrix, places)
    left = places - matrix @ found
    return Axis(knots, found[:-1], float(found[-1])), left


def _refuse_leaning(dots: Dots, left: Floats, axis: int, pixel_in: float) -> None:
    """Dots that follow each other along the axis lean one way together where the scanner lost lines between them."""
    most = max(LEAN_PX * pixel_in, LEAN_IN)
    ordered = left[np.argsort(dots.pixels[:, axis])]
    leans = np.array([np.median(ordered[first : first + RUN]) for first in range(len(ordered) - RUN + 1)])
    worst = float(np.abs(leans).max())
    if worst > most:
        raise ScanError.saying(
            "scan.lost_lines", lean=inch(worst, fine=True), most=inch(most, fine=True), n=RUN
        )
