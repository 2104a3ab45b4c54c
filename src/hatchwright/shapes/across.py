"""How wide an outline is: the longest straight line inside it, the narrowest slot that it goes through, and how long a
strip of some thickness lies inside it."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.shapes.profile import Arc, Line, Loop

_CHORD_IN = 1e-4
_COARSE_IN = 2e-3
_AT_ONCE = 256
_SETTLES = 30
_NOISE = 1e-9

Floats = npt.NDArray[np.float64]


class Chord(Struct, frozen=True):
    """A straight line across an outline.

    Args:
        start, end: (x, y) [in].
    """

    start: tuple[float, float]
    end: tuple[float, float]

    @property
    def length_in(self) -> float:
        """Its length [in]."""
        return math.dist(self.start, self.end)

    @property
    def middle(self) -> tuple[float, float]:
        """Half way [in]."""
        return (self.start[0] + self.end[0]) / 2.0, (self.start[1] + self.end[1]) / 2.0

    @property
    def along(self) -> tuple[float, float]:
        """Its direction, (x, y) [-]."""
        length_in = self.length_in
        return (self.end[0] - self.start[0]) / length_in, (self.end[1] - self.start[1]) / length_in

    @property
    def angle_deg(self) -> float:
        """From X, turned toward Y, from 0 up to 180 [deg]."""
        return math.degrees(math.atan2(self.along[1], self.along[0])) % 180.0


@lru_cache(maxsize=16)  # outlines stay while rows are edited
def longest_chord(loop: Loop) -> Chord:
    """The longest straight line that lies inside a closed outline, from edge to edge, so never too long.

    Where an outline is drawn in, as an L is, a line that leaves it is none.
    """
    points = loop.points(_CHORD_IN)
    if _is_convex(points):
        one, other = _longest(points)
        return _settled(loop, _point(points[one]), _point(points[other]))
    ends = loop.points(_COARSE_IN)
    first, second = np.triu_indices(len(ends), 1)
    length_in = np.hypot(*(ends[first] - ends[second]).T)
    order = np.argsort(-length_in, kind="stable")
    for begin in range(0, len(order), _AT_ONCE):
        some = order[begin : begin + _AT_ONCE]
        seen = _stays_inside(ends[first[some]], ends[second[some]], points)
        if seen.any():
            found = some[int(seen.argmax())]
            return _ordered(_point(ends[first[found]]), _point(ends[second[found]]))
    raise AssertionError("the sides of an outline stay inside it")


def strip_in(loop: Loop, chord: Chord, thickness_in: float) -> float:
    """How long a strip of some thickness can lie along a chord, middle on middle, and stay inside [in].

    The strip's two long faces are cut by the outline; what both have in common is its length. 0 where there is no room
    for its thickness.
    """
    points, (along_x, along_y) = loop.points(_CHORD_IN), chord.along
    turn = np.array([[along_x, along_y], [-along_y, along_x]])
    u, v = turn @ (points - chord.middle).T
    low, high = -math.inf, math.inf
    for face_in in (-0.5 * thickness_in, 0.5 * thickness_in):
        at = _crossings(u, v, face_in)
        before, after = at[at <= 0.0], at[at > 0.0]
        if not (before.size and after.size):
            return 0.0
        low, high = max(low, float(before.max())), min(high, float(after.min()))
    return max(0.0, high - low)


@lru_cache(maxsize=16)
def narrowest(loop: Loop) -> tuple[float, float]:
    """The narrowest slot that an outline goes through flat, and the direction across it.

    The lines are tried along each side of its hull, arcs in small steps; how far the outline reaches is exact, so that
    it is never told narrower than it is.

    Returns:
        tuple: least distance of two parallel lines that hold it [in], and where the line from the one to the other
            points, from X [deg].
    """
    points = _hull(loop.points(_CHORD_IN))
    side = np.roll(points, -1, axis=0) - points
    normal = np.column_stack([side[:, 1], -side[:, 0]]) / np.hypot(*side.T)[:, None]
    wide_in = _reach(loop, points, normal) + _reach(loop, points, -normal)
    least = int(np.argmin(wide_in))
    return float(wide_in[least]), math.degrees(math.atan2(normal[least, 1], normal[least, 0])) % 180.0


def least_width(loop: Loop) -> float:
    """Width of the narrowest slot that an outline goes through flat [in]."""
    return narrowest(loop)[0]


def width_along(loop: Loop, angle_deg: float) -> float:
    """How far an outline reaches in a direction from X, from end to end [in]."""
    points = _hull(loop.points(_CHORD_IN))
    turned = math.radians(angle_deg)
    normal = np.array([[math.cos(turned), math.sin(turned)]])
    return float((_reach(loop, points, normal) + _reach(loop, points, -normal))[0])


def is_convex(loop: Loop) -> bool:
    """Whether an outline is nowhere drawn in."""
    return _is_convex(loop.points(_CHORD_IN))


def _point(row: Floats) -> tuple[float, float]:
    return float(row[0]), float(row[1])


def _ordered(one: tuple[float, float], other: tuple[float, float]) -> Chord:
    return Chord(*sorted((one, other)))


def _settled(loop: Loop, one: tuple[float, float], other: tuple[float, float]) -> Chord:
    """A chord between points near the ends of the longest one, each end moved along its arc to where it is longest."""
    pieces = tuple(loop.pieces())
    for _ in range(_SETTLES):
        one = _farthest(pieces, other)
        other = _farthest(pieces, one)
    return _ordered(one, other)


def _farthest(pieces: tuple[Line | Arc, ...], place: tuple[float, float]) -> tuple[float, float]:
    """The point of an outline that lies farthest from a place."""
    found = [piece.start for piece in pieces]
    for piece in pieces:
        if isinstance(piece, Arc) and piece.sweep_rad > 0.0:
            (x, y), off_in = piece.center, math.dist(piece.center, place)
            if off_in > _NOISE:
                toward = (x - place[0]) / off_in, (y - place[1]) / off_in
                begin = math.atan2(piece.start[1] - y, piece.start[0] - x)
                if (math.atan2(toward[1], toward[0]) - begin) % (2.0 * math.pi) <= piece.sweep_rad:
                    found.append((x + piece.radius_in * toward[0], y + piece.radius_in * toward[1]))
    return max(found, key=lambda point: math.dist(point, place))


def _longest(points: Floats) -> tuple[int, int]:
    squares = (points**2).sum(axis=1)
    apart = squares[:, None] + squares - 2.0 * points @ points.T
    first, second = np.unravel_index(int(np.argmax(apart)), apart.shape)
    return int(first), int(second)


def _stays_inside(start: Floats, end: Floats, points: Floats) -> npt.NDArray[np.bool_]:
    """Whether lines between corners of an outline stay inside it: none of its sides is crossed, and the middle is
    inside; shape (n,)."""
    a, b = points, np.roll(points, -1, axis=0)
    along = end - start
    sides = [_cross(along[:, None], corner[None] - start[:, None]) for corner in (a, b)]
    side = b - a
    ends = [_cross(side[None], each[:, None] - a[None]) for each in (start, end)]
    crossed = (sides[0] * sides[1] < -_NOISE) & (ends[0] * ends[1] < -_NOISE)
    middle = (start + end) / 2.0
    above = (a[None, :, 1] > middle[:, None, 1]) != (b[None, :, 1] > middle[:, None, 1])
    with np.errstate(divide="ignore", invalid="ignore"):
        at = a[:, 0] + side[:, 0] * (middle[:, None, 1] - a[:, 1]) / side[:, 1]
    inside = (above & (middle[:, None, 0] < at)).sum(axis=1) % 2 == 1
    found: npt.NDArray[np.bool_] = ~crossed.any(axis=1) & inside
    return found


def _cross(one: Floats, other: Floats) -> Floats:
    found: Floats = one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0]
    return found


def _crossings(u: Floats, v: Floats, at_in: float) -> Floats:
    """Where a closed polygon crosses the line v = at, as u [in]."""
    next_u, next_v = np.roll(u, -1), np.roll(v, -1)
    crosses = (v > at_in) != (next_v > at_in)
    share = (at_in - v[crosses]) / (next_v[crosses] - v[crosses])
    found: Floats = u[crosses] + share * (next_u[crosses] - u[crosses])
    return found


def _reach(loop: Loop, points: Floats, normal: Floats) -> Floats:
    """How far an outline reaches in each direction of shape (n, 2), shape (n,) [in]."""
    far: Floats = (points @ normal.T).max(axis=0)
    toward = np.arctan2(normal[:, 1], normal[:, 0])
    for arc in loop.pieces():
        if isinstance(arc, Arc) and arc.sweep_rad > 0.0:
            begin = math.atan2(arc.start[1] - arc.center[1], arc.start[0] - arc.center[0])
            is_on = np.mod(toward - begin, 2.0 * math.pi) <= arc.sweep_rad
            far = np.where(is_on, np.maximum(far, normal @ np.array(arc.center) + arc.radius_in), far)
    return far


def _is_convex(points: Floats) -> bool:
    step = np.roll(points, -1, axis=0) - points
    after = np.roll(step, -1, axis=0)
    return bool(np.all(_cross(step, after) >= -_NOISE))


def _hull(points: Floats) -> Floats:
    """Corners of the convex hull, counter-clockwise; those of a convex outline are its own."""
    if _is_convex(points):
        return points
    ordered = sorted(map(tuple, points.tolist()))
    return np.array(_run(ordered) + _run(ordered[::-1]))


def _run(ordered: list[tuple[float, ...]]) -> list[tuple[float, ...]]:
    """One half of the hull (monotone chain), its last point left to the other half."""
    out: list[tuple[float, ...]] = []
    for p in ordered:
        while len(out) > 1 and _turn(out[-2], out[-1], p) <= 0.0:
            out.pop()
        out.append(p)
    return out[:-1]


def _turn(a: tuple[float, ...], b: tuple[float, ...], c: tuple[float, ...]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
