"""Edges finer than a pixel: where the light across an edge crosses half between its own two plateaus.

Method: docs/theory/scan.md, eq. 4.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from msgspec import Struct

from hatchwright.inspection.scan.picture import Lights
from hatchwright.shapes.pieces import Floats

_SMOOTH_PX = 2.5
"""Along the edge, one standard deviation [px]."""

_FIRST_SIGMA_PX = 1.0
_STEP_PX = 0.25
_PLATEAU_PX = 1.0
_LEAST_PLATEAUS = 0.4
"""Light between a profile's own plateaus over that between part and background, below which it is dropped [-]."""

_ROWS = 16000
"""Profiles taken at a time: the library takes no larger map."""

_SPREAD = 1.9889
"""From 16 to 84 % of the normal law, in standard deviations [-]. Source: any table of it."""


class Edge(Struct, frozen=True):
    """Points of one edge in order.

    Args:
        points: column and line, shape (n, 2).
        sigma_px: blur, one standard deviation [px].
    """

    points: Floats
    sigma_px: float


def fine_edge(light: Lights, run: Floats, *, contrast: float) -> Edge:
    """Refine a run of edge pixels; the blur that a first pass finds gives the reach of the second.

    Args:
        run: neighboring pixels, shape (n, 2), column and line of `light`.
        contrast: between part and background [-].
    """
    centers, normals = _frame_along(run)
    sigma = _FIRST_SIGMA_PX
    points = centers
    for _ in range(2):
        points, sigma = _crossings(light, centers, normals, sigma, contrast)
    return Edge(points, sigma)


def _frame_along(run: Floats) -> tuple[Floats, Floats]:
    """The run smoothed, and unit normals to it."""
    from scipy.ndimage import gaussian_filter1d

    smooth = gaussian_filter1d(run, _SMOOTH_PX, axis=0, mode="wrap")
    along = np.roll(smooth, -2, axis=0) - np.roll(smooth, 2, axis=0)
    along /= np.maximum(np.hypot(*along.T), 1e-9)[:, None]
    return smooth, np.column_stack([along[:, 1], -along[:, 0]])


def _crossings(
    light: Lights, centers: Floats, normals: Floats, sigma: float, contrast: float
) -> tuple[Floats, float]:
    reach = 3.0 * sigma + 1.5
    steps = np.arange(-reach, reach + 0.5 * _STEP_PX, _STEP_PX)
    profiles = np.vstack(list(_profiles(light, centers, normals, steps)))
    ends = max(2, round(_PLATEAU_PX / _STEP_PX))
    low, high = profiles[:, :ends].mean(axis=1), profiles[:, -ends:].mean(axis=1)
    rises = high - low
    share = (profiles - low[:, None]) / np.where(np.abs(rises) < 1e-6, 1e-6, rises)[:, None]
    at, found = _crossing(share, steps, 0.5)
    kept = found & (np.abs(rises) > _LEAST_PLATEAUS * contrast)
    early, has_early = _crossing(share, steps, 0.16)
    late, has_late = _crossing(share, steps, 0.84)
    whole = kept & has_early & has_late
    spread = float(np.median((late - early)[whole])) / _SPREAD if whole.any() else sigma
    return centers[kept] + at[kept, None] * normals[kept], max(spread, 0.3)


def _profiles(light: Lights, centers: Floats, normals: Floats, steps: Floats) -> Iterator[Floats]:
    import cv2

    for first in range(0, len(centers), _ROWS):
        rows = slice(first, first + _ROWS)
        columns, lines = (
            (centers[rows, axis, None] + normals[rows, axis, None] * steps).astype(np.float32)
            for axis in (0, 1)
        )
        taken = cv2.remap(light, columns, lines, cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE)
        yield np.asarray(taken, dtype=np.float64)


def _crossing(share: Floats, steps: Floats, level: float) -> tuple[Floats, Any]:
    """Where each profile rises through a level, nearest to its middle, and whether it does."""
    rises = (share[:, :-1] < level) & (share[:, 1:] >= level)
    middle = 0.5 * (steps[:-1] + steps[1:])
    far = np.where(rises, np.abs(middle), np.inf)
    column = np.argmin(far, axis=1)
    rows = np.arange(len(share))
    before, after = share[rows, column], share[rows, column + 1]
    climb = np.where(np.abs(after - before) < 1e-9, 1e-9, after - before)
    return steps[column] + _STEP_PX * (level - before) / climb, np.isfinite(far[rows, column])
