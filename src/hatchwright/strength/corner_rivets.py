"""Rivets beyond a corner of the opening, which hand over the loads of two sides at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy as np
import numpy.typing as npt
from msgspec import Struct

from hatchwright.layout.cut_side import CutSide
from hatchwright.strength.load_case import Case


class Shares(Struct, frozen=True):
    """What part of a side's load each of its rivets hands over.

    Args:
        part: by the number of its hole; more than 1 together where a row or an edge works some harder than others [-].
    """

    side: CutSide
    part: Mapping[int, float]


def worked_by_both(shares: Shares, others: Iterable[Shares], case: Case) -> dict[int, float]:
    """By how much each rivet of a side is worked harder because it serves another side too.

    The loads of two sides add with their directions; where they are opposed a rivet still counts for no less than its
    own side asks of it.

    Args:
        shares: of a side that the case loads.
        others: of all other sides.
    Returns:
        dict: load of both sides over that of its own, at least 1, for those that serve two that the case loads [-].
    Method: docs/theory/rivet.md, eq. 10 and 11.
    """
    own_lbf, found = _force_lbf(shares.side, case), dict[int, float]()
    for other in others:
        force_lbf = _force_lbf(other.side, case)
        for number in sorted(shares.part.keys() & other.part.keys()) if force_lbf.any() else ():
            own = shares.part[number] * own_lbf
            both = own + other.part[number] * force_lbf
            found[number] = max(1.0, float(np.hypot(*both) / max(np.hypot(*own), 1e-300)))
    return found


def _force_lbf(side: CutSide, case: Case) -> npt.NDArray[np.float64]:
    """What the skin beyond a side pulls with on it, along X and Y: direct load along its way, shear across [lbf]."""
    (x, y), direct, shear = side.way, case.along(side.axis).value, case.q.value
    return side.cut_in * np.array([direct * x + shear * y, direct * y + shear * x])
