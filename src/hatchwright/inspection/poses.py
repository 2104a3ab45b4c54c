"""The ways in which a measured set of holes may lie on the drawn pattern: turned, shifted, mirrored, by number or not.

Method: docs/theory/matching.md, eq. 1 to 4.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.inspection.readings import Reading
from hatchwright.metrology.real_offset import Floats

CALL_LEVEL = 1.0 - 1e-5
"""Level of confidence beyond which a set is called mirrored, shifted, or a hole off: one clean set in 100,000 is by
chance; own choice, so that a shop meets no false call [-]."""

_PAIRS = 12
"""Pairs of readings from which poses are worked out; one without an extra or misplaced hole is enough [-]."""

_MOST_POSES = 2000
_SETTLING = 6
"""Rounds of laying on and matching anew; a pose comes to rest after two or three [-]."""

_PLAIN = np.array([1.0, 1.0])
_MIRRORED = np.array([-1.0, 1.0])

Counts = npt.NDArray[np.int64]


class Pattern(Struct, frozen=True):
    """The holes as drawn.

    Args:
        numbers: of each hole, shape (n,).
        places_in: shape (n, 2) [in].
        gap_in: half of the least distance between two holes: a reading that is nearer to one than that belongs to no
            other [in].
    """

    numbers: Counts
    places_in: Floats
    gap_in: float

    @property
    def middle_in(self) -> Floats:
        """Mean of the places, shape (2,) [in]."""
        middle: Floats = self.places_in.mean(axis=0)
        return middle

    def index_of(self) -> dict[int, int]:
        """Number of each hole to its place in the arrays."""
        return {int(number): at for at, number in enumerate(self.numbers)}


def pattern_of(places_in: Mapping[int, tuple[float, float]]) -> Pattern:
    """The pattern of numbered places [in]."""
    from scipy.spatial import KDTree

    numbers = np.array(sorted(places_in), dtype=np.int64)
    places = np.array([places_in[int(number)] for number in numbers], dtype=float).reshape(-1, 2)
    if len(places) < 2:
        return Pattern(numbers, places, math.inf)
    nearest = KDTree(places).query(places, k=2)[0][:, 1]
    return Pattern(numbers, places, 0.5 * float(nearest.min()))


class Pose(Struct, frozen=True):
    """One way in which the pattern may lie: mirrored about its own Y first where it is, then turned, then shifted.

    Args:
        shift_in: of the pattern's middle (x, y) [in].
    """

    turn_rad: float
    shift_in: tuple[float, float]
    is_mirrored: bool = False

    @property
    def quarter(self) -> int:
        """Quarter turns, to the nearest, 0 to 3; a mirror image along X has none, one along Y two."""
        return round(self.turn_rad / (0.5 * math.pi)) % 4

    @property
    def plainness(self) -> tuple[bool, float, float]:
        """The less, the plainer: not mirrored, little turned, little shifted."""
        return self.is_mirrored, abs(math.remainder(self.turn_rad, math.tau)), math.hypot(*self.shift_in)

    def laid(self, pattern: Pattern) -> Floats:
        """Where the holes lie by it, shape (n, 2) [in]."""
        c, s = math.cos(self.turn_rad), math.sin(self.turn_rad)
        out = (pattern.places_in - pattern.middle_in) * (_MIRRORED if self.is_mirrored else _PLAIN)
        laid: Floats = out @ np.array([[c, s], [-s, c]]) + pattern.middle_in + self.shift_in
        return laid


def pose_through(pattern: Pattern, drawn: Counts, measured_in: Floats, *, is_mirrored: bool) -> Pose:
    """The pose that carries some holes onto their readings best.

    Args:
        drawn: which holes, shape (k,).
        measured_in: their readings, shape (k, 2) [in].
    """
    sign = _MIRRORED if is_mirrored else _PLAIN
    out = (pattern.places_in[drawn] - pattern.middle_in) * sign
    about, found = out - out.mean(axis=0), measured_in - measured_in.mean(axis=0)
    across = float(np.sum(about[:, 0] * found[:, 1] - about[:, 1] * found[:, 0]))
    turn = math.atan2(across, float(np.sum(about * found)))
    c, s = math.cos(turn), math.sin(turn)
    shift = measured_in.mean(axis=0) - out.mean(axis=0) @ np.array([[c, s], [-s, c]]) - pattern.middle_in
    return Pose(turn, (float(shift[0]), float(shift[1])), is_mirrored)


class Laid(Struct, frozen=True):
    """A pose with how well it fits.

    Args:
        cost_in2: sum of squares between each reading and its hole, none counted for more than the gap; a hole that has
            no reading, or a reading that has no hole, counts as the gap [in^2].
        count: readings that have a hole.
    """

    pose: Pose
    cost_in2: float
    count: int

    def is_worse_than(self, other: Laid) -> bool:
        """Whether it fits so much worse that it is not by chance.

        Method: docs/theory/matching.md, eq. 3: the ratio of two sums of squares, Fisher's law with 2n - 3 degrees of
            freedom each.
        """
        freedom = 2 * other.count - 3
        if freedom < 1:
            return False
        return self.cost_in2 > _critical_ratio(freedom) * max(other.cost_in2, _NOTHING_IN2)


_NOTHING_IN2 = 1e-12
"""What readings without any error are held to have missed by all the same [in^2]."""


def _critical_ratio(freedom: int) -> float:
    from scipy.special import fdtri

    return float(fdtri(freedom, freedom, CALL_LEVEL))


def by_number(pattern: Pattern, readings: tuple[Reading, ...], *, floor_in: float) -> Iterator[Laid]:
    """Poses under which at least half of the numbered readings lie at their own holes, as drawn and mirrored.

    Args:
        floor_in: standard uncertainty of a reading; nothing fits better than that [in].
    """
    index = pattern.index_of()
    numbered = [(index[one.number], one.place) for one in readings if one.number in index]
    if len(numbered) < 2:
        return
    drawn = np.array([at for at, _ in numbered])
    measured = np.array([place for _, place in numbered])
    for is_mirrored in (False, True):
        tried = [pose_through(pattern, drawn, measured, is_mirrored=is_mirrored)]
        tried += [
            pose_through(pattern, drawn[list(pair)], measured[list(pair)], is_mirrored=is_mirrored)
            for pair in _wide_pairs(measured)
        ]
        found = [_of_numbers(pattern, drawn, measured, one, floor_in) for one in tried]
        best = min(found, key=lambda one: one.cost_in2)
        if 2 * best.count >= len(numbered):
            yield _of_places(pattern, measured, best.pose, floor_in)


def _of_numbers(pattern: Pattern, drawn: Counts, measured: Floats, pose: Pose, floor_in: float) -> Laid:
    """A pose at rest over the readings that lie at their own holes."""
    for _ in range(_SETTLING):
        near = np.hypot(*(pose.laid(pattern)[drawn] - measured).T) < pattern.gap_in
        if near.sum() < 2:
            break
        pose = pose_through(pattern, drawn[near], measured[near], is_mirrored=pose.is_mirrored)
    off = np.hypot(*(pose.laid(pattern)[drawn] - measured).T)
    near = off < pattern.gap_in
    counted = np.where(near, np.maximum(off, floor_in), min(pattern.gap_in, _FAR_IN))
    return Laid(pose, float(counted @ counted), int(near.sum()))


def _of_places(pattern: Pattern, measured: Floats, pose: Pose, floor_in: float) -> Laid:
    """How well the readings fit the holes next to them, whatever their numbers; holes without a reading don't count."""
    from scipy.spatial import KDTree

    off = KDTree(pose.laid(pattern)).query(measured, distance_upper_bound=pattern.gap_in)[0]
    counted = np.minimum(np.maximum(off, floor_in), min(pattern.gap_in, _FAR_IN))
    return Laid(pose, float(counted @ counted), int(np.isfinite(off).sum()))


