"""The bites along a nibbled edge: where each root and each crest lies.

Method: docs/theory/scan.md, eq. 7.
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from msgspec import Struct

from hatchwright.errors import ScanError
from hatchwright.inspection.outline.fitting import Fitted, ShapeKind, fit
from hatchwright.metrology.robust import robust_fit
from hatchwright.said import inch
from hatchwright.shapes.pieces import Floats

_STEP_IN = 0.001
_SMOOTH_IN = 0.004
"""Along the edge before bites are counted, one standard deviation [in]."""

_APART = 0.6
"""Least distance between two bites over the mean advance [-]."""

_PROMINENCE = 0.25
_WITHIN = 0.28
"""Half the length that a curve is laid through, over the advance [-]."""

_LEAST_BITES = 8
_SHORTEST_WAVE_IN = 0.025
_LEAST_WAVE_IN = 0.0015
_LEAST_WAVES = 24
_EVEN, _EVEN_SHARE, _COVERED = 0.35, 0.75, 0.7
"""How far a wave's length may be off the median, how many must be within, and how much of the edge they cover, for a
nibbled one [-]. Own choice, no source."""

_LEAST_POINTS = 6


class Bites(Struct, frozen=True):
    """Roots and crests of a nibbled edge.

    Args:
        root: shape through the roots.
        beyond_in: how far each root lies beyond that shape into the metal, shape (n,) [in].
        height_in: from the root line to the median crest [in].
        advance_in: mean distance from root to root where the edge is straight [in].
    """

    root: Fitted
    beyond_in: Floats
    height_in: float
    advance_in: float


def find_bites(points: Floats, *, advance_in: float, into: float, kind: ShapeKind | Literal["auto"]) -> Bites:
    """Find each bite along an edge.

    Args:
        points: of the edge in order, shape (n, 2) [in].
        advance_in: from bite to bite as set or counted [in].
        into: 1 where metal lies outside the edge, an opening; -1 for the edge of a part.
    Raises:
        ScanError: fewer bites than make a line.
    """
    plain = fit(points, kind)
    beyond = into * plain.distances(points)
    feet = points - (into * beyond)[:, None] * plain.normals(points)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(feet, axis=0).T))])
    length = float(along[-1] + np.hypot(*(feet[0] - feet[-1])))
    roots, crests = _turning(along, beyond, length, advance_in)
    if len(roots) < _LEAST_BITES:
        raise ScanError.saying("scan.no_bites", n=len(roots), least=_LEAST_BITES, advance=inch(advance_in))

    def placed(places: Floats, *, sharp: bool) -> Floats:
        found = _vertices(along, beyond, length, places, _WITHIN * advance_in, sharp=sharp)
        foot = np.column_stack([np.interp(found[:, 0], along, feet[:, k], period=length) for k in (0, 1)])
        return foot + (into * found[:, 1])[:, None] * plain.normals(foot)

    root_points, crest_points = placed(roots, sharp=False), placed(crests, sharp=True)
    root = fit(root_points, plain.kind)
    return Bites(
        root=root,
        beyond_in=into * root.distances(root_points),
        height_in=-float(np.median(into * root.distances(crest_points))),
        advance_in=_advance(root, root_points),
    )


class Waves(Struct, frozen=True):
    """Waves that run along an edge at an even distance [in]."""

    advance_in: float
    height_in: float


def waves_along(points: Floats, plain: Fitted, *, into: float) -> Waves | None:
    """Waves of an edge that was taken for smooth: many of one height and about one length; None where there are none.

    Args:
        into: as of `find_bites`.
    """
    beyond = into * plain.distances(points)
    feet = points - (into * beyond)[:, None] * plain.normals(points)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(feet, axis=0).T))])
    length = float(along[-1] + np.hypot(*(feet[0] - feet[-1])))
    roots, crests = _turning(along, beyond, length, _SHORTEST_WAVE_IN)
    if min(len(roots), len(crests)) < _LEAST_WAVES:
        return None
    gaps = np.diff(np.sort(roots))
    advance_in = float(np.median(gaps))
    height_in = float(
        np.median(np.interp(roots, along, beyond, period=length))
        - np.median(np.interp(crests, along, beyond, period=length))
    )
    share = float(np.mean(np.abs(gaps / advance_in - 1.0) < _EVEN))
    covered = len(roots) * advance_in / length
    is_waved = share > _EVEN_SHARE and covered > _COVERED and height_in > _LEAST_WAVE_IN
    return Waves(advance_in, height_in) if is_waved else None


def _advance(root: Fitted, points: Floats) -> float:
    """Mean distance from root to root along straight sides, where the tool advances as far as its cut does; all round
    where there is none [in]."""
    x, y, turn, width, height, radius = root.numbers
    ways = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
    local = np.abs(np.column_stack([(points - (x, y)) @ way for way in ways]))
    corner = (local > (0.5 * width - radius, 0.5 * height - radius)).all(axis=1)
    gaps = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
    straight = ~corner & ~np.roll(corner, -1)
    return float(np.mean(gaps[straight])) if straight.any() else float(np.mean(gaps))


def _turning(along: Floats, beyond: Floats, length: float, advance_in: float) -> tuple[Floats, Floats]:
    """Places along the edge of roots and crests [in]: turning points far enough apart and high enough."""
    from scipy.ndimage import gaussian_filter1d
    from scipy.signal import find_peaks

    count = max(16, int(length / _STEP_IN))
    even = np.arange(count) * (length / count)
    level = np.interp(even, along, beyond, period=length)
    smooth = gaussian_filter1d(level, _SMOOTH_IN / (length / count), mode="wrap")
    height = float(np.subtract(*np.percentile(smooth, (95.0, 5.0))))
    pad = int(2.0 * advance_in / (length / count))
    ring = np.concatenate([smooth[-pad:], smooth, smooth[:pad]])
    found = []
    for way in (1.0, -1.0):
        peaks, _ = find_peaks(
            way * ring,
            distance=max(1, int(_APART * advance_in / (length / count))),
            prominence=_PROMINENCE * height,
        )
        inside = peaks[(peaks >= pad) & (peaks < pad + count)] - pad
        found.append(even[inside])
    return found[0], found[1]


def _vertices(
    along: Floats, beyond: Floats, length: float, places: Floats, half_in: float, *, sharp: bool
) -> Floats:
    """Place and height of each turning point by a curve that single glints hardly move, shape (n, 2) [in].

    Args:
        sharp: whether two arcs meet there in a point, so that the curve has one too.
    """
    found = []
    for place in places:
        offset = (along - place + 0.5 * length) % length - 0.5 * length
        near = np.abs(offset) < half_in
        x, y = offset[near], beyond[near]
        if len(x) < _LEAST_POINTS:
            continue
        columns = [np.ones(len(x)), x, x**2, *([np.abs(x)] if sharp else [])]
        a, b, c = robust_fit(np.column_stack(columns), y)[:3]
        top = 0.0 if sharp or abs(c) < 1e-9 else float(np.clip(-b / (2.0 * c), -half_in, half_in))
        found.append((place + top, a + b * top + c * top**2))
    return np.array(found).reshape(-1, 2)
