"""Places along a closed loop: even bays between forced stations, and the places that corners suggest."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.said import inch
from hatchwright.shapes.contacts import contacts
from hatchwright.shapes.corners import corners
from hatchwright.shapes.pieces import Floats, complex_of, joined, pair_of, pieces_between, points_of
from hatchwright.shapes.profile import Loop

_SAME_IN = 1e-9


class Stations(Struct, frozen=True):
    """Places along a loop.

    Args:
        along_in: arc lengths from the loop's first vertex, shape (n,) [in].
        points: the places, shape (n, 2) [in].
    """

    along_in: Floats
    points: Floats


def stations(
    loop: Loop, *, pitch_in: float, forced: Iterable[float] = (), shift_ratio: float = 0.0
) -> Stations:
    """Divide a loop evenly between forced places, so that no bay is longer than a pitch.

    Args:
        forced: arc lengths at which bays must end; the first vertex when empty [in].
        shift_ratio: how far every place is moved on, as a share of its bay; 0.5 staggers [-].
    Returns:
        Stations: in the order of the run, from the first forced place.
    Raises:
        GeometryError: the pitch is not a length, or so small that the count would be absurd.
    """
    length_in = loop.length_in
    if not 0.0 < pitch_in < math.inf or length_in / pitch_in > 1e5:
        raise GeometryError.saying("error.pitch", where="pitch", pitch=inch(pitch_in))
    ends = np.sort(np.mod(np.fromiter(forced, dtype=float), length_in)) if forced else np.zeros(1)
    ends = ends[np.append(True, np.diff(ends) > _SAME_IN)]
    run_in = np.diff(np.append(ends, ends[0] + length_in))
    bays = np.maximum(1, np.ceil(run_in / pitch_in - 1e-9)).astype(int).tolist()
    return bays_between(loop, ends, bays, shift_ratio=shift_ratio)


def bays_between(
    loop: Loop, ends: Iterable[float], bays: Iterable[int], *, shift_ratio: float = 0.0
) -> Stations:
    """Divide a loop into so many even bays between one place and the next.

    Args:
        ends: arc lengths in the order of the run, all within one turn of the first, shape (n,) [in].
        bays: how many from each to the next, from the last to the first; shape (n,) [-].
        shift_ratio: see `stations`.
    """
    ends = np.fromiter(ends, dtype=float)
    places = [
        start + (stop - start) * (np.arange(count) + shift_ratio) / count
        for start, stop, count in zip(ends, np.append(ends[1:], ends[0] + loop.length_in), bays, strict=True)
    ]
    return places_at(loop, np.concatenate(places))


def places_at(loop: Loop, along_in: npt.ArrayLike) -> Stations:
    """The places at arc lengths from a loop's first vertex, any number of turns, shape (n,) [in]."""
    parts = loop.working_form()
    ends = np.cumsum(parts.length_in)
    along = np.mod(np.atleast_1d(np.asarray(along_in, dtype=float)), ends[-1])
    which = np.minimum(np.searchsorted(ends, along, side="right"), parts.count - 1)
    share = (along - (ends[which] - parts.length_in[which])) / parts.length_in[which]
    return Stations(along, points_of(parts.at(which, share)))


def station_toward(loop: Loop, center: tuple[float, float], angle_rad: float) -> float:
    """Where a ray from a point crosses a loop, the farthest place of several: arc length from its first vertex [in].

    Args:
        angle_rad: of the ray, from x toward y [rad].
    Raises:
        GeometryError: the ray misses the loop.
    """
    (start,), parts = complex_of([center]), loop.working_form()
    far_in = 2.0 * float(np.abs(parts.start - start).max() + loop.length_in)
    ray = pieces_between(np.array([start]), np.array([start + far_in * np.exp(1j * angle_rad)]), np.zeros(1))
    first, second, places = contacts(joined((parts, ray)))
    met = places[(first == parts.count) | (second == parts.count)]
    if not len(met):
        raise GeometryError.saying_at(start, "error.ray_misses")
    return nearest_station(loop, pair_of(met[np.abs(met - start).argmax()]))


def corner_middles(loop: Loop) -> tuple[float, ...]:
    """The middle of each corner, its vertex when it is sharp: lengths from the first vertex, in no order [in]."""
    return tuple(nearest_station(loop, corner.place) for corner in corners(loop))


def tangent_points(loop: Loop) -> tuple[float, ...]:
    """Both ends of each arc: lengths from the first vertex, in the order of the run [in]."""
    parts = loop.working_form()
    ends = np.cumsum(parts.length_in)
    found = np.concatenate([(ends - parts.length_in)[parts.is_arc], ends[parts.is_arc]])
    return tuple(sorted(set(np.mod(found, ends[-1]).tolist())))


def nearest_station(loop: Loop, point: tuple[float, float]) -> float:
    """The place of a loop that lies nearest to a point: arc length from its first vertex [in]."""
    parts = loop.working_form()
    at = complex_of([point])
    _, which = parts.distance(at)
    foot = parts.feet(at, which)
    k = int(which[0])
    run = parts.length_in
    if parts.is_arc[k]:
        arm, first = foot[0] - parts.center[k], parts.start[k] - parts.center[k]
        angle = float(np.angle(arm / first)) * float(np.sign(parts.bulge[k]))
        part_in = (angle % (2.0 * math.pi) if angle < -_SAME_IN else max(angle, 0.0)) * float(parts.radius[k])
    else:
        part_in = float(np.abs(foot[0] - parts.start[k]))
    return float(np.sum(run[:k])) + part_in
