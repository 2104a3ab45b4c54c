"""What the risk of a job is told in: chances of holes, rules and the job, culprits and their gains.

Method: docs/theory/risk.md.
"""

from __future__ import annotations

from msgspec import Struct

from hatchwright.layout.layout import Hole
from hatchwright.search.risk.errors import Culprit, Errors, Lack, Order
from hatchwright.search.risk.gaps import Between


class Chance(Struct, frozen=True):
    """How likely something ends short.

    Args:
        short: chance that it is truly short [-].
        judged_short: chance that it is then measured short beyond doubt [-].
        not_shown: chance that it can't be shown either way by what is measured [-].
    """

    short: float
    judged_short: float
    not_shown: float


class HoleChance(Struct, frozen=True):
    """One hole: never less than the chance that any of its distances ends short.

    Args:
        likeliest: its gap that ends short most often, or the one that does not pass already.
        gap_in: of that as drawn [in].
        is_held: whether one of its distances doesn't pass already, as drawn or as measured.
    """

    hole: Hole
    chance: Chance
    likeliest: Between
    gap_in: float
    is_held: bool


class RuleChance(Struct, frozen=True):
    """One rule: how many distances it holds, the chance that any ends short, how many do in a hundred jobs.

    Args:
        holds_back: whether work would stop by it; else it only cautions, and is not counted in the job's.
        held: distances that don't pass already; those that are short are in no other figure.
    """

    code: str
    distances: int
    chance: float
    spoilt_per_hundred: float
    holds_back: bool
    held: int


class Gain(Struct, frozen=True):
    """What one tolerance has to do with it.

    Args:
        share: of the variance of the distances that are at risk [-].
        gain: spoilt holes that are saved in a hundred jobs when it is halved [-].
    """

    culprit: Culprit
    share: float
    gain: float


class OrderChance(Struct, frozen=True):
    """The same job with another sheet in the lead."""

    order: Order
    spoilt_per_hundred: float
    job: float


class UpTo(Struct, frozen=True):
    """The same job where each scatter is as large as its few readings leave it, at 95 % each."""

    errors: Errors
    spoilt_per_hundred: float
    job: float


class LeftOut(Struct, frozen=True):
    """What was not simulated: so many distances, and by the union of their chances no more than that in one job.

    Args:
        bound: greatest chance that any of them ends short [-].
    """

    distances: int
    bound: float


class Risk(Struct, frozen=True):
    """The chance that a job ends short, by the shop's own scatter; a chance, and never a permission.

    Args:
        job: chance that any hole that counts ends short [-].
        missing: what this job has and nobody entered, so that every chance is too small by it.
        is_bound: whether that is rather too large than too small, since some distances hang together by their holes.
        spoilt_per_hundred: holes that end short in a hundred jobs, a hole once for each edge that it is short to [-].
        judged_per_hundred: holes judged short, and not shown, in a hundred jobs (short, not shown) [-].
        up_to: the same with each scatter at its upper limit; None where no degrees of freedom are entered.
        held: distances that don't pass already, as drawn or as measured, of which the rules speak.
        unlisted: holes whose fastener no table lists, so that nothing is known of their limits.
        is_one_of_two: whether the same is drilled on the other side too, which is not in it.
    """

    errors: Errors
    missing: tuple[Lack, ...]
    job: float
    is_bound: bool
    spoilt_per_hundred: float
    judged_per_hundred: tuple[float, float]
    up_to: UpTo | None
    holes: tuple[HoleChance, ...]
    rules: tuple[RuleChance, ...]
    gains: tuple[Gain, ...]
    orders: tuple[OrderChance, ...]
    left_out: LeftOut
    held: int
    unlisted: int
    is_one_of_two: bool
