"""An unknown outline as lines and arcs: the division of the edge that costs least, found exactly.

Method: docs/theory/scan.md, eq. 13 and 14.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.inspection.scan.fitting import MAD, robust_fit
from hatchwright.metrology.circle import fitted_circle
from hatchwright.metrology.line import fitted_line
from hatchwright.shapes.pieces import Complexes, Floats

BINS = 320
_LINE_COST, _ARC_COST = 30.0, 48.0
"""What one more line and one more arc cost, in squared standard deviations [-]."""

_LEAST_BINS = 3
_LEAST_NEAR = 6
_LEAST_SPREAD_IN = 0.0003
_TOLERANCE_SPREADS = 4.0
"""Standard deviations that a tolerance is taken for [-]. Own choice, no source."""

_LARGEST_RADIUS_IN = 100.0
_TOUCHES_IN = 0.003
"""A line and an arc that miss each other's tangent by less are taken for tangent [in]. Own choice, no source."""

_NEAR_BREAK_IN, _NEAR_BREAK_RATIO = 0.1, 0.15
"""How far from its break a joint may lie: [in], or over the radius of its arc [-]. Own choice, no source."""

_MOST_STEPS = 60
_FLATTEST = 0.02
"""Rise over chord under which an arc is a line [-]. Own choice, no source."""

Corner = tuple[float, float, float]
_Runs = npt.NDArray[np.object_]


class Piece(Struct, frozen=True):
    """One line or arc between two bins of the edge.

    Args:
        first: bin that it begins in.
        last: bin that it ends in.
        along: direction of a line, (0, 0) for an arc [-].
        center: of the arc, or a point of the line [in].
        radius_in: 0 for a line [in].
    """

    first: int
    last: int
    along: tuple[float, float]
    center: tuple[float, float]
    radius_in: float

    def nearest(self, z: complex) -> complex:
        """The point of the piece's whole line or circle nearest to a point."""
        hub = complex(*self.center)
        if not self.radius_in:
            way = complex(*self.along)
            return hub + way * ((z - hub) * way.conjugate()).real
        off = z - hub
        return hub + off * (self.radius_in / max(abs(off), 1e-12))


def lines_and_arcs(points: Floats, *, tolerance_in: float) -> tuple[tuple[Corner, ...], Floats]:
    """Divide a closed edge into lines and arcs.

    Args:
        points: in order, shape (n, 2) [in].
        tolerance_in: how far the edge may lie from them [in].
    Returns:
        tuple: x, y [in] and bulge [-] of the piece that leaves each corner, counterclockwise; and places of the edge
            without glints and dust, to be held against them, shape (`BINS`, 2) [in].
    """
    counterclockwise = points if _area(points) > 0.0 else points[::-1]
    binned, raw = _binned(counterclockwise)
    start = _flattest(binned)
    ring = np.roll(binned, -start, axis=0)
    spread = max(_noise(ring), tolerance_in / _TOLERANCE_SPREADS)
    pieces = [_refitted(piece, np.roll(raw, -start)) for piece in _divided(ring, spread)]
    return _corners(_merged(pieces), ring), ring


def _area(points: Floats) -> float:
    after = np.roll(points, -1, axis=0)
    return 0.5 * float(np.sum(points[:, 0] * after[:, 1] - after[:, 0] * points[:, 1]))


def _binned(points: Floats) -> tuple[Floats, _Runs]:
    """A point of each of `BINS` equal lengths of the edge, by a parabola through it and its neighbors that a glint or
    dust does not bend; and the points of each."""
    steps = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
    along = np.concatenate([[0.0], np.cumsum(steps)])[:-1]
    each = steps.sum() / BINS
    number = np.minimum((along / each).astype(int), BINS - 1)
    raw = np.empty(BINS, dtype=object)
    middle = np.empty((BINS, 2))
    for one in range(BINS):
        members = points[number == one]
        if not len(members):
            members = points[[int(np.argmin(np.abs(along - (one + 0.5) * each)))]]
        raw[one] = members
    for one in range(BINS):
        near = np.vstack([raw[(one + step) % BINS] for step in (-1, 0, 1)])
        middle[one] = _on_parabola(near, raw[one].mean(axis=0))
    return middle, raw


def _on_parabola(near: Floats, at: Floats) -> Floats:
    """Where the edge passes a point, by its neighborhood."""
    if len(near) < _LEAST_NEAR:
        return np.median(near, axis=0)
    _, _, ways = np.linalg.svd(near - near.mean(axis=0), full_matrices=False)
    x, y = ((near - at) @ ways.T).T
    matrix = np.column_stack([np.ones(len(x)), x, x**2])
    high = float(robust_fit(matrix, y)[0])
    placed: Floats = at + high * ways[1]
    return placed


