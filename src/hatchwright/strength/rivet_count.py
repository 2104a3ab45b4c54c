"""Rivets on each side of the opening: by load and strength."""

from __future__ import annotations

import math

from hatchwright.strength.worked import Worked, work_out
from hatchwright.workings import Quantity


def rivets_for_load(*, load_lbf: float, one: Worked) -> Worked:
    """Rivets that a load asks for.

    Args:
        load_lbf: load on that side, factors included [lbf].
        one: what one rivet carries [lbf].
    Returns:
        Worked: whole rivets, rounded up [-].
    Method: docs/theory/rivet.md, eq. 4.
    """
    return work_out(
        float(math.ceil(load_lbf / one.value - 1e-9)),
        "n = ceil(P / P one) [rivets]",
        Quantity("P", load_lbf, "lbf"),
        one,
    )
