"""How far a movable surface is out of balance about its hinge line, before and after.

Method: moments about the hinge line; nose heavy is positive, so that what is put in behind the hinge takes away.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from hatchwright.airworthiness.balance_parts import Change
from hatchwright.finding import Finding, held, stated
from hatchwright.ground import Ground, practice
from hatchwright.job.fleet.weight import ControlSurface
from hatchwright.job.frame import Side
from hatchwright.judged import Measure, Status
from hatchwright.said import Said, said
from hatchwright.workings import Grade, Quantity, Source, Working

_ENTERED = Ground(Source("PRACTICE", "balance limits of the surface, as entered"), Grade.SHOP)


class Hinge(Struct, frozen=True):
    """A surface about its hinge line, nose heavy positive.

    Args:
        before_in_lb: as it was measured last, None where that was not entered [in-lb].
        change_in_lb: what the job makes of it; negative toward tail heavy [in-lb].
        u_in_lb: by how much that may be out [in-lb].
        least_in_lb: the least that is allowed [in-lb].
        most_in_lb: the most that is allowed [in-lb].
        not_weighed: what is left out of the change.
    """

    name: str
    side: Side
    before_in_lb: float | None
    change_in_lb: float
    u_in_lb: float
    least_in_lb: float
    most_in_lb: float
    not_weighed: tuple[Said, ...] = ()

    @property
    def after_in_lb(self) -> float | None:
        """What it is with the change, None while nobody knows what it was [in-lb]."""
        return None if self.before_in_lb is None else self.before_in_lb + self.change_in_lb

    @property
    def working(self) -> Working:
        """The sum, or the change alone."""
        change = Quantity("change", self.change_in_lb, "in-lb")
        if self.before_in_lb is None or self.after_in_lb is None:
            return _ENTERED.working("change = - sum of weight x distance aft of the hinge line", change)
        before, after = (
            Quantity("before", self.before_in_lb, "in-lb"),
            Quantity("after", self.after_in_lb, "in-lb"),
        )
        return _ENTERED.working("after = before - sum of weight x distance aft", after, before, change)


def hinge_of(change: Change, surface: ControlSurface, *, before_in_lb: float | None, side: Side) -> Hinge:
    """What the parts of one side make of the balance of its surface.

    Args:
        before_in_lb: nose heavy as last measured, None where it was not entered [in-lb].
    """
    hinge_in = surface.hinge.inch
    u_in = surface.hinge_u.inch if surface.hinge_u else 0.0
    tail_heavy_in_lb = tail_u_in_lb = 0.0
    for part in change.parts:
        assert part.aft_in is not None  # it is a part of a job
        behind_in, weighed = part.aft_in - hinge_in, part.weighed
        tail_heavy_in_lb += weighed.weight_lb * behind_in
        off_in = u_in + part.aft_u_in
        tail_u_in_lb += weighed.u_lb * abs(behind_in) + (abs(weighed.weight_lb) + weighed.u_lb) * off_in
    limits = float(surface.nose_least), float(surface.nose_most)
    return Hinge(
        surface.name, side, before_in_lb, -tail_heavy_in_lb, tail_u_in_lb, *limits, change.not_weighed
    )


def hinge_findings(hinge: Hinge) -> Iterator[Finding]:
    """Whether the surface is still inside its balance limits; what is not known is not shown."""
    advice, side = said("balance.rebalance"), said(f"side.{hinge.side}")
    subject = said("balance.hinge_subject", name=hinge.name, side=side)
    after_in_lb = hinge.after_in_lb
    if after_in_lb is None:
        by = practice("balance of control surfaces")
        yield stated("", Status.UNKNOWN, subject, by, said("balance.hinge_before"), advice)
        return
    after = Measure("after", after_in_lb, hinge.u_in_lb, unit="in-lb")
    least = _ENTERED.at_least(after, hinge.least_in_lb, hinge.working)
    yield held("", least, said("balance.hinge_tail", name=hinge.name, side=side), advice)
    most = _ENTERED.at_most(after, hinge.most_in_lb, hinge.working)
    yield held("", most, said("balance.hinge_nose", name=hinge.name, side=side), advice)
    if hinge.not_weighed:
        yield stated("", Status.UNKNOWN, subject, _ENTERED, said("balance.hinge_left_out"))