def _flattest(ring: Floats) -> int:
    """A bin in the middle of the flattest stretch, where the first piece is cut open."""
    reach = 8
    chord = np.roll(ring, -reach, axis=0) - np.roll(ring, reach, axis=0)
    off = ring - np.roll(ring, reach, axis=0)
    cross = np.abs(chord[:, 0] * off[:, 1] - chord[:, 1] * off[:, 0])
    rise = cross / np.maximum(np.hypot(*chord.T), 1e-9)
    kernel = np.ones(2 * reach + 1)
    total = np.convolve(np.concatenate([rise[-reach:], rise, rise[:reach]]), kernel, mode="valid")
    return int(np.argmin(total))


def _noise(ring: Floats) -> float:
    """Scatter of the bins about a smooth edge, by third differences across it [in]."""
    third = (
        ring - 3.0 * np.roll(ring, -1, axis=0) + 3.0 * np.roll(ring, -2, axis=0) - np.roll(ring, -3, axis=0)
    )
    chord = np.roll(ring, -3, axis=0) - ring
    chord /= np.maximum(np.hypot(*chord.T), 1e-12)[:, None]
    across = third[:, 1] * chord[:, 0] - third[:, 0] * chord[:, 1]
    return max(MAD * float(np.median(np.abs(across))) / math.sqrt(20.0), _LEAST_SPREAD_IN)


def _divided(ring: Floats, spread: float) -> list[Piece]:
    """The exact least of the sum over pieces; the edge is open at its first bin."""
    count = len(ring)
    cost, is_arc = _costs(ring, spread)
    best = np.full(count + 1, np.inf)
    best[0] = 0.0
    before = np.zeros(count + 1, dtype=int)
    for last in range(_LEAST_BINS, count + 1):
        trial = best[: last - _LEAST_BINS + 1] + cost[: last - _LEAST_BINS + 1, last]
        before[last] = int(np.argmin(trial))
        best[last] = trial[before[last]]
    pieces, last = [], count
    while last > 0:
        first = int(before[last])
        arc = bool(is_arc[first, last])
        pieces.append(Piece(first, last, (0.0, 0.0), (0.0, 0.0), 1.0 if arc else 0.0))
        last = first
    return pieces[::-1]


def _costs(ring: Floats, spread: float) -> tuple[Floats, npt.NDArray[np.bool_]]:
    """Cost of each piece from bin i up to j, and whether it is an arc, from running sums alone."""
    middle = ring.mean(axis=0)
    x, y = (ring - middle).T
    z = x * x + y * y
    terms = np.stack([np.ones_like(x), x, y, x * x, y * y, x * y, x * z, y * z, z, z * z])
    sums = np.concatenate([np.zeros((len(terms), 1)), np.cumsum(terms, axis=1)], axis=1)
    part = sums[:, None, :] - sums[:, :, None]
    n = np.maximum(part[0], 1.0)
    mx, my, mz = part[1] / n, part[2] / n, part[8] / n
    xx, yy, xy = part[3] - n * mx * mx, part[4] - n * my * my, part[5] - n * mx * my
    xz, yz, zz = part[6] - n * mx * mz, part[7] - n * my * mz, part[9] - n * mz * mz
    half = 0.5 * (xx + yy)
    line = np.maximum(half - np.sqrt(np.maximum(0.25 * (xx - yy) ** 2 + xy * xy, 0.0)), 0.0)
    det = xx * yy - xy * xy
    safe = np.where(np.abs(det) > 1e-14, det, 1e-14)
    b, c = (yy * xz - xy * yz) / safe, (xx * yz - xy * xz) / safe
    left = np.maximum(zz - b * xz - c * yz, 0.0)
    square = mz - b * mx - c * my + 0.25 * (b * b + c * c)
    square = np.maximum(square, 1e-8)
    circle = left / (4.0 * square)
    line_cost = line / spread**2 + _LINE_COST
    arc_cost = np.where(
        (square < _LARGEST_RADIUS_IN**2) & (part[0] > _LEAST_BINS), circle / spread**2 + _ARC_COST, np.inf
    )
    return np.minimum(line_cost, arc_cost), arc_cost < line_cost


def _refitted(piece: Piece, raw: _Runs) -> Piece:
    """The piece anew on the points themselves, without those of its ends, which its neighbors bend."""
    first, last = piece.first, piece.last
    trimmed = (first + 1, last - 1) if last - first > 4 else (first, last)
    points = np.vstack(list(raw[trimmed[0] : trimmed[1]]))
    for _ in range(3):
        fitted = _arc(piece, points) if piece.radius_in else _line(piece, points)
        off = np.array([abs(fitted.nearest(z) - z) for z in points @ (1.0, 1.0j)])
        points = points[off <= max(3.0 * MAD * float(np.median(off)), 1e-4)]
    return fitted


