"""How far one region is from another: metal left and metal lost, each with its deepest place and its area."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hatchwright.shapes.boolean import difference
from hatchwright.shapes.pieces import Complexes, Floats, Pieces
from hatchwright.shapes.profile import Profile

_SAME_IN = 1e-9
_SAMPLES = 33
_REFINEMENTS = 44
_GOLDEN_RATIO = (5.0**0.5 - 1.0) / 2.0


@dataclass(frozen=True, slots=True)
class Depth:
    """The deepest place of one kind of deviation; depth 0 and no place when there is none [in]."""

    depth_in: float
    place: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class Deviation:
    """A made region against the wanted one.

    Args:
        under_cut: deepest metal left standing inside the wanted region.
        over_cut: deepest metal lost outside it.
        left_area_sq_in: wanted but not made [in^2].
        over_area_sq_in: made but not wanted [in^2].
    """

    under_cut: Depth
    over_cut: Depth
    left_area_sq_in: float
    over_area_sq_in: float


def deviation(made: Profile, wanted: Profile) -> Deviation:
    """Compare a made region with the wanted one.

    A depth is measured both ways, from either edge to the other, since at a sharp tip the two differ; the larger is
    reported with its place.

    Args:
        made: the region as made, such as a predicted cut [in].
        wanted: the region that is wanted [in].
    Returns:
        Deviation: under-cut and over-cut.
    Raises:
        GeometryError: a region crosses itself.
    Method: the differences of the two regions are exact; the greatest distance along each of their pieces is bracketed
        by sampling and refined by golden section.
    """
    left, over = difference(wanted, made), difference(made, wanted)
    edges = (made.working_form(), wanted.working_form())
    return Deviation(
        under_cut=_deepest(left, edges),
        over_cut=_deepest(over, edges),
        left_area_sq_in=left.area_sq_in,
        over_area_sq_in=over.area_sq_in,
    )


def _deepest(region: Profile, edges: tuple[Pieces, Pieces]) -> Depth:
    """The point of the region's edge that lies farthest from one of the two edges that bound it."""
    if region.is_empty:
        return Depth(0.0, None)
    parts = region.working_form()
    best = Depth(0.0, None)
    for edge in edges:
        depth_in, place = _farthest(parts, edge)
        if depth_in > best.depth_in + _SAME_IN:
            best = Depth(depth_in, (float(place.real), float(place.imag)))
    return best


def _farthest(parts: Pieces, edge: Pieces) -> tuple[float, complex]:
    shares = np.linspace(0.0, 1.0, _SAMPLES)
    points = _points(parts, np.repeat(shares[None, :], parts.count, axis=0))
    depths = edge.distance(points.ravel())[0].reshape(points.shape)
    reach = depths.max(axis=1) + parts.length_in / (_SAMPLES - 1)  # a distance grows no faster than its point moves
    hopeful = reach >= depths.max()
    parts, points, depths = parts.taken(hopeful), points[hopeful], depths[hopeful]
    peak = np.argmax(depths, axis=1)
    low, high = shares[np.maximum(peak - 1, 0)], shares[np.minimum(peak + 1, _SAMPLES - 1)]
    for _ in range(_REFINEMENTS):
        inner = high - _GOLDEN_RATIO * (high - low)
        outer = low + _GOLDEN_RATIO * (high - low)
        rises = edge.distance(_points(parts, inner[:, None]).ravel())[0] < (
            edge.distance(_points(parts, outer[:, None]).ravel())[0]
        )
        low, high = np.where(rises, inner, low), np.where(rises, high, outer)
    refined = _points(parts, (0.5 * (low + high))[:, None]).ravel()
    places = np.concatenate([refined, points[np.arange(parts.count), peak]])
    found = edge.distance(places)[0]
    best = int(np.argmax(found))
    return float(found[best]), complex(places[best])


def _points(parts: Pieces, shares: Floats) -> Complexes:
    """Points a share of the way along each piece; shares of shape (n, m)."""
    chord = (parts.end - parts.start)[:, None]
    turn = np.arctan(parts.bulge)[:, None] * 2.0
    with np.errstate(divide="ignore", invalid="ignore"):
        reach = np.where(turn != 0.0, np.sin(turn * shares) / np.sin(turn), shares)
    points: Complexes = parts.start[:, None] + chord * reach * np.exp(1j * turn * (shares - 1.0))
    return points
