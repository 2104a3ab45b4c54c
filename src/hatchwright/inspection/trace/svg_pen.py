"""Draws the paths of an SVG drawing as runs of points, curves flattened."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np

from hatchwright.inspection.trace.svg_arc import arc_places
from hatchwright.shapes.pieces import Complexes

if TYPE_CHECKING:
    from fontTools.misc.transform import Transform

Pair = tuple[float, float]

_MOST_STEPS = 2000


class SvgPen:
    """Takes what a path draws, in the drawing's unit, and keeps it as runs of points [in].

    Args:
        matrix: from the drawing's unit to inches, Y up.
        sag_in: how far chords may lie off a curve [in].
        keep: takes each run, shape (n,).
    Raises:
        ValueError: a place is no number.
    """

    def __init__(self, matrix: Transform, *, sag_in: float, keep: Callable[[Complexes], None]) -> None:
        xx, xy, yx, yy = matrix[:4]
        self._matrix, self._keep, self._sag_in = matrix, keep, sag_in
        self._size_in = max(math.hypot(xx, xy), math.hypot(yx, yy), 1e-12)
        self._run: list[Complexes] = []
        self._start = self._at = 0j

    def moveTo(self, to: Pair) -> None:
        """Begin a run."""
        self._start = self._at = complex(*to)
        self._run = []
        self._add(np.array([self._at]))

    def lineTo(self, to: Pair) -> None:
        """A straight piece."""
        self._add(np.array([complex(*to)]))

    def curveTo(self, one: Pair, other: Pair, to: Pair) -> None:
        """A cubic Bezier curve."""
        self._curve(np.array([self._at, complex(*one), complex(*other), complex(*to)]))

    def qCurveTo(self, one: Pair, to: Pair) -> None:
        """A quadratic one."""
        self._curve(np.array([self._at, complex(*one), complex(*to)]))

    def arcTo(self, rx: float, ry: float, turn_deg: float, large: float, sweep: float, to: Pair) -> None:
        """An elliptical arc."""
        end, sag = complex(*to), self._sag_in / self._size_in
        places = arc_places(
            self._at, end, radii=(rx, ry), turn_deg=turn_deg, is_large=bool(large), is_clockwise=bool(sweep),
            sag=sag,
        )  # fmt: skip
        self._add(places)

    def closePath(self) -> None:
        """A straight piece to where the run began, and its end."""
        self._add(np.array([self._start]))
        self.endPath()

    def endPath(self) -> None:
        """The end of a run, open or not."""
        if self._run:
            z = np.concatenate(self._run)
            xx, xy, yx, yy, dx, dy = self._matrix
            x, y = xx * z.real + yx * z.imag + dx, xy * z.real + yy * z.imag + dy
            self._keep(x + 1j * y)
        self._run = []

    def _add(self, places: Complexes) -> None:
        if not np.isfinite(places).all():
            raise ValueError("no place")
        self._run.append(places)
        self._at = complex(places[-1])

    def _curve(self, control: Complexes) -> None:
        """Equal steps of a Bezier curve: a chord lies off by at most an eighth of the second derivative over n^2."""
        order = len(control) - 1
        bend = order * (order - 1) * float(np.abs(np.diff(control, 2)).max())
        sag = self._sag_in / self._size_in
        steps = min(max(math.ceil(math.sqrt(bend / (8.0 * sag))), 1), _MOST_STEPS)
        t = np.arange(1, steps + 1) / steps
        terms = (math.comb(order, k) * one * t**k * (1.0 - t) ** (order - k) for k, one in enumerate(control))
        self._add(np.sum(list(terms), axis=0))
