"""What is mounted on the skin: an antenna, a camera or another fitting."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from hatchwright.job.amount import Area, Force, Speed, Weight
from hatchwright.job.entry import AngleDeg, Entered, Positive, Size, YesNo, refusal
from hatchwright.job.skin import Sheet
from hatchwright.said import said


class StaticTest(Entered):
    """What the mounted part held in a static test without letting go or staying bent, by the aircraft's directions."""

    down: Force | None = None
    up: Force | None = None
    forward: Force | None = None
    side: Force | None = None
    aft: Force | None = None


class Bracket(Sheet):
    """The bracket that is bent up for the mount: legs in their order, a bend between each two."""

    radius: Positive
    angle: AngleDeg = 90.0
    legs: tuple[Positive, ...] = Field(min_length=2, max_length=12)

    @model_validator(mode="after")
    def _bends(self) -> Bracket:
        if not 0.0 < self.angle < 180.0:
            raise refusal(said("job.bend"), said("job.bend.do"))
        return self


class Mount(Entered):
    """The part that is mounted, and what it asks of the skin."""

    kind: Literal["antenna", "camera", "other"]
    base: Size
    screw_size: str = Field(default="", max_length=20)
    screw_pattern: Size | None = None
    bonded: YesNo | None = None
    sealed: YesNo | None = None
    nearest_antenna: Positive | None = None
    least_distance: Positive | None = Field(default=None)
    weight: Weight | None = None
    category: Literal["normal", "utility", "acrobatic"] | None = None
    frontal_area: Area | None = None
    speed: Speed | None = None
    test: StaticTest | None = None
    bracket: Bracket | None = None
