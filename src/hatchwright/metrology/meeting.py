"""A place from its distances to places that are known.

Method: docs/theory/site.md, eq. 10.   Source: [JCGM 100:2008], 5.1.2 for the uncertainties.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.metrology.propagated import Floats, Propagated, combined, covariance
from hatchwright.metrology.routes import Place

_STEPS, _SETTLED = 60, 1e-12

_FLAT = 1e-3
"""Directions that turn by less than this leave the place open along one of them [-]; 1e-3 is a tenth of a degree."""


def meeting(known: Sequence[Place], distances: Sequence[Propagated], near: tuple[float, float]) -> Place:
    """Where distances from known places meet, by least squares where there are more than two.

    Args:
        near: on which side to look, since two circles meet twice [in].
    Raises:
        GeometryError: they don't meet, or all run along one line.
    """
    points = np.array([[x.value, y.value] for x, y in known])
    taped = np.array([one.value for one in distances])
    place = np.array(near)
    try:
        for _ in range(_STEPS):
            ways, found = _ways(points, place)
            # What is weighed is the miss of each circle: the distance less what the place of its center adds.
            misses = _misses(known, distances, ways)
            weights = np.linalg.inv(covariance(misses))
            if abs(np.linalg.svd(ways, compute_uv=False)[-1]) < _FLAT:
                raise np.linalg.LinAlgError
            gain = np.linalg.solve(ways.T @ weights @ ways, ways.T @ weights)
            step = gain @ (taped - found)
            longest = float(np.abs(taped).max())
            place = place + step * min(1.0, 0.5 * longest / max(float(np.hypot(*step)), 1e-300))
            if np.abs(step).max() <= _SETTLED * longest:
                break
        else:
            raise GeometryError.saying("meeting.none")
    except np.linalg.LinAlgError:
        raise GeometryError.saying("meeting.none") from None
    x, y = (
        combined(float(at), list(zip(map(float, rates), misses, strict=True)))
        for at, rates in zip(place, gain, strict=True)
    )
    return x, y


def _ways(points: Floats, place: Floats) -> tuple[Floats, Floats]:
    """Unit vectors from the points to a place, and the distances."""
    steps = place - points
    found: Floats = np.hypot(steps[:, 0], steps[:, 1])
    if not found.all():
        raise np.linalg.LinAlgError
    return steps / found[:, None], found


def _misses(known: Sequence[Place], distances: Sequence[Propagated], ways: Floats) -> list[Propagated]:
    return [
        combined(taped.value, [(1.0, taped), (float(way[0]), x), (float(way[1]), y)])
        for (x, y), taped, way in zip(known, distances, ways, strict=True)
    ]
