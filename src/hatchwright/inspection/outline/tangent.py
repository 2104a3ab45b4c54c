"""Pieces of an outline made exactly tangent wherever they nearly are: else each joint would be a sharp corner.

Method: docs/theory/trace.md, eq. 3 and 4: fillets between two lines, else two arcs for one. Source: [BOLTON-1975].
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator

from msgspec import Struct

from hatchwright.inspection.outline.piece import Piece

Corner = tuple[float, float, float]

_SMOOTH_RAD = math.radians(5.0)
"""A joint that turns by less was drawn smooth [rad]. Own choice, no source."""

_SYMMETRIC_RAD = 1e-9
_WIDEST_RAD = math.radians(170.0)
"""An arc that turns farther is halved before it becomes two [rad]."""


class _Span(Struct):
    """A piece from its start to its end, and its unit directions there."""

    piece: Piece
    start: complex
    end: complex
    leaves: complex
    arrives: complex

    @property
    def is_line(self) -> bool:
        return not self.piece.radius_in


def tangent_rows(pieces: list[Piece], starts: list[complex], middles: list[complex]) -> list[Corner]:
    """Rows of x, y [in] and bulge [-] of the piece that leaves each corner.

    Args:
        pieces: in order, two or more.
        starts: where each begins, about; it ends where the next begins [in].
        middles: a place that each passes between [in].
    """
    ends = [*starts[1:], starts[0]]
    spans = [
        _Span(piece, start, end, *_directions(piece, start, middle, end))
        for piece, start, middle, end in zip(pieces, starts, middles, ends, strict=True)
    ]
    smooth = [_is_smooth(spans[k - 1], spans[k]) for k in range(len(spans))]
    for k, span in enumerate(spans):
        if smooth[k]:
            _meet(spans[k - 1], span)
    for k, span in enumerate(spans):
        before, after = spans[k - 1], spans[(k + 1) % len(spans)]
        if (
            not span.is_line
            and before.is_line
            and after.is_line
            and smooth[k]
            and smooth[(k + 1) % len(spans)]
        ):
            _round_off(before, span, after)
    rows: list[Corner] = []
    for k, span in enumerate(spans):
        rows += _rows(span, smooth[k], smooth[(k + 1) % len(spans)])
    return rows


def _directions(piece: Piece, start: complex, middle: complex, end: complex) -> tuple[complex, complex]:
    if not piece.radius_in:
        way = complex(*piece.along)
        way = way if ((end - start) * way.conjugate()).real > 0.0 else -way
        return way, way
    hub = complex(*piece.center)
    first, second = (cmath.phase((b - hub) / (a - hub)) for a, b in ((start, middle), (middle, end)))
    turn = 1j if first + second > 0.0 else -1j
    leaves, arrives = ((z - hub) / abs(z - hub) * turn for z in (start, end))
    return leaves, arrives


def _is_smooth(before: _Span, after: _Span) -> bool:
    bend = abs(cmath.phase(after.leaves / before.arrives))
    return bend < _SMOOTH_RAD and not (before.is_line and after.is_line)


def _meet(before: _Span, after: _Span) -> None:
    """One place and one direction for both: those of the line where one of them is a line."""
    line = before if before.is_line else after if after.is_line else None
    if line:
        place, way = line.piece.nearest(after.start), line.arrives
    else:
        place, way = after.start, before.arrives + after.leaves
    before.end = after.start = place
    before.arrives = after.leaves = way / abs(way)


def _round_off(before: _Span, arc: _Span, after: _Span) -> None:
    """The arc as the fillet of the two lines, its ends as far from where they cross; where they don't, it stays."""
    sine = (arc.leaves.conjugate() * arc.arrives).imag
    if abs(sine) < _SYMMETRIC_RAD:
        return
    to_cross = ((arc.end - arc.start).conjugate() * arc.arrives).imag / sine
    cross = arc.start + to_cross * arc.leaves
    back = ((arc.end - cross) * arc.arrives.conjugate()).real
    far = 0.5 * (to_cross + back)
    before.end = arc.start = cross - far * arc.leaves
    after.start = arc.end = cross + far * arc.arrives


def _rows(span: _Span, starts_smooth: bool, ends_smooth: bool) -> Iterator[Corner]:
    if span.is_line:
        yield (span.start.real, span.start.imag, 0.0)
        return
    chord = span.end - span.start
    leaning, falling = cmath.phase(chord / span.leaves), cmath.phase(span.arrives / chord)
    if not (starts_smooth and ends_smooth):
        half = leaning if starts_smooth else falling if ends_smooth else 0.5 * (leaning + falling)
        yield from _arc(span.start, span.end, half)
    elif abs(leaning - falling) < _SYMMETRIC_RAD:
        yield from _arc(span.start, span.end, 0.5 * (leaning + falling))
    elif abs(leaning + falling) > _WIDEST_RAD:
        yield from _halved(span, leaning + falling)
    else:
        yield from _two_arcs(span.start, span.leaves, span.end, span.arrives)


def _halved(span: _Span, turned: float) -> Iterator[Corner]:
    hub = complex(*span.piece.center)
    middle = hub + (span.start - hub) * cmath.exp(0.5j * turned) * span.piece.radius_in / abs(
        span.start - hub
    )
    way = (middle - hub) / abs(middle - hub) * (1j if turned > 0.0 else -1j)
    yield from _two_arcs(span.start, span.leaves, middle, way)
    yield from _two_arcs(middle, way, span.end, span.arrives)


def _two_arcs(start: complex, leaves: complex, end: complex, arrives: complex) -> Iterator[Corner]:
    """Two arcs that are tangent to each other and to both directions, each as far from where its tangents cross."""
    chord, both = end - start, leaves + arrives
    along = (chord * both.conjugate()).real
    apart = 2.0 * (1.0 - (leaves * arrives.conjugate()).real)
    # The root of apart d^2 + 2 along d = |chord|^2 that is stable where the directions are nearly the same.
    far = abs(chord) ** 2 / (along + math.sqrt(along**2 + apart * abs(chord) ** 2))
    middle = 0.5 * (start + end + far * (leaves - arrives))
    yield from _arc(start, middle, cmath.phase((middle - start) / leaves))
    yield from _arc(middle, end, cmath.phase(arrives / (end - middle)))


def _arc(start: complex, end: complex, half_rad: float) -> Iterator[Corner]:
    """An arc that turns by twice an angle; by more than a half circle as two."""
    if abs(half_rad) <= 0.5 * math.pi:
        yield (start.real, start.imag, math.tan(0.5 * half_rad))
        return
    chord, bulge = end - start, math.tan(0.5 * half_rad)
    top = 0.5 * (start + end) - 0.5j * bulge * chord
    for z in (start, top):
        yield (z.real, z.imag, math.tan(0.25 * half_rad))