def _line(piece: Piece, points: Floats) -> Piece:
    line = fitted_line(points)
    return Piece(piece.first, piece.last, line.along, line.middle_in, 0.0)


def _arc(piece: Piece, points: Floats) -> Piece:
    circle = fitted_circle(points)
    return Piece(piece.first, piece.last, (0.0, 0.0), circle.center_in, circle.radius_in)


def _merged(pieces: list[Piece]) -> list[Piece]:
    """The first and the last piece as one where the edge was cut open within a line."""
    first, last = pieces[0], pieces[-1]
    if len(pieces) < 3 or first.radius_in or last.radius_in:
        return pieces
    way, other = complex(*first.along), complex(*last.along)
    gap = abs(first.nearest(complex(*last.center)) - complex(*last.center))
    if abs((way.conjugate() * other).imag) < 0.01 and gap < 0.005:
        whole = first if first.last - first.first >= last.last - last.first else last
        return [*pieces[1:-1], Piece(last.first, first.last, whole.along, whole.center, 0.0)]
    return pieces


def _corners(pieces: list[Piece], ring: Floats) -> tuple[Corner, ...]:
    z: Complexes = ring @ np.array((1.0, 1.0j))
    if len(pieces) == 1 and pieces[0].radius_in:
        return _whole_circle(pieces[0])
    joints = [
        _joint(piece, pieces[(number + 1) % len(pieces)], 0.5 * (z[piece.last - 1] + z[piece.last % len(z)]))
        for number, piece in enumerate(pieces)
    ]
    corners: list[Corner] = []
    for number, piece in enumerate(pieces):
        corners += _run(piece, joints[number - 1], joints[number], _middle_of(piece, z))
    return tuple(corners)


def _middle_of(piece: Piece, z: Complexes) -> complex:
    span = (piece.last - piece.first) % len(z) or len(z)
    return complex(z[(piece.first + span // 2) % len(z)])


def _whole_circle(piece: Piece) -> tuple[Corner, ...]:
    (x, y), r = piece.center, piece.radius_in
    return ((x + r, y, 1.0), (x - r, y, 1.0))


def _run(piece: Piece, start: complex, end: complex, middle: complex) -> list[Corner]:
    """One piece as corners; an arc of more than a half circle as two."""
    if not piece.radius_in:
        return [(start.real, start.imag, 0.0)]
    hub = complex(*piece.center)
    turned = _swept((start - hub), (middle - hub), (end - hub))
    parts = 2 if abs(turned) > math.pi - 1e-6 else 1
    bulge = math.tan(0.25 * turned / parts)
    if abs(bulge) < 0.5 * _FLATTEST:
        return [(start.real, start.imag, 0.0)]
    half = hub + (start - hub) * complex(math.cos(0.5 * turned), math.sin(0.5 * turned))
    places = [start] if parts == 1 else [start, half]
    return [(one.real, one.imag, bulge) for one in places]


def _swept(start: complex, middle: complex, end: complex) -> float:
    """Angle from start to end by way of the middle [rad]."""
    first = math.atan2((middle * start.conjugate()).imag, (middle * start.conjugate()).real)
    second = math.atan2((end * middle.conjugate()).imag, (end * middle.conjugate()).real)
    return first + second


def _joint(one: Piece, other: Piece, near: complex) -> complex:
    """Where two pieces meet near the break between them; where they about touch, between the points that touch."""
    if (touched := _touching(one, other, near)) is not None:
        return touched
    z = near
    for _ in range(_MOST_STEPS):
        moved = other.nearest(one.nearest(z))
        if abs(moved - z) < 1e-9:
            break
        z = moved
    met = 0.5 * (one.nearest(z) + other.nearest(z))
    return met if abs(met - near) < _NEAR_BREAK_IN else 0.5 * (one.nearest(near) + other.nearest(near))


def _touching(one: Piece, other: Piece, near: complex) -> complex | None:
    """The middle between a line and an arc, or two arcs, at their nearest; None where they cross or lie apart there."""
    if not (one.radius_in or other.radius_in):
        return None
    arc, rest = (one, other) if one.radius_in else (other, one)
    hub = complex(*arc.center)
    if rest.radius_in:
        way = complex(*rest.center) - hub
        if abs(way) < 1e-9:
            return None
        ends = [hub + sign * way / abs(way) * arc.radius_in for sign in (1.0, -1.0)]
        foot = rest.nearest(min(ends, key=lambda z: abs(z - near)))
    else:
        foot = rest.nearest(hub)
    on_arc = arc.nearest(foot)
    met = 0.5 * (foot + on_arc)
    is_near = abs(met - near) < max(_NEAR_BREAK_IN, _NEAR_BREAK_RATIO * arc.radius_in)
    return met if abs(foot - on_arc) < _TOUCHES_IN and is_near else None
