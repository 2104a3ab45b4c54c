"""How far a loop reaches in any direction, and whether a straight edge of it lies across that direction."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from hatchwright.shapes.pieces import AXES, Bools, Complexes, Floats, complex_of, points_of
from hatchwright.shapes.profile import Loop

_ACROSS_COSINE = np.cos(np.pi / 4) - 1e-9
"""A straight edge lies across a direction when its outward normal is within 45 degrees of it, the half way between
across and along; the little less keeps an edge at exactly 45 degrees on the same side of the answer however it is
turned [-]."""


def reach(loop: Loop, directions: npt.ArrayLike) -> tuple[Floats, Floats]:
    """Least and greatest place of a loop along directions, arcs included.

    Args:
        directions: unit vectors, shape (k, 2).
    Returns:
        tuple: least and greatest place along each direction, measured from the origin, each of shape (k,) [in].
    """
    along = complex_of(directions)
    least, greatest = _greatest(loop, np.concatenate((-along, along))).reshape(2, -1)
    return -least, greatest


def faces(loop: Loop, directions: npt.ArrayLike) -> Bools:
    """Whether a straight edge of a counter-clockwise loop lies across directions and faces that way, shape (k,).

    Args:
        directions: unit vectors, shape (k, 2).
    """
    parts = loop.working_form()
    run = (parts.end - parts.start)[~parts.is_arc]
    outward = -1j * run / np.abs(run)
    square = (complex_of(directions)[:, None].conj() * outward).real
    found: Bools = (square >= _ACROSS_COSINE).any(axis=1)
    return found


def extreme_points(loop: Loop) -> Floats:
    """Vertices, and the points where an arc turns back along an axis: a half plane along an axis is nearest to one of
    them; shape (n, 2) [in]."""
    parts = loop.working_form()
    tops, is_on_arc = parts.tops(parts.is_arc.nonzero()[0], AXES)
    return points_of(np.concatenate([parts.start, tops.T[is_on_arc.T]]))


def _greatest(loop: Loop, along: Complexes) -> Floats:
    """Greatest place along each direction: of a vertex, or of the top of an arc that has its top on it."""
    parts, ahead = loop.working_form(), along[:, None]
    greatest: Floats = (ahead.conj() * parts.start).real.max(axis=1)
    arcs = parts.is_arc.nonzero()[0]
    if arcs.size:
        tops, is_on_arc = parts.tops(arcs, along)
        places = np.where(is_on_arc, (ahead.conj() * tops).real, -np.inf)
        greatest = np.maximum(greatest, places.max(axis=1))
    return greatest
