"""Temporary fasteners in the way of the cutter, and how well those that stay hold the template.

Method: docs/theory/pins.md.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.shapes.pieces import Bools, Complexes, Floats, Integers, Pieces, complex_of
from hatchwright.shapes.profile import Loop

_TURN_RAD = 2.0 * np.pi
_LEAST_IN = 1e-12


class Blocked(Struct, frozen=True):
    """The stretches of a path that fasteners block, in any order.

    Args:
        pin: which fastener blocks the stretch, shape (k,).
        start_in: where it begins, arc length from the path's first vertex, shape (k,) [in].
        end_in: where it ends, shape (k,) [in].
    """

    pin: Integers
    start_in: Floats
    end_in: Floats


def blocked(path: Loop, pins: npt.ArrayLike, reach_in: float) -> Blocked:
    """Where the middle of the tool comes nearer to a fastener than their bodies allow.

    Args:
        pins: places of the fasteners, shape (n, 2) [in].
        reach_in: half the tool's body and half the fastener's, and what is to stay between them [in].
    Method: docs/theory/pins.md, eq. 1 and 2, exact on lines and arcs; a stretch ends at the end of its piece and goes
        on with the next.
    """
    parts = path.working_form()
    begins = np.concatenate([[0.0], np.cumsum(parts.length_in)[:-1]])
    at = complex_of(pins)
    found = [_on_lines(parts, begins, at, reach_in), _on_arcs(parts, begins, at, reach_in)]
    return Blocked(*(np.concatenate(columns) for columns in zip(*found, strict=True)))


_Stretches = tuple[Integers, Floats, Floats]


def _on_lines(parts: Pieces, begins: Floats, at: Complexes, reach_in: float) -> _Stretches:
    lines = np.flatnonzero(~parts.is_arc)
    start, chord = parts.start[lines], (parts.end - parts.start)[lines]
    length = np.abs(chord)
    local = (at[:, None] - start) * (chord / length).conj()
    half = np.sqrt(np.maximum(reach_in**2 - local.imag**2, 0.0))
    return _clipped(local.real - half, local.real + half, length, begins[lines])


def _on_arcs(parts: Pieces, begins: Floats, at: Complexes, reach_in: float) -> _Stretches:
    arcs = np.flatnonzero(parts.is_arc)
    center, radius, sweep = parts.center[arcs], parts.radius[arcs], parts.sweep_rad[arcs]
    away = np.abs(at[:, None] - center)
    cosine = (radius**2 + away**2 - reach_in**2) / np.maximum(2.0 * radius * away, _LEAST_IN)
    half = np.arccos(np.clip(cosine, -1.0, 1.0))
    towards = np.angle((at[:, None] - center) * (parts.start[arcs] - center).conj()) * np.sign(sweep)
    turns = [
        _clipped(
            (towards + turn - half) * radius,
            (towards + turn + half) * radius,
            np.abs(sweep) * radius,
            begins[arcs],
        )
        for turn in (-_TURN_RAD, 0.0, _TURN_RAD)
    ]
    pin, start, end = (np.concatenate(columns) for columns in zip(*turns, strict=True))
    return pin, start, end


def _clipped(low: Floats, high: Floats, length: Floats, begins: Floats) -> _Stretches:
    """Stretches of each pin on each piece, shape (n_pins, n_pieces), cut off at the ends of the piece."""
    low, high = np.maximum(low, 0.0), np.minimum(high, length)
    pin, piece = np.nonzero(high - low > _LEAST_IN)
    return pin, low[pin, piece] + begins[piece], high[pin, piece] + begins[piece]


def worst_holds(pins: Complexes, places: Complexes, holds: Bools, counts: Bools) -> tuple[Floats, Integers]:
    """The hold ratio at the worst place, for many choices of fasteners and places at once.

    Args:
        pins: all fasteners, shape (n,) [in].
        places: all places of the edge, shape (m,) [in].
        holds: which fasteners hold in each choice, shape (k, n).
        counts: which places count in each choice, shape (k, m).
    Returns:
        tuple: how far the edge can move for each unit that a fastener is loose in its hole, g = sqrt(1/n + |q-c|^2 /
            sum|p-c|^2) with c the middle of those that hold, infinite where fewer than two places hold [-], and the
            worst place q; each of shape (k,).
    Method: docs/theory/pins.md, eq. 3.
    """
    number = holds.sum(axis=1)
    middle = (holds @ pins) / np.maximum(number, 1)
    spread = holds @ (np.abs(pins) ** 2) - number * np.abs(middle) ** 2
    off = np.where(counts, np.abs(places - middle[:, None]) ** 2, -1.0)
    worst = off.argmax(axis=1)
    with np.errstate(divide="ignore", invalid="ignore"):
        g = np.sqrt(1.0 / number + off[np.arange(len(off)), worst] / spread)
    return np.where((number >= 2) & (spread > _LEAST_IN), g, np.inf), worst
