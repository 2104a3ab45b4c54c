"""An unknown outline as lines and arcs, within a stated tolerance.

Method: docs/theory/scan.md, eq. 13 and 14.
"""

from __future__ import annotations

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.inspection.outline.edge import Edge, Runs
from hatchwright.inspection.outline.least_division import divided, flattest
from hatchwright.inspection.outline.piece import Piece, joint
from hatchwright.inspection.outline.tangent import Corner, tangent_rows
from hatchwright.metrology.circle import fitted_circle
from hatchwright.metrology.line import fitted_line
from hatchwright.metrology.robust import MAD
from hatchwright.shapes.pieces import Complexes, Floats

TOLERANCE_SPREADS = 4.0
"""Standard deviations that a tolerance is taken for [-]. Own choice, no source."""


def lines_and_arcs(edge: Edge, *, spread_in: float) -> tuple[Corner, ...]:
    """Divide a closed edge into lines and arcs.

    Args:
        edge: its places, counterclockwise.
        spread_in: how far places may scatter about them, one standard deviation [in].
    Returns:
        tuple: x, y [in] and bulge [-] of the piece that leaves each corner, counterclockwise.
    """
    start = flattest(edge.places)
    ring = np.roll(edge.places, -start, axis=0)
    pieces = [_refitted(piece, np.roll(edge.runs, -start)) for piece in divided(ring, spread_in)]
    return _corners(_merged(pieces), ring)


def _refitted(piece: Piece, raw: Runs) -> Piece:
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
    """The piece as an arc, or as a line where it is too straight to show one."""
    try:
        circle = fitted_circle(points)
    except GeometryError:
        return _line(piece, points)
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
        joint(piece, pieces[(number + 1) % len(pieces)], 0.5 * (z[piece.last - 1] + z[piece.last % len(z)]))
        for number, piece in enumerate(pieces)
    ]
    starts = [joints[-1], *joints[:-1]]
    return tuple(tangent_rows(pieces, starts, [_middle_of(piece, z) for piece in pieces]))


def _middle_of(piece: Piece, z: Complexes) -> complex:
    span = (piece.last - piece.first) % len(z) or len(z)
    return complex(z[(piece.first + span // 2) % len(z)])


def _whole_circle(piece: Piece) -> tuple[Corner, ...]:
    (x, y), r = piece.center, piece.radius_in
    return ((x + r, y, 1.0), (x - r, y, 1.0))
