"""Distances: from points to the nearest edge of a profile, and between points that lie close together."""

from __future__ import annotations

from functools import cached_property

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.said import inch, said
from hatchwright.shapes.pieces import Bools, Complexes, Floats, Integers, Pieces, complex_of, points_of
from hatchwright.shapes.profile import Profile

_FEW = 100

_ONE_PLACE_IN = 1e-9
"""Places that lie nearer to each other are one [in]."""

_SQUARE = 1e-6
"""Cosine to an edge under which a distance is square to it [-]."""


class Distances(Struct, frozen=True, eq=False, dict=True):
    """How far points lie from a profile's edge; what only some ask for is worked out when they do.

    Args:
        distance_in: to the nearest place on the edge, never negative, shape (n,) [in].
    """

    distance_in: Floats
    _which: Integers
    _points: Complexes
    _parts: Pieces

    @cached_property
    def foot(self) -> Floats:
        """The nearest place on the edge, shape (n, 2) [in]."""
        return points_of(self._parts.feet(self._points, self._which))

    @cached_property
    def bends_about(self) -> Floats:
        """About which point the distance bends when its point moves along the edge: the center of the arc, or the
        corner that is nearest; NaN beside a line, shape (n, 2) [in]."""
        parts, which, points = self._parts, self._which, self._points
        foot, is_arc = complex_of(self.foot), parts.is_arc[which]
        first, last = parts.tangents()
        out = points - foot
        at_start = np.abs(foot - parts.start[which]) < _ONE_PLACE_IN
        at_end = np.abs(foot - parts.end[which]) < _ONE_PLACE_IN
        leaning = np.where(at_start, (first[which].conj() * out).real, (last[which].conj() * out).real)
        is_corner = (at_start | at_end) & (np.abs(leaning) > _SQUARE * np.abs(out))
        none = complex(np.nan, np.nan)
        return points_of(np.where(is_corner, foot, np.where(is_arc, parts.center[which], none)))

    @cached_property
    def inside(self) -> Bools:
        """Whether the point lies in the region, shape (n,)."""
        return self._parts.inside(self._points)

    @property
    def inward_in(self) -> Floats:
        """The distance of a point inside the region, that of one outside as a negative one, shape (n,) [in]."""
        return np.where(self.inside, self.distance_in, -self.distance_in)


def distances(profile: Profile, points: npt.ArrayLike) -> Distances:
    """True distance from each point to the nearest edge, lines and arcs alike.

    Args:
        points: shape (n, 2) [in].
    Raises:
        GeometryError: the profile is empty.
    """
    if profile.is_empty:
        raise GeometryError(said("error.empty_edge"))
    z = complex_of(points)
    parts = profile.working_form()
    distance_in, which = parts.distance(z)
    return Distances(distance_in, which, z, parts)


def pairs_within(points: npt.ArrayLike, limit_in: float) -> tuple[Integers, Integers, Floats]:
    """All pairs of points that lie no farther apart than a limit.

    Many points are filed in square cells of the limit's size; only a cell and half of its neighbors are compared,
    so the work grows with the number of points and of pairs, not with its square. Few are compared each with each.

    Args:
        points: shape (n, 2) [in].
    Returns:
        tuple: indices i < j, each of shape (m,), and distance of shape (m,) [in], ordered by i, then j.
    Raises:
        GeometryError: the limit is not a positive length.
    """
    if not 0.0 < limit_in < np.inf:
        raise GeometryError(
            said("error.limit", limit=inch(limit_in)), where="limit_in", remedy=said("error.over_zero_length")
        )
    z = complex_of(points)
    if len(z) <= _FEW:
        apart = np.abs(z[:, None] - z)
        i, j = np.triu(apart <= limit_in, 1).nonzero()
        return i, j, apart[i, j]
    column = np.floor((z.real - z.real.min()) / limit_in).astype(np.int64)
    row = np.floor((z.imag - z.imag.min()) / limit_in).astype(np.int64)
    stride = row.max() + 3
    cell = column * stride + row
    order = np.argsort(cell, kind="stable")
    filed = cell[order]
    firsts, seconds = [], []
    for step in (0, 1, stride - 1, stride, stride + 1):
        begin = np.arange(1, len(z) + 1) if step == 0 else np.searchsorted(filed, filed + step, side="left")
        count = np.searchsorted(filed, filed + step, side="right") - begin
        first = np.repeat(np.arange(len(z)), count)
        within = np.arange(len(first)) - np.repeat(np.cumsum(count) - count, count)
        firsts.append(order[first])
        seconds.append(order[np.repeat(begin, count) + within])
    i, j = np.concatenate(firsts), np.concatenate(seconds)
    i, j = np.minimum(i, j), np.maximum(i, j)
    apart = np.abs(z[i] - z[j])
    near = (apart <= limit_in).nonzero()[0]
    near = near[np.lexsort((j[near], i[near]))]
    return i[near], j[near], apart[near]
