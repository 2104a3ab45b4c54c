"""Each part of a job with its arm on the aircraft, signed for what is put in or taken away."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from hatchwright.airworthiness.balance import Weighed, balance_of
from hatchwright.errors import EntryError
from hatchwright.job.fleet.weight import SideWeighed
from hatchwright.job.frame import Frame, Side
from hatchwright.layout.layout import Layout
from hatchwright.layout.mass import weight_change
from hatchwright.said import Said, said
from hatchwright.workings import Working

_AFT = {"AFT": 1.0, "FWD": -1.0}
"""What a step along a direction is aft [-]; one of a job's axes runs so, or it would lie in no skin."""


class Origin(Struct, frozen=True):
    """Where the origin of a job lies on the aircraft.

    Args:
        arm_in: aft of the datum [in].
        u_in: by how much that may be out [in].
        butt_line_in: from the center line out to it, None where it was not entered [in].
    """

    arm_in: float
    u_in: float = 0.0
    butt_line_in: float | None = None


class Part(Struct, frozen=True):
    """One weight of a change.

    Args:
        aft_in: how far aft of the job's origin it acts, None for what is no part of a job [in].
        aft_u_in: by how much that may be out [in].
        lateral_in: how far right of the center line, negative to the left; None where that is not known [in].
        working: how its weight came about, none for one that was entered.
    """

    name: Said | str
    weighed: Weighed
    aft_in: float | None = None
    aft_u_in: float = 0.0
    lateral_in: float | None = None
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

    @property
    def lateral_lb_in(self) -> float | None:
        """About the center line, right positive; None where a place is not known [lb-in]."""
        each = [(part.weighed.weight_lb, part.lateral_in) for part in self.parts]
        known = [weight_lb * lateral_in for weight_lb, lateral_in in each if lateral_in is not None]
        return sum(known) if len(known) == len(each) else None


def change_of(layout: Layout, origin: Origin, weighed: SideWeighed | None = None) -> Change:
    """The parts of a job, as made where that was measured.

    Args:
        weighed: what all of them weigh on a scale, None while they are estimated.
    Raises:
        EntryError: a weight from the scale belongs to nothing that the job has.
    """
    change, parts = weight_change(layout), []
    for mass in change.masses:
        assert mass.place is not None  # each part of a layout lies somewhere
        aft_in = aft_of_origin(layout.frame, mass.place)
        lateral_in = None
        if origin.butt_line_in is not None:
            lateral_in = right_of_center(layout.frame, mass.place, butt_line_in=origin.butt_line_in)
        one = Weighed(mass.mass_lb, origin.arm_in + aft_in, mass.uncertainty_lb, origin.u_in)
        parts.append(Part(mass.name, one, aft_in, 0.0, lateral_in, mass.working))
    estimated = Change(layout.job.aircraft.side, tuple(parts), change.not_weighed)
    return _as_weighed(estimated, layout, weighed, origin) if weighed else estimated


def _as_weighed(estimated: Change, layout: Layout, weighed: SideWeighed, origin: Origin) -> Change:
    """The same by the scale: what goes in and what was cut away, each where the estimates balance.

    A part that could not be estimated is on the scale too, and lies anywhere within the parts. Where nothing of them
    could be, the estimates stand, with what they lack.
    """
    u_lb, found = float(weighed.u or 0.0), []
    for id, entered, sign in (("put_in", weighed.put_in, 1.0), ("taken_out", weighed.taken_out, -1.0)):
        alike = [part for part in estimated.parts if sign * part.weighed.weight_lb > 0.0]
        amount_lb = float(entered)
        if not alike and estimated.not_weighed:
            return estimated
        if alike and id == "put_in" and not amount_lb:
            raise EntryError.saying("balance.weighs_nothing", where=f"{estimated.side}.{id}")
        if not alike and amount_lb:
            raise EntryError.saying("balance.nothing_there", where=f"{estimated.side}.{id}")
        if not alike:
            continue
        each = [(sign * part.weighed.weight_lb, part) for part in alike]
        whole = balance_of(Weighed(lb, part.aft_in or 0.0, part.weighed.u_lb) for lb, part in each).total
        aft_u_in = whole.u_in
        if estimated.not_weighed and amount_lb:
            unknown_lb = max(0.0, amount_lb - whole.weight_lb + whole.u_lb)
            aft_u_in += _reach_in(layout) * min(1.0, unknown_lb / amount_lb)
        sideways = [lb * part.lateral_in for lb, part in each if part.lateral_in is not None]
        lateral_in = sum(sideways) / whole.weight_lb if sideways else None
        arm_in = origin.arm_in + whole.arm_in
        one = Weighed(sign * amount_lb, arm_in, u_lb, origin.u_in + aft_u_in)
        found.append(Part(said(f"balance.{id}"), one, whole.arm_in, aft_u_in, lateral_in))
    return Change(estimated.side, tuple(found))


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


def right_of_center(frame: Frame, place: tuple[float, float], *, butt_line_in: float) -> float:
    """How far right of the aircraft's center line a point lies, negative to the left of it [in].

    Args:
        butt_line_in: from the center line out to the job's origin; on the center line itself right is positive [in].
    """
    outward = -1.0 if frame.side == "left" else 1.0
    to_right = {"RIGHT": 1.0, "LEFT": -1.0, "OUTBD": outward, "INBD": -outward}
    along = zip((frame.x, frame.y), place, strict=True)
    return outward * butt_line_in + sum(to_right.get(word, 0.0) * step_in for word, step_in in along)


def all_parts(changes: Iterable[Change]) -> tuple[Part, ...]:
    """The parts of several changes, in order."""
    return tuple(part for change in changes for part in change.parts)


def side_named(side: Side | None) -> Said:
    """A side by its name, or the equipment."""
    return said(f"side.{side}") if side else said("balance.equipment")
