"""Each part of a job with its arm on the aircraft, signed for what is put in or taken away."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from hatchwright.airworthiness.balance import Weighed, balance_of
from hatchwright.job.fleet.weight import SideWeighed
from hatchwright.job.frame import Frame, Side
from hatchwright.layout.layout import Layout
from hatchwright.layout.mass import weight_change
from hatchwright.said import Said, said
from hatchwright.workings import Working

_AFT = {"AFT": 1.0, "FWD": -1.0}
"""What a step along a direction is aft [-]; one of a job's axes runs so, or it would lie in no skin."""


class Part(Struct, frozen=True):
    """One weight of a change.

    Args:
        aft_in: how far aft of the job's origin it acts, None for what is no part of a job [in].
        working: how its weight came about, none for one that was entered.
    """

    name: Said | str
    weighed: Weighed
    aft_in: float | None = None
    working: Working | None = None

    @property
    def may_count(self) -> bool:
        """Whether its weight rests on more than memory."""
        return self.working is None or self.working.grade.may_stop


class Change(Struct, frozen=True):
    """What is put in and taken away at one side, or at the whole aircraft.

    Args:
        side: of the aircraft; None for equipment, which belongs to no side.
        not_weighed: what is left out, each with the reason.
    """

    side: Side | None
    parts: tuple[Part, ...]
    not_weighed: tuple[Said, ...] = ()

    @property
    def weight_lb(self) -> float:
        """All together, less what is taken away [lb]."""
        return sum(part.weighed.weight_lb for part in self.parts)

    @property
    def u_lb(self) -> float:
        """By how much that may be out, every part being out the same way [lb]."""
        return sum(part.weighed.u_lb for part in self.parts)

    @property
    def moment_lb_in(self) -> float:
        """About the datum [lb-in]."""
        return sum(part.weighed.moment_lb_in for part in self.parts)


def change_of(
    layout: Layout, *, job_arm_in: float, job_arm_u_in: float = 0.0, weighed: SideWeighed | None = None
) -> Change:
    """The parts of a job, as made where that was measured.

    Args:
        job_arm_in: arm of the job's origin, aft of the datum [in].
        job_arm_u_in: by how much that may be out [in].
        weighed: what all of them weigh on a scale, None while they are estimated.
    """
    change, parts = weight_change(layout), []
    for mass in change.masses:
        assert mass.place is not None  # each part of a layout lies somewhere
        aft_in = aft_of_origin(layout.frame, mass.place)
        one = Weighed(mass.mass_lb, job_arm_in + aft_in, mass.uncertainty_lb, job_arm_u_in)
        parts.append(Part(mass.name, one, aft_in, mass.working))
    estimated = Change(layout.job.aircraft.side, tuple(parts), change.not_weighed)
    return _as_weighed(estimated, layout, weighed, job_arm_in) if weighed else estimated


def _as_weighed(estimated: Change, layout: Layout, weighed: SideWeighed, job_arm_in: float) -> Change:
    """The same by the scale: what goes in and what was cut away, each where the estimates balance.

    A part that could not be estimated is on the scale too, and lies anywhere within the parts.
    """
    u_lb, found = float(weighed.u or 0.0), []
    amounts = (
        ("balance.put_in", float(weighed.put_in), 1.0),
        ("balance.taken_out", float(weighed.taken_out), -1.0),
    )
    for id, amount_lb, sign in amounts:
        alike = [part.weighed for part in estimated.parts if sign * part.weighed.weight_lb > 0.0]
        if not alike:
            continue
        whole = balance_of(_turned(one, sign) for one in alike).total
        u_in = whole.u_in
        if estimated.not_weighed and amount_lb:
            unknown_lb = max(0.0, amount_lb - whole.weight_lb + whole.u_lb)
            u_in += _reach_in(layout) * min(1.0, unknown_lb / amount_lb)
        one = Weighed(sign * amount_lb, whole.arm_in, u_lb, u_in)
        found.append(Part(said(id), one, whole.arm_in - job_arm_in))
    return Change(estimated.side, tuple(found))


def _turned(one: Weighed, sign: float) -> Weighed:
    return Weighed(sign * one.weight_lb, one.arm_in, one.u_lb, one.u_in)


def _reach_in(layout: Layout) -> float:
    """From the one end of the parts to the other along the aircraft [in]."""
    boxes = [edge.loop.bounds for part in layout.parts for edge in part.edges if part.name != "skin"]
    ends = [aft_of_origin(layout.frame, corner) for box in boxes for corner in (box[:2], box[2:])]
    return max(ends, default=0.0) - min(ends, default=0.0)


def aft_of_origin(frame: Frame, place: tuple[float, float]) -> float:
    """How far aft of the job's origin a point lies, negative ahead of it [in].

    Method: along the skin; sweep, dihedral and incidence are left out of account.
    """
    return sum(_AFT.get(word, 0.0) * along for word, along in zip((frame.x, frame.y), place, strict=True))


def all_parts(changes: Iterable[Change]) -> tuple[Part, ...]:
    """The parts of several changes, in order."""
    return tuple(part for change in changes for part in change.parts)


def side_named(side: Side | None) -> Said:
    """A side by its name, or the equipment."""
    return said(f"side.{side}") if side else said("balance.equipment")
