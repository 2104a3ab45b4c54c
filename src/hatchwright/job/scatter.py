"""How far the shop's own work scatters, each as a standard deviation, with what it was found from."""

from typing import Annotated

from pydantic import AfterValidator

from hatchwright.job.entry import AngleDeg, Count, Entered, Uncertainty, UncertaintyOrNone, refusal
from hatchwright.said import said


def _no_side(turn_deg: float) -> float:
    """A scatter has no sign: a negative one is a reading that was entered for it."""
    if turn_deg < 0.0:
        raise refusal(said("job.scatter_negative"), said("job.scatter_negative.do"))
    return turn_deg


Turn = Annotated[AngleDeg, AfterValidator(_no_side)]


class ScatterFreedom(Entered):
    """Degrees of freedom of each scatter, where it was worked out of readings."""

    drill: Count | None = None
    placement: Count | None = None
    offset: Count | None = None
    filing: Count | None = None
    ring: Count | None = None


class Scatter(Entered):
    """The shop's own scatter in drilling, placing, cutting and filing."""

    drill: Uncertainty
    drill_along: Uncertainty | None = None
    placement: UncertaintyOrNone | None = None
    turn: Turn | None = None
    offset: UncertaintyOrNone | None = None
    filing: UncertaintyOrNone | None = None
    edge: UncertaintyOrNone | None = None
    ring_place: UncertaintyOrNone | None = None
    ring_turn: Turn | None = None
    measuring: UncertaintyOrNone | None = None
    freedom: ScatterFreedom | None = None
