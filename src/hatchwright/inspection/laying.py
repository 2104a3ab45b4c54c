"""Poses of a set of readings on their pattern, looked for by the numbers of the readings and without them.

Method: docs/theory/matching.md, eq. 4.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import numpy as np

from hatchwright.inspection.pattern import Counts, Pattern
from hatchwright.inspection.poses import AS_DRAWN, MIRRORED, PLAIN, Laid, Pose, pose_through
from hatchwright.inspection.readings import Reading
from hatchwright.metrology.real_offset import Floats

_PAIRS = 12
"""Readings from whose pairs poses are worked out; one without an extra or misplaced hole is enough [-]."""

_LESS_FAR = 0.6
"""Part of the readings than which the nearer one of a pair lies farther off [-]."""

_MOST_POSES = 2000
_SETTLING = 6
"""Rounds of laying on and matching anew; a pose comes to rest after two or three [-]."""


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
        tried += [] if is_mirrored else [AS_DRAWN]
        tried += [
            pose_through(pattern, drawn[list(pair)], measured[list(pair)], is_mirrored=is_mirrored)
            for pair in _wide_pairs(measured)
        ]
        found = [_of_numbers(pattern, drawn, measured, one, floor_in) for one in tried]
        best = min(found, key=lambda one: one.cost_in2)
        if 2 * best.count >= len(numbered):
            yield _cost(pattern, measured, best.pose, floor_in)


def _of_numbers(pattern: Pattern, drawn: Counts, measured: Floats, pose: Pose, floor_in: float) -> Laid:
    """A pose at rest over the readings that lie at their own holes."""
    for _ in range(_SETTLING):
        near = np.hypot(*(pose.laid(pattern)[drawn] - measured).T) < pattern.gap_in
        if near.sum() < 2:
            break
        pose = pose_through(pattern, drawn[near], measured[near], is_mirrored=pose.is_mirrored)
    off = np.hypot(*(pose.laid(pattern)[drawn] - measured).T)
    near = off < pattern.gap_in
    counted = np.where(near, np.maximum(off, floor_in), pattern.gap_in)
    return Laid(pose, float(counted @ counted), int(near.sum()))


def _wide_pairs(measured: Floats) -> Iterable[tuple[int, int]]:
    """Pairs of readings that lie far apart, spread over the whole set: of each the farthest, and one that is not so
    far, for one reading that is far off everything is the farthest of all others."""
    apart = np.hypot(*(measured[:, None, :] - measured[None, :, :]).transpose(2, 0, 1))
    first = np.unique(np.linspace(0, len(measured) - 1, _PAIRS).round().astype(int))
    ordered = np.argsort(apart[first], axis=1, kind="stable")
    ranks = {len(measured) - 1, math.ceil(_LESS_FAR * (len(measured) - 1))}
    pairs = ((int(k), int(order[rank])) for k, order in zip(first, ordered, strict=True) for rank in ranks)
    return {(min(pair), max(pair)) for pair in pairs if pair[0] != pair[1]}


def unordered(pattern: Pattern, readings: tuple[Reading, ...], *, floor_in: float) -> list[Laid]:
    """Poses in which the readings may lie without regard to their numbers: where they are, the eight ways about the
    middle, and those that carry a pair of holes onto a pair of readings as far apart.

    Method: docs/theory/matching.md, eq. 4.
    """
    measured = np.array([one.place for one in readings])
    moved = measured.mean(axis=0) - pattern.middle_in
    shift = (float(moved[0]), float(moved[1]))
    tried = [AS_DRAWN]
    tried += [Pose(0.5 * math.pi * k, shift, flip) for flip in (False, True) for k in range(4)]
    tried += _through_pairs(pattern, measured)[:_MOST_POSES]
    found: dict[tuple[bool, int, tuple[int, ...]], Laid] = {}
    for pose in [*_best_of(pattern, measured, tried), *tried[:_NATURAL]]:
        best = _at_rest(pattern, measured, pose, floor_in)
        steps = tuple(round(one / pattern.gap_in) for one in best.pose.shift_in)
        key = best.pose.is_mirrored, best.pose.quarter, steps
        if key not in found or best.cost_in2 < found[key].cost_in2:
            found[key] = best
    return list(found.values())


_KEPT = 24
"""So many of the best poses are brought to rest [-]."""

_LOOKED_AT = 32
"""So many readings, spread over the set, tell which poses are the best; all tell how good each of these is [-]."""


def _best_of(pattern: Pattern, measured: Floats, tried: list[Pose]) -> list[Pose]:
    """The poses that fit some of the readings best, all looked at in one go."""
    some = measured[np.unique(np.linspace(0, len(measured) - 1, _LOOKED_AT).round().astype(int))]
    turn = np.array([one.turn_rad for one in tried])[:, None]
    shift = np.array([one.shift_in for one in tried])[:, None, :]
    signs = np.where([[one.is_mirrored] for one in tried], MIRRORED, PLAIN)[:, None, :]
    x, y = np.moveaxis(some[None] - pattern.middle_in - shift, 2, 0)
    out = np.stack([x * np.cos(turn) + y * np.sin(turn), y * np.cos(turn) - x * np.sin(turn)], axis=2)
    off, _ = pattern.tree.query(out * signs + pattern.middle_in, distance_upper_bound=pattern.gap_in)
    costs = np.square(np.minimum(off, pattern.gap_in)).sum(axis=1)
    return [tried[k] for k in np.argsort(costs, kind="stable")[:_KEPT]]


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
        for pair in alike[order][: _MOST_POSES // (4 * _PAIRS)]:
            if pair[0] != pair[1]:
                found += [
                    pose_through(pattern, pair, measured[[one, other]], is_mirrored=flip)
                    for flip in (False, True)
                ]
    return found


def _cost(pattern: Pattern, measured: Floats, pose: Pose, floor_in: float) -> Laid:
    """How well the readings fit the holes next to them; holes without a reading don't count."""
    off, _ = pattern.tree.query(pose.taken_back(pattern, measured), distance_upper_bound=pattern.gap_in)
    counted = np.minimum(np.maximum(off, floor_in), pattern.gap_in)
    return Laid(pose, float(counted @ counted), int(np.isfinite(off).sum()))


def _at_rest(pattern: Pattern, measured: Floats, pose: Pose, floor_in: float) -> Laid:
    """Lay on, match the nearest, and lay on anew, until nothing changes."""
    before: tuple[int, ...] = ()
    for _ in range(_SETTLING):
        back = pose.taken_back(pattern, measured)
        off, nearest = pattern.tree.query(back, distance_upper_bound=pattern.gap_in)
        near = np.flatnonzero(np.isfinite(off))
        now = tuple(nearest[near].tolist())
        if len(near) < 2 or now == before:
            break
        before = now
        pose = pose_through(pattern, nearest[near], measured[near], is_mirrored=pose.is_mirrored)
    return _cost(pattern, measured, pose, floor_in)
