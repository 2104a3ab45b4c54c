"""Offset: the region grown or eroded by a distance, exact, with round joins.

Every piece is shifted along its normal, corners that open get a join arc, all contacts are found, and a piece
stays only if its middle is as far from the source as it should be. The answer is then checked against the
definition of an offset, and refused when it fails. Method: docs/theory/offset.md.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.said import inch
from hatchwright.shapes.contacts import SAME_IN, arc_bulge, cut_apart
from hatchwright.shapes.pieces import Complexes, Pieces, joined, preceding
from hatchwright.shapes.profile import SHORTEST_IN, Loop, Profile
from hatchwright.shapes.stitching import stitch
from hatchwright.shapes.welding import weld

CHECKED_IN = 1e-8
"""How far an offset edge may be from its distance before the answer is refused [in]."""

_FAR_ENOUGH_IN = 1e-10
_PROBE_IN = 1e-6
_REVERSAL_RATIO = 1e-6


@lru_cache(maxsize=256)
def offset(profile: Profile, distance_in: float) -> Profile:
    """The region grown (positive) or eroded (negative) by a distance.

    Returns:
        Profile: all points within the distance of the region, or all points of it deeper than the distance;
            it may be empty or fall into several loops.
    Raises:
        GeometryError: the profile crosses itself, or the answer failed its own check; `place` is where.
    Method: docs/theory/offset.md.
    """
    if abs(distance_in) <= SHORTEST_IN or profile.is_empty:
        return profile
    if not np.isfinite(distance_in):
        raise _no_length(distance_in)
    source = profile.checked().working_form()
    raw = joined(_raw_loop(loop, distance_in) for loop in profile.loops)
    parts, _ = weld(cut_apart(raw)[0])
    middle = parts.middle
    far_enough = source.distance(middle)[0] >= abs(distance_in) - _FAR_ENOUGH_IN
    right_side = source.inside(middle) != (distance_in > 0.0)
    answer = Profile(stitch(parts.taken(far_enough & right_side)))
    _refuse_wrong(answer.working_form(), source, parts, distance_in)
    return answer


def grow(profile: Profile, distance_in: float) -> Profile:
    """All points within a distance of the region; see `offset`."""
    return offset(profile, _positive(distance_in))


def erode(profile: Profile, distance_in: float) -> Profile:
    """All points of the region deeper than a distance; see `offset`."""
    return offset(profile, -_positive(distance_in))


def _positive(distance_in: float) -> float:
    if not distance_in >= 0.0:
        raise _no_length(distance_in)
    return distance_in


def _no_length(distance_in: float) -> GeometryError:
    return GeometryError.saying("error.offset", where="distance_in", offset=inch(distance_in))


def _raw_loop(loop: Loop, distance_in: float) -> Pieces:
    """Shifted pieces and join arcs of one loop, untrimmed."""
    parts = loop.working_form()
    sets_out, arrives = parts.tangents()
    start, end = parts.start - 1j * distance_in * sets_out, parts.end - 1j * distance_in * arrives
    radius = parts.radius + distance_in * np.sign(parts.bulge)
    alive = ~parts.is_arc | (radius > SAME_IN)
    shifted = Pieces(start, end, parts.bulge, np.where(parts.is_arc, parts.center, start), radius).taken(
        alive
    )
    return joined([shifted, *_joins(parts.start, preceding(arrives), sets_out, distance_in)])


def _joins(corner: Complexes, arrives: Complexes, sets_out: Complexes, distance_in: float) -> list[Pieces]:
    """Join arcs at the corners that open; a turn beyond a right angle is joined by two arcs."""
    turn = sets_out * arrives.conj()
    reverses = (turn.real < 0.0) & (np.abs(turn.imag) < _REVERSAL_RATIO)
    opens = (turn.imag * distance_in > SAME_IN) | reverses
    if not opens.any():
        return []
    corner, arrives, sets_out, turn = corner[opens], arrives[opens], sets_out[opens], turn[opens]
    first, last = corner - 1j * distance_in * arrives, corner - 1j * distance_in * sets_out
    wide = turn.real < 0.0
    ahead = np.where(wide, arrives - sets_out, 1.0)
    top = corner + abs(distance_in) * ahead / np.abs(ahead)
    start = np.concatenate([first, top[wide]])
    end = np.concatenate([np.where(wide, top, last), last[wide]])
    center = np.concatenate([corner, corner[wide]])
    bulge = arc_bulge(start, end, center, np.full(len(start), np.sign(distance_in)))
    return [Pieces(start, end, bulge, center, np.full(len(start), abs(distance_in)))]


def _refuse_wrong(edge: Pieces, source: Pieces, parts: Pieces, distance_in: float) -> None:
    """Hold the answer against the definition of an offset.

    Its vertices and middles must lie at the distance from the source; and places on both sides of every
    candidate piece must lie in the answer exactly when their true distance from the source says so.
    """
    reach = abs(distance_in)
    if edge.count:
        on_edge = np.concatenate([edge.start, edge.middle])
        error = np.abs(source.distance(on_edge)[0] - reach)
        if error.max() > CHECKED_IN:
            raise GeometryError.saying_at(on_edge[error.argmax()], "error.offset_check")
    probes = parts.beside(_PROBE_IN)
    depth = source.distance(probes)[0]
    inside = source.inside(probes)
    wanted = inside | (depth < reach) if distance_in > 0.0 else inside & (depth > reach)
    given = edge.inside(probes) if edge.count else np.zeros(len(probes), dtype=np.bool_)
    wrong = (wanted != given) & (np.abs(depth - reach) > 0.1 * _PROBE_IN)
    if wrong.any():
        raise GeometryError.saying_at(probes[wrong.argmax()], "error.offset_check")
