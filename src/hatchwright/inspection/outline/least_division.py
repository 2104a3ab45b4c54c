"""A closed run of places divided into lines and arcs at the least cost, exactly, by dynamic programming.

Method: docs/theory/scan.md, eq. 13.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from hatchwright.inspection.outline.piece import Piece
from hatchwright.metrology.robust import MAD
from hatchwright.shapes.pieces import Floats

_LINE_COST, _ARC_COST = 30.0, 48.0
"""What one more line and one more arc cost, in squared standard deviations [-]."""

_LEAST_BINS = 3
_LEAST_SPREAD_IN = 0.0003
_LARGEST_RADIUS_IN = 100.0


def flattest(ring: Floats) -> int:
    """A bin in the middle of the flattest stretch, where the first piece is cut open."""
    reach = 8
    chord = np.roll(ring, -reach, axis=0) - np.roll(ring, reach, axis=0)
    off = ring - np.roll(ring, reach, axis=0)
    cross = np.abs(chord[:, 0] * off[:, 1] - chord[:, 1] * off[:, 0])
    rise = cross / np.maximum(np.hypot(*chord.T), 1e-9)
    kernel = np.ones(2 * reach + 1)
    total = np.convolve(np.concatenate([rise[-reach:], rise, rise[:reach]]), kernel, mode="valid")
    return int(np.argmin(total))


def noise_in(ring: Floats) -> float:
    """Scatter of the bins about a smooth edge, by third differences across it [in]."""
    third = (
        ring - 3.0 * np.roll(ring, -1, axis=0) + 3.0 * np.roll(ring, -2, axis=0) - np.roll(ring, -3, axis=0)
    )
    chord = np.roll(ring, -3, axis=0) - ring
    chord /= np.maximum(np.hypot(*chord.T), 1e-12)[:, None]
    across = third[:, 1] * chord[:, 0] - third[:, 0] * chord[:, 1]
    return max(MAD * float(np.median(np.abs(across))) / math.sqrt(20.0), _LEAST_SPREAD_IN)


def divided(ring: Floats, spread: float) -> list[Piece]:
    """The exact least of the sum over pieces; the edge is open at its first bin."""
    count = len(ring)
    cost, is_arc = _costs(ring, spread)
    best = np.full(count + 1, np.inf)
    best[0] = 0.0
    before = np.zeros(count + 1, dtype=int)
    for last in range(_LEAST_BINS, count + 1):
        trial = best[: last - _LEAST_BINS + 1] + cost[: last - _LEAST_BINS + 1, last]
        before[last] = int(np.argmin(trial))
        best[last] = trial[before[last]]
    pieces, last = [], count
    while last > 0:
        first = int(before[last])
        arc = bool(is_arc[first, last])
        pieces.append(Piece(first, last, (0.0, 0.0), (0.0, 0.0), 1.0 if arc else 0.0))
        last = first
    return pieces[::-1]


def _costs(ring: Floats, spread: float) -> tuple[Floats, npt.NDArray[np.bool_]]:
    """Cost of each piece from bin i up to j, and whether it is an arc, from running sums alone."""
    middle = ring.mean(axis=0)
    x, y = (ring - middle).T
    z = x * x + y * y
    terms = np.stack([np.ones_like(x), x, y, x * x, y * y, x * y, x * z, y * z, z, z * z])
    sums = np.concatenate([np.zeros((len(terms), 1)), np.cumsum(terms, axis=1)], axis=1)
    part = sums[:, None, :] - sums[:, :, None]
    n = np.maximum(part[0], 1.0)
    mx, my, mz = part[1] / n, part[2] / n, part[8] / n
    xx, yy, xy = part[3] - n * mx * mx, part[4] - n * my * my, part[5] - n * mx * my
    xz, yz, zz = part[6] - n * mx * mz, part[7] - n * my * mz, part[9] - n * mz * mz
    half = 0.5 * (xx + yy)
    line = np.maximum(half - np.sqrt(np.maximum(0.25 * (xx - yy) ** 2 + xy * xy, 0.0)), 0.0)
    det = xx * yy - xy * xy
    safe = np.where(np.abs(det) > 1e-14, det, 1e-14)
    b, c = (yy * xz - xy * yz) / safe, (xx * yz - xy * xz) / safe
    left = np.maximum(zz - b * xz - c * yz, 0.0)
    square = mz - b * mx - c * my + 0.25 * (b * b + c * c)
    square = np.maximum(square, 1e-8)
    circle = left / (4.0 * square)
    line_cost = line / spread**2 + _LINE_COST
    arc_cost = np.where(
        (square < _LARGEST_RADIUS_IN**2) & (part[0] > _LEAST_BINS), circle / spread**2 + _ARC_COST, np.inf
    )
    return np.minimum(line_cost, arc_cost), arc_cost < line_cost
