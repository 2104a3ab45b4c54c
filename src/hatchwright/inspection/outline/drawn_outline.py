"""A drawn edge as an outline of lines and arcs within a tolerance, and how far the two lie apart.

Method: docs/theory/trace.md.
"""

from __future__ import annotations

import numpy as np

from hatchwright.errors import EntryError, GeometryError
from hatchwright.inspection.outline.edge import drawn_edge
from hatchwright.inspection.outline.lines_and_arcs import TOLERANCE_SPREADS, lines_and_arcs
from hatchwright.said import inch
from hatchwright.shapes.pieces import Floats, Pieces, pieces_of
from hatchwright.shapes.profile import Loop, profile_of

_FINER = (1.0, 2.0, 4.0, 8.0, 16.0)
"""Parts of the usual scatter that are tried one after the other until the outline comes within its tolerance [-]."""

MOST_PIECES = 64
"""An outline of more follows the jitter of a trace, not the part [-]. Own choice, no source."""

_STEP_IN, _MOST_STEPS = 0.005, 8000
_AT_ONCE = 1_000_000
"""Distances that are worked out at once [-]."""


def drawn_outline(polygon: Floats, *, within_in: float) -> tuple[Loop, float]:
    """The outline of fewest lines and arcs that is found within a tolerance, and its departure [in].

    Args:
        polygon: closed, shape (n, 2) [in].
        within_in: how far outline and polygon may lie apart, either from the other [in].
    Raises:
        EntryError: none comes within it, or the edge crosses itself; tells how near the nearest came.
    """
    edge, nearest = drawn_edge(polygon), np.inf
    for finer in _FINER:
        rows = lines_and_arcs(edge, spread_in=within_in / TOLERANCE_SPREADS / finer)
        if len(rows) > MOST_PIECES:
            break
        try:
            loop = Loop(np.array(rows))
            profile_of(loop)
        except GeometryError:
            continue
        off_in = departure_in(loop, polygon)
        if off_in <= within_in:
            return loop, off_in
        nearest = min(nearest, off_in)
    raise _not_within(nearest, within_in)


def _not_within(nearest_in: float, within_in: float) -> EntryError:
    within = inch(within_in, fine=True)
    if np.isinf(nearest_in):
        return EntryError.saying("trace.crosses", within=within)
    return EntryError.saying("trace.not_within", nearest=inch(nearest_in, fine=True), within=within)


def departure_in(loop: Loop, polygon: Floats) -> float:
    """The largest distance of a point of either from the other [in].

    Args:
        polygon: closed, shape (n, 2) [in].
    """
    drawn = pieces_of(np.column_stack([polygon, np.zeros(len(polygon))]))
    made = loop.working_form()
    return max(_farthest_in(made, drawn), _farthest_in(drawn, made))


def _farthest_in(parts: Pieces, other: Pieces) -> float:
    """Of the ends of parts, and of even steps along them, from the other [in]."""
    step_in = max(_STEP_IN, float(parts.length_in.sum()) / _MOST_STEPS)
    places = parts.at(*parts.steps(step_in))
    each = max(1, _AT_ONCE // other.count)
    return max(float(other.distance(places[at : at + each])[0].max()) for at in range(0, len(places), each))