_FAR_IN = 1e3
"""What counts for the gap of a pattern of one hole [in]."""


def _wide_pairs(measured: Floats) -> Iterable[tuple[int, int]]:
    """Pairs of readings that lie far apart, spread over the whole set."""
    apart = np.hypot(*(measured[:, None, :] - measured[None, :, :]).transpose(2, 0, 1))
    first = np.unique(np.linspace(0, len(measured) - 1, _PAIRS).round().astype(int))
    return {
        (int(min(k, far)), int(max(k, far))) for k in first for far in [int(apart[k].argmax())] if far != k
    }


def unordered(pattern: Pattern, readings: tuple[Reading, ...], *, floor_in: float) -> list[Laid]:
    """Poses in which the readings may lie without regard to their numbers: where they are, the eight ways about the
    middle, and those that carry a pair of holes onto a pair of readings as far apart.

    Method: docs/theory/matching.md, eq. 4.
    """
    from scipy.spatial import KDTree

    measured = np.array([one.place for one in readings])
    tree = KDTree(measured)
    moved = measured.mean(axis=0) - pattern.middle_in
    shift = (float(moved[0]), float(moved[1]))
    tried = [Pose(0.0, (0.0, 0.0))]
    tried += [Pose(0.5 * math.pi * k, shift, flip) for flip in (False, True) for k in range(4)]
    tried += _through_pairs(pattern, measured)[:_MOST_POSES]
    rough = sorted((_cost(pattern, tree, pose, floor_in) for pose in tried), key=lambda one: one.cost_in2)
    found: dict[tuple[bool, int, tuple[int, ...]], Laid] = {}
    for laid in [*rough[:_KEPT], *(_cost(pattern, tree, pose, floor_in) for pose in tried[:_NATURAL])]:
        best = _at_rest(pattern, measured, tree, laid.pose, floor_in)
        steps = tuple(round(one / pattern.gap_in) for one in best.pose.shift_in)
        key = best.pose.is_mirrored, best.pose.quarter, steps
        if key not in found or best.cost_in2 < found[key].cost_in2:
            found[key] = best
    return list(found.values())


