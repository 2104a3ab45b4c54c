"""The best fit of what was drilled on what was drawn: what is turn and shift of the template, and what is drilling.

Method: docs/theory/matching.md and docs/theory/registration.md.
"""

from __future__ import annotations

import math

import numpy as np
from msgspec import Struct

from hatchwright.errors import GeometryError
from hatchwright.inspection.laying import by_number, unordered
from hatchwright.inspection.matching import Matching, matched
from hatchwright.inspection.pattern import Pattern
from hatchwright.inspection.poses import CALL_LEVEL, Laid, Pose, plainest
from hatchwright.inspection.readings import Reading
from hatchwright.metrology.budget import COVERAGE
from hatchwright.metrology.points_apart import points_apart
from hatchwright.metrology.real_offset import Floats
from hatchwright.metrology.registration import NOTHING_COMMON, Common, Registration, registered
from hatchwright.units import MM_PER_IN

_SLIP = 0.1
"""A set whose size is within this part of 25.4 times the drawn one, or of 1/25.4, is in the other unit [-]."""

Vector = tuple[float, float]


class HoleFit(Struct, frozen=True):
    """One hole with its reading.

    Args:
        number: of the hole.
        reading: of it.
        drawn_in: its place (x, y) [in].
        off_in: measured less drawn (x, y) [in].
        template_in: what of that the turn and shift of the whole pattern explain (x, y) [in].
        drilling_in: what is left: its own deviation (x, y) [in].
        u_in: expanded uncertainty of the deviation as measured, along each axis [in].
        drilling_u_in: of what is left, along each axis [in].
        is_apart: whether the other holes don't bear it out.
    """

    number: int
    reading: Reading
    drawn_in: Vector
    off_in: Vector
    template_in: Vector
    drilling_in: Vector
    u_in: float
    drilling_u_in: float
    is_apart: bool


class BestFit(Struct, frozen=True):
    """A set of readings laid on its pattern.

    Args:
        pose: as the set lies.
        alike: other poses that fit as well.
        fit: of the pattern, mirrored where the pose is, over all holes that do not stand apart.
        numbers_hold: whether the numbers of the readings agree with the pose; true where none has a number.
    """

    readings: tuple[Reading, ...]
    pattern: Pattern
    pose: Pose
    alike: tuple[Pose, ...]
    matching: Matching
    fit: Registration
    holes: tuple[HoleFit, ...]
    numbers_hold: bool


def best_fit(readings: tuple[Reading, ...], pattern: Pattern, *, common: Common = NOTHING_COMMON) -> BestFit:
    """Lay readings on their pattern.

    Args:
        common: errors that all readings share, as standard uncertainties.
    Raises:
        GeometryError: fewer than two readings are of a hole, all are in one place, or they are in the other unit.
    """
    if len(readings) < 2 or len(pattern.numbers) < 2:
        raise GeometryError.saying("fit.few_points", n=min(len(readings), len(pattern.numbers)), least=2)
    refuse_other_unit(readings, pattern)
    laid, alike, numbers_hold = _pose(readings, pattern)
    pose = laid.pose
    laid_in = pose.laid(pattern)
    found = matched(pattern, readings, laid_in, numbers_hold=numbers_hold)
    drawn, measured, own = _arrays(readings, pattern, found, is_mirrored=pose.is_mirrored)
    off_in = np.hypot(*(measured - laid_in[[hole for _, hole in found.pairs]]).T)
    near = np.flatnonzero(off_in < pattern.gap_in)
    told = points_apart(drawn[near], measured[near], own_in=own[near], level=CALL_LEVEL)
    kept = np.setdiff1d(near, near[[one.index for one in told]])
    apart = set(range(len(drawn))) - set(kept.tolist())
    fit = registered(drawn[kept], measured[kept], own_in=own[kept], common=common)
    return BestFit(
        readings=readings,
        pattern=pattern,
        pose=pose,
        alike=tuple(one.pose for one in alike),
        matching=found,
        fit=fit,
        holes=_holes(readings, pattern, found, fit, drawn, apart),
        numbers_hold=numbers_hold,
    )


def refuse_other_unit(readings: tuple[Reading, ...], pattern: Pattern) -> None:
    """GeometryError where the set is as much too large, or too small, as an inch is longer than a millimeter."""
    places = np.array([one.place for one in readings])
    spread = float(np.hypot(*places.std(axis=0)))
    ratio = spread / float(np.hypot(*pattern.places_in.std(axis=0)))
    if abs(ratio / MM_PER_IN - 1.0) < _SLIP:
        raise GeometryError.saying("fit.unit.mm")
    if abs(ratio * MM_PER_IN - 1.0) < _SLIP:
        raise GeometryError.saying("fit.unit.in")


def _pose(readings: tuple[Reading, ...], pattern: Pattern) -> tuple[Laid, tuple[Laid, ...], bool]:
    """By the numbers where these agree with any pose, else by the places alone."""
    floor_in = min(one.u_in for one in readings) / COVERAGE
    laid, alike = plainest(pattern, by_number(pattern, readings, floor_in=floor_in))
    if laid is not None:
        return laid, alike, True
    laid, alike = plainest(pattern, unordered(pattern, readings, floor_in=floor_in))
    if laid is None or 2 * laid.count < len(readings):
        raise GeometryError.saying("fit.no_pose", n=len(readings))
    return laid, alike, all(one.number is None for one in readings)


def _arrays(
    readings: tuple[Reading, ...], pattern: Pattern, found: Matching, *, is_mirrored: bool
) -> tuple[Floats, Floats, Floats]:
    """Drawn and measured places of the pairs, shape (n, 2) [in], and standard uncertainties, shape (n,) [in]."""
    drawn = np.array([pattern.places_in[hole] for _, hole in found.pairs]).reshape(-1, 2)
    if is_mirrored:
        drawn = mirrored(drawn, pattern)
    measured = np.array([readings[k].place for k, _ in found.pairs]).reshape(-1, 2)
    return drawn, measured, np.array([readings[k].u_in / COVERAGE for k, _ in found.pairs])


def mirrored(places_in: Floats, pattern: Pattern) -> Floats:
    """Places mirrored about the middle of the pattern, as the poses are, shape (n, 2) [in]."""
    middle = pattern.middle_in
    image: Floats = (places_in - middle) * [-1.0, 1.0] + middle
    return image


def _holes(
    readings: tuple[Reading, ...],
    pattern: Pattern,
    found: Matching,
    fit: Registration,
    drawn: Floats,
    apart: set[int],
) -> tuple[HoleFit, ...]:
    laid, standard = fit.placed(drawn), fit.place_standard_in(drawn)
    told = []
    for k, (at, hole) in enumerate(found.pairs):
        reading, place = readings[at], pattern.places_in[hole]
        measured = np.array(reading.place)
        told.append(
            HoleFit(
                number=int(pattern.numbers[hole]),
                reading=reading,
                drawn_in=_vector(place),
                off_in=_vector(measured - place),
                template_in=_vector(laid[k] - place),
                drilling_in=_vector(measured - laid[k]),
                u_in=reading.u_in,
                drilling_u_in=COVERAGE * math.hypot(reading.u_in / COVERAGE, float(standard[k].max())),
                is_apart=k in apart,
            )
        )
    return tuple(sorted(told, key=lambda one: one.number))


def _vector(values: Floats) -> Vector:
    return float(values[0]), float(values[1])
