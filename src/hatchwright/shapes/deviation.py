"""How far one region is from another: metal left and metal lost, each with its deepest place and its area."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.said import said
from hatchwright.shapes.boolean import differences
from hatchwright.shapes.pieces import Floats, Integers, Pieces, pair_of
from hatchwright.shapes.profile import Profile

_SAME_IN = 1e-9
_LONGEST_SPAN_IN = 0.5
_SAMPLES = 17
_ZOOM = np.linspace(-1.0, 1.0, 33)
_RISE_IN = 1e-12
_FINEST_IN = 1e-12


class Depth(Struct, frozen=True):
    """The deepest place of one kind of deviation; depth 0 and no place when there is none [in]."""

    depth_in: float
    place: tuple[float, float] | None


class Deviation(Struct, frozen=True):
    """A made region against the wanted one.

    Args:
        under_cut: deepest metal left standing inside the wanted region.
        over_cut: deepest metal lost outside it.
        left_area_sq_in: wanted but not made [sq in].
        over_area_sq_in: made but not wanted [sq in].
    """

    under_cut: Depth
    over_cut: Depth
    left_area_sq_in: float
    over_area_sq_in: float


@lru_cache(maxsize=256)
def deviation(made: Profile, wanted: Profile) -> Deviation:
    """Compare a made region with the wanted one.

    A depth is measured both ways, from either edge to the other, since at a sharp tip the two differ; the larger is
    reported with its place.

    Raises:
        GeometryError: a region is empty or crosses itself.
    Method: docs/theory/offset.md, section 4.
    """
    if made.is_empty or wanted.is_empty:
        missing = "made" if made.is_empty else "wanted"
        raise GeometryError(said("error.no_region", region=missing), where=missing)
    left, over = differences(wanted, made)
    edges = (made.working_form(), wanted.working_form())
    return Deviation(
        under_cut=_deepest(left, edges),
        over_cut=_deepest(over, edges),
        left_area_sq_in=left.area_sq_in,
        over_area_sq_in=over.area_sq_in,
    )


def _deepest(region: Profile, edges: tuple[Pieces, Pieces]) -> Depth:
    """The place on the region's own edge that lies farthest from one of the two edges that bound it."""
    if region.is_empty:
        return Depth(0.0, None)
    parts = region.working_form()
    depth_in, place = max((_farthest(parts, edge) for edge in edges), key=lambda found: found[0])
    return Depth(depth_in, pair_of(place)) if depth_in > _SAME_IN else Depth(0.0, None)


def _farthest(parts: Pieces, edge: Pieces) -> tuple[float, complex]:
    """Sample short spans of the parts, then close in on every peak that may still become the highest.

    A distance changes no faster than its point moves, so a peak within a step of a sample is at most a step higher.
    """
    which, share, step_share = _samples(parts)
    places = parts.at(which.ravel(), share.ravel())
    depth = edge.distance(places)[0].reshape(which.shape)
    best = int(depth.argmax())
    found_in, found = float(depth.ravel()[best]), complex(places[best])
    before, after = np.full_like(depth, -np.inf), np.full_like(depth, -np.inf)
    before[:, 1:], after[:, :-1] = depth[:, :-1], depth[:, 1:]
    step_in = step_share * parts.length_in[which[:, 0]]
    peak = (depth - before > _RISE_IN) & (after - depth <= _RISE_IN) & (depth + step_in[:, None] > found_in)
    span = peak.nonzero()[0]
    which, share, step_share = which[peak], share[peak], step_share[span]
    while which.size:
        shares = np.clip(share[:, None] + step_share[:, None] * _ZOOM, 0.0, 1.0)
        places = parts.at(np.repeat(which, _ZOOM.size), shares.ravel())
        depth = edge.distance(places)[0].reshape(shares.shape)
        best = int(depth.argmax())
        if depth.ravel()[best] > found_in:
            found_in, found = float(depth.ravel()[best]), complex(places[best])
        step_share = step_share * (_ZOOM[1] - _ZOOM[0])
        step_in = step_share * parts.length_in[which]
        alive = (depth.max(axis=1) + step_in > found_in) & (step_in > _FINEST_IN)
        share = shares[np.arange(len(which)), depth.argmax(axis=1)]
        which, share, step_share = which[alive], share[alive], step_share[alive]
    return found_in, found


def _samples(parts: Pieces) -> tuple[Integers, Floats, Floats]:
    """Piece and share of every sample, spans by samples, and the share between samples of each span."""
    spans = np.ceil(parts.length_in / _LONGEST_SPAN_IN)
    which, start = parts.divided(spans)
    share = start[:, None] + np.linspace(0.0, 1.0, _SAMPLES) / spans[which][:, None]
    step_share: Floats = 1.0 / (spans[which] * (_SAMPLES - 1))
    return np.repeat(which[:, None], _SAMPLES, axis=1), share, step_share