_KEPT = 24
"""So many of the best poses are brought to rest [-]."""

_NATURAL = 9
"""The first poses, which are brought to rest however they fit: where the readings are, and the eight ways [-]."""


def _through_pairs(pattern: Pattern, measured: Floats) -> list[Pose]:
    """Poses that carry two holes onto two readings, both as drawn and mirrored."""
    places = pattern.places_in
    apart = np.hypot(*(places[:, None, :] - places[None, :, :]).transpose(2, 0, 1))
    found = []
    for one, other in sorted(_wide_pairs(measured)):
        long = float(np.hypot(*(measured[one] - measured[other])))
        alike = np.argwhere(np.abs(apart - long) < pattern.gap_in / 2.0)
        order = np.argsort(np.abs(apart[alike[:, 0], alike[:, 1]] - long), kind="stable")
        for pair in alike[order][: _MOST_POSES // (2 * _PAIRS)]:
            if pair[0] != pair[1]:
                found += [
                    pose_through(pattern, pair, measured[[one, other]], is_mirrored=flip)
                    for flip in (False, True)
                ]
    return found


def _cost(pattern: Pattern, tree: Any, pose: Pose, floor_in: float) -> Laid:
    """How well the nearest readings fit; readings that have no hole are counted by the difference in number."""
    off, _ = tree.query(pose.laid(pattern), distance_upper_bound=pattern.gap_in)
    near = np.isfinite(off)
    count = int(near.sum())
    lost = max(len(off), tree.n) - count
    gap_in = min(pattern.gap_in, _FAR_IN)
    counted = np.maximum(off[near], floor_in)
    return Laid(pose, float(counted @ counted) + lost * gap_in**2, count)


def _at_rest(pattern: Pattern, measured: Floats, tree: Any, pose: Pose, floor_in: float) -> Laid:
    """Lay on, match the nearest, and lay on anew, until nothing changes."""
    before: tuple[int, ...] = ()
    for _ in range(_SETTLING):
        off, nearest = tree.query(pose.laid(pattern), distance_upper_bound=pattern.gap_in)
        near = np.flatnonzero(np.isfinite(off))
        now = tuple(nearest[near].tolist())
        if len(near) < 2 or now == before:
            break
        before = now
        pose = pose_through(pattern, near, measured[nearest[near]], is_mirrored=pose.is_mirrored)
    return _cost(pattern, tree, pose, floor_in)


def plainest(found: Iterable[Laid]) -> tuple[Laid | None, tuple[Laid, ...]]:
    """The pose to take: the plainest of those that are not worse than the best by more than chance; and all others of
    these, which fit as well."""
    laid = list(found)
    if not laid:
        return None, ()
    best = min(laid, key=lambda one: one.cost_in2)
    alike = sorted((one for one in laid if not one.is_worse_than(best)), key=lambda one: one.pose.plainness)
    return alike[0], tuple(alike[1:])
