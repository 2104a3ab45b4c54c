"""A closed edge as places along it, each with the points that it stands for: of one that was measured, of one that was
drawn.

Method: docs/theory/scan.md, section 5; docs/theory/trace.md, eq. 1.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.metrology.robust import robust_fit
from hatchwright.shapes.pieces import Floats

PLACES = 320
"""Places that a measured edge is divided into [-]."""

DRAWN_PLACES = 480
"""Places that a drawn edge is divided into; more than 640 take a second and 500 MB [-]."""

_POINTS_EACH = 12
"""Points that each place of a drawn edge stands for on the mean [-]."""

_DENSEST = 6.0
"""How much closer places may lie where a drawn edge bends most than where it bends as on the mean [-]."""

_LEAST_NEAR = 6

Runs = npt.NDArray[np.object_]


class Edge(Struct, frozen=True):
    """Places of a closed edge in order, counterclockwise.

    Args:
        places: shape (n, 2) [in].
        runs: the points that each stands for, shape (n,) of shape (k, 2) [in].
    """

    places: Floats
    runs: Runs


def measured_edge(points: Floats) -> Edge:
    """A point of each of `PLACES` equal lengths of the edge, by a parabola through it and its neighbors that a glint or
    dust does not bend.

    Args:
        points: in order, close together, shape (n, 2) [in].
    """
    points = _counterclockwise(points)
    along, length = _along(points)
    each = length / PLACES
    number = np.minimum((along / each).astype(int), PLACES - 1)
    raw = np.empty(PLACES, dtype=object)
    middle = np.empty((PLACES, 2))
    for one in range(PLACES):
        members = points[number == one]
        if not len(members):
            members = points[[int(np.argmin(np.abs(along - (one + 0.5) * each)))]]
        raw[one] = members
    for one in range(PLACES):
        near = np.vstack([raw[(one + step) % PLACES] for step in (-1, 0, 1)])
        middle[one] = _on_parabola(near, raw[one].mean(axis=0))
    return Edge(middle, raw)


def drawn_edge(corners: Floats) -> Edge:
    """Places of a closed polygon, closer together where it bends.

    Args:
        corners: in order, shape (n, 2) [in].
    """
    corners = _counterclockwise(corners)
    along, length = _along(corners)
    closed = np.vstack([corners, corners[:1]])
    at = np.concatenate([along, [length]])
    count = DRAWN_PLACES * _POINTS_EACH
    share = length * np.arange(count) / count
    points = np.column_stack([np.interp(share, at, closed[:, k]) for k in (0, 1)])
    number = _numbers(points)
    runs = np.empty(DRAWN_PLACES, dtype=object)
    for one, run in enumerate(np.split(points, np.searchsorted(number, np.arange(1, DRAWN_PLACES)))):
        runs[one] = run
    return Edge(np.array([run[len(run) // 2] for run in runs]), runs)


def _numbers(points: Floats) -> npt.NDArray[np.intp]:
    """Which place each of the even points of a closed edge belongs to: as many for each length as for each turn."""
    steps = np.roll(points, -1, axis=0) - points
    way = np.arctan2(steps[:, 1], steps[:, 0])
    turned = np.abs((way - np.roll(way, 1) + np.pi) % (2.0 * np.pi) - np.pi)
    width = 2 * _POINTS_EACH
    window = np.concatenate([turned[-width:], turned, turned[: width - 1]])
    spread = np.convolve(window, np.full(2 * width, 0.5 / width), mode="valid")
    density = 1.0 + np.minimum(spread / spread.mean(), 2.0 * _DENSEST - 1.0)
    reached = np.cumsum(density)
    number: npt.NDArray[np.intp] = (DRAWN_PLACES * (reached - density) / reached[-1]).astype(np.intp)
    return np.minimum(number, DRAWN_PLACES - 1)


def _counterclockwise(points: Floats) -> Floats:
    after = np.roll(points, -1, axis=0)
    doubled = float(np.sum(points[:, 0] * after[:, 1] - after[:, 0] * points[:, 1]))
    return points if doubled > 0.0 else points[::-1]


def _along(points: Floats) -> tuple[Floats, float]:
    """How far along the edge each point lies, and all round [in]."""
    steps = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
    return np.concatenate([[0.0], np.cumsum(steps)])[:-1], float(steps.sum())


def _on_parabola(near: Floats, at: Floats) -> Floats:
    """Where the edge passes a point, by its neighborhood."""
    if len(near) < _LEAST_NEAR:
        return np.median(near, axis=0)
    _, _, ways = np.linalg.svd(near - near.mean(axis=0), full_matrices=False)
    x, y = ((near - at) @ ways.T).T
    matrix = np.column_stack([np.ones(len(x)), x, x**2])
    high = float(robust_fit(matrix, y)[0])
    placed: Floats = at + high * ways[1]
    return placed
