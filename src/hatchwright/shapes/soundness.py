"""Refusal of profiles that cross, overlap or lie the wrong way round, at the place where they do."""

from __future__ import annotations

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.said import said
from hatchwright.shapes.contacts import contacts, cut_apart
from hatchwright.shapes.pieces import Pieces, pair_of

_BESIDE_IN = 2e-11
_END_IN = 1e-9


def refuse_unsound(parts: Pieces) -> None:
    """Check that the region lies on the left of every piece and nowhere on the right, by its definition.

    The pieces are cut wherever they meet, and the region is looked for just beside the middle of every part.
    Loops may touch in single points.

    Raises:
        GeometryError: the loops cross, lie on each other, or run the wrong way round; `place` is where.
    """
    cuts, _ = cut_apart(parts)
    inside = parts.inside(cuts.beside(_BESIDE_IN))
    wrong = ~inside[: cuts.count] | inside[cuts.count :]
    if not wrong.any():
        return
    i, j, place = contacts(parts)
    follows = np.isclose(parts.end[i], parts.start[j], rtol=0.0, atol=_END_IN)
    follows |= np.isclose(parts.end[j], parts.start[i], rtol=0.0, atol=_END_IN)
    crossing = place[~follows]
    first = cuts.middle[wrong.argmax()]
    z = crossing[np.abs(crossing - first).argmin()] if crossing.size else first
    what = said("error.crosses") if crossing.size else said("error.wrong_way")
    raise GeometryError(what, place=pair_of(z), remedy=said("error.loops.do"))
