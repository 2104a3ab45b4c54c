"""What a layout has to keep beyond a limit so that drilling and cutting leave so many spoilt holes and no more.

Method: docs/theory/risk.md, eq. 9.
"""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.job.scatter import Scatter
from hatchwright.search.risk.errors import Errors, Order, Play, errors_of
from hatchwright.search.risk.form import EDGES, Wander, edge_form, opening_moves, ring_moves


def kept_for_drilling(
    scatter: Scatter,
    spoilt_per_hundred: float,
    holes: int,
    *,
    lever_in: float = 0.0,
    play: Play | None = None,
) -> float:
    """Length to keep beyond every least edge distance, so that the shop's scatter is paid for [in].

    Args:
        spoilt_per_hundred: holes that may come out short in a hundred jobs, more than none [-].
        holes: of the job.
        lever_in: greatest lever of a turn, 0 where turns don't count [in].
        play: of the template's pins, where place and turn were not entered.
    Raises:
        GeometryError: a number that can't be.
    """
    if not (math.isfinite(spoilt_per_hundred) and spoilt_per_hundred > 0.0 and holes >= 1):
        raise GeometryError.saying("risk.wanted", where="spoilt_per_hundred")
    share = spoilt_per_hundred / (100.0 * holes)
    if share >= 0.5:
        return 0.0
    return -NormalDist().inv_cdf(share) * edge_deviation_in(errors_of(scatter, play), lever_in=lever_in)


def edge_deviation_in(errors: Errors, *, lever_in: float) -> float:
    """The greater of what scatters a hole against a side of the opening and against one of the ring [in].

    A side along an axis counts: round a corner two sides share what one has here, so that it is no more.
    """
    one = np.array([0], dtype=np.intp)
    wander_in = max(errors.square_in, errors.along_in)
    hole = Wander(
        points_in=np.array([[0.0, lever_in]]),
        way=np.array([[0.0, 1.0]]),
        deviation_in=np.array([[wander_in, wander_in]]),
        is_made=np.array([False]),
        index={},
    )
    against = (opening_moves(Order.SKIN, is_made=False), ring_moves(Order.SKIN, sides=0))
    forms = (
        edge_form(
            errors,
            hole,
            one,
            normal=np.array([[1.0, 0.0]]),
            about=np.full((1, 2), np.nan),
            center_in=(0.0, 0.0),
            moves=moves,
            width=EDGES + 4,
        )
        for moves in against
    )
    return max(math.hypot(*form.common[0].tolist(), *form.coefficient.tolist()) for form in forms)
