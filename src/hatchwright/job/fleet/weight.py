"""What an aircraft weighs empty and where, how it is loaded, and within which limits."""

from itertools import pairwise
from typing import Literal, Self

from pydantic import Field, model_validator

from hatchwright.job.amount import AircraftWeighs, HingeMoment, Load, Power, Volume
from hatchwright.job.day import Day
from hatchwright.job.entry import Coordinate, Entered, UncertaintyOrNone, YesNo, refusal
from hatchwright.said import said

LoadKind = Literal["crew", "passengers", "fuel", "oil", "baggage", "other"]


class Scale(Entered):
    """What one scale read while the aircraft was weighed."""

    point: str = Field(min_length=1, max_length=80)
    reading: Load
    tare: Load | None = None
    arm: Coordinate

    @model_validator(mode="after")
    def _more_than_tare(self) -> Self:
        if self.tare is not None and self.tare > self.reading:
            raise refusal(said("balance.tare_over"), said("balance.tare_over.do"))
        return self


class Equipment(Entered):
    """An item of the equipment list, or one that is put in or taken out with the work."""

    name: str = Field(min_length=1, max_length=120)
    weight: Load
    weight_u: Load | None = None
    arm: Coordinate
    change: Literal["in place", "put in", "taken out"] = "in place"


class CgLimit(Entered):
    """How far forward and aft the center of gravity may lie at one weight, and at any less down to the next one."""

    weight: AircraftWeighs
    forward: Coordinate
    aft: Coordinate

    @model_validator(mode="after")
    def _forward_of_aft(self) -> Self:
        if self.forward.exact_in >= self.aft.exact_in:
            raise refusal(said("balance.limits_crossed"), said("balance.limits_crossed.do"))
        return self


class LoadItem(Entered):
    """What goes aboard at one arm: the crew, a row of seats, a tank, a compartment."""

    name: str = Field(min_length=1, max_length=80)
    kind: LoadKind
    arm: Coordinate
    most: Load | None = None
    volume: Volume | None = None
    least: Load | None = None
    each: Load | None = None

    @model_validator(mode="after")
    def _one_most(self) -> Self:
        if (self.most is None) == (self.volume is None):
            raise refusal(said("balance.one_most"), said("balance.one_most.do"))
        if self.volume is not None and self.kind not in ("fuel", "oil"):
            raise refusal(said("balance.volume_of"), said("balance.volume_of.do"))
        if self.most is not None and self.least is not None and self.least > self.most:
            raise refusal(said("balance.least_over_most"), said("balance.least_over_most.do"))
        if self.each is not None and self.each <= 0.0:
            raise refusal(said("balance.each_zero"), said("balance.each_zero.do"))
        return self


class ControlSurface(Entered):
    """The movable surface that the opening goes into, and how far it may be out of balance about its hinge line."""

    name: str = Field(min_length=1, max_length=80)
    hinge: Coordinate
    hinge_u: UncertaintyOrNone | None = None
    nose_least: HingeMoment
    nose_most: HingeMoment

    @model_validator(mode="after")
    def _least_first(self) -> Self:
        if self.nose_least > self.nose_most:
            raise refusal(said("balance.hinge_crossed"), said("balance.hinge_crossed.do"))
        return self


class FleetBalance(Entered):
    """What holds for every aircraft of the fleet: the datum, where the opening lies, limits and loading."""

    datum: str = Field(min_length=1, max_length=120)
    job_arm: Coordinate
    job_arm_u: UncertaintyOrNone | None = None
    job_butt_line: Coordinate | None = None
    rotorcraft: YesNo = False
    mean_chord: Coordinate | None = None
    limits: tuple[CgLimit, ...] = Field(default=(), max_length=12)
    empty_forward: Coordinate | None = None
    empty_aft: Coordinate | None = None
    loading: tuple[LoadItem, ...] = Field(default=(), max_length=14)
    power: Power | None = None
    ballast_arm: Coordinate | None = None
    surface: ControlSurface | None = None

    @model_validator(mode="after")
    def _sound(self) -> Self:
        if self.mean_chord is not None and self.mean_chord.exact_in <= 0:
            raise refusal(said("balance.no_chord"), said("balance.no_chord.do"))
        if any(one.weight >= other.weight for one, other in pairwise(self.limits)):
            raise refusal(said("balance.limits_order"), said("balance.limits_order.do"))
        if (self.empty_forward is None) != (self.empty_aft is None):
            raise refusal(said("balance.half_range"), said("balance.half_range.do"))
        if self.empty_forward and self.empty_aft and self.empty_forward.exact_in >= self.empty_aft.exact_in:
            raise refusal(said("balance.limits_crossed"), said("balance.limits_crossed.do"))
        tanks = [one for one in self.loading if one.kind == "fuel" and one.least is None]
        if self.power is not None and len(tanks) > 1:
            raise refusal(said("balance.which_tank"), said("balance.which_tank.do"))
        return self


class SideWeighed(Entered):
    """What the parts of one side weigh on a scale, all that goes in together, and all that was cut away."""

    side: Literal["left", "right"]
    put_in: Load
    taken_out: Load
    u: Load | None = None


class AircraftWeight(Entered):
    """Empty weight and arm as last recorded, or the readings of the scales, and the equipment with its arms."""

    empty_weight: AircraftWeighs | None = None
    empty_arm: Coordinate | None = None
    scales: tuple[Scale, ...] = Field(default=(), max_length=12)
    recorded: Day | None = None
    equipment: tuple[Equipment, ...] = Field(default=(), max_length=400)
    weighed: tuple[SideWeighed, ...] = Field(default=(), max_length=2)
    hinge_left: HingeMoment | None = None
    hinge_right: HingeMoment | None = None

    def weighed_side(self, side: str) -> SideWeighed | None:
        """What the parts of a side weigh on a scale, None while they are estimated."""
        return next((one for one in self.weighed if one.side == side), None)

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        if (self.empty_weight is None) != (self.empty_arm is None) or (
            (self.empty_weight is None) != bool(self.scales)
        ):
            raise refusal(said("balance.weighed_once"), said("balance.weighed_once.do"))
        if len({one.side for one in self.weighed}) < len(self.weighed):
            raise refusal(said("balance.side_twice"), said("balance.side_twice.do"))
        return self
