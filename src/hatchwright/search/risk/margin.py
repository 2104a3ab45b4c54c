"""What a layout has to keep beyond a limit so that drilling and cutting leave so many spoilt holes and no more.

Method: docs/theory/risk.md, eq. 9.
"""

from __future__ import annotations

import math
from statistics import NormalDist

from hatchwright.errors import GeometryError
from hatchwright.job.scatter import Scatter
from hatchwright.search.risk.errors import Errors, Play, errors_of


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
    """The greater of what scatters a hole against the opening and against the ring [in].

    A side that runs along an axis counts; round a corner two sides share what one has here, so that it is no more.
    """
    opening = (errors.place_in, errors.turn_rad * lever_in, errors.offset_in, errors.filing_in)
    ring = (errors.ring_place_in, errors.ring_turn_rad * lever_in, errors.edge_in)
    wander_in = max(errors.square_in, errors.along_in)
    return max(math.hypot(wander_in, *of) for of in (opening, ring))
