"""What is mounted on the skin: an antenna, a camera or another fitting."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from hatchwright.job.amount import Area, Force, Speed, Weight
from hatchwright.job.entry import AngleDeg, Entered, Positive, Size, refusal
from hatchwright.job.skin import Sheet
from hatchwright.job.yes_no import YesNo
from hatchwright.said import said


class StaticTest(Entered):
    """What the mounted part held in a static test without letting go or staying bent, by the aircraft's directions."""

    down: Force | None = Field(default=None, description="Load held downward [lbf]")
    up: Force | None = Field(default=None, description="Load held upward [lbf]")
    forward: Force | None = Field(default=None, description="Load held forward [lbf]")
    side: Force | None = Field(
        default=None, description="Load held to either side, the lower of the two [lbf]"
    )
    aft: Force | None = Field(default=None, description="Load held aft, against the drag [lbf]")


class Bracket(Sheet):
    """The bracket that is bent up for the mount: legs in their order, a bend between each two."""

    radius: Positive = Field(description="Inside radius of its bends")
    angle: AngleDeg = Field(default=90.0, description="Angle through which each bend is bent")
    legs: tuple[Positive, ...] = Field(
        min_length=2, max_length=12, description="Width of each leg to the mould lines, in their order"
    )

    @model_validator(mode="after")
    def _bends(self) -> Bracket:
        if not 0.0 < self.angle < 180.0:
            raise refusal(said("job.bend"), said("job.bend.do"))
        return self


class Mount(Entered):
    """The part that is mounted, and what it asks of the skin."""

    kind: Literal["antenna", "camera", "other"] = Field(description="What is mounted")
    base: Size = Field(description="Size of its base, along X and Y")
    screw_size: str = Field(default="", max_length=20, description="Thread of its screws, such as 8-32")
    screw_pattern: Size | None = Field(default=None, description="Screw spacing along X and Y, two by two")
    bonded: YesNo | None = Field(
        default=None, description="Whether its base must be bonded to the skin electrically"
    )
    sealed: YesNo | None = Field(default=None, description="Whether its base is sealed to the skin")
    nearest_antenna: Positive | None = Field(default=None, description="Distance to the next antenna")
    least_distance: Positive | None = Field(
        default=None,
        description="Least distance to another antenna, the larger of what the manuals of both ask for",
    )
    weight: Weight | None = Field(default=None, description="Weight of the part with its base [lb]")
    category: Literal["normal", "utility", "acrobatic"] | None = Field(
        default=None, description="Category of the aircraft; the hardest counts while it is left away"
    )
    frontal_area: Area | None = Field(default=None, description="Frontal area of an antenna [ft2]")
    speed: Speed | None = Field(default=None, description="Greatest speed of the aircraft [mph]")
    test: StaticTest | None = Field(default=None, description="What it held in a static test")
    bracket: Bracket | None = Field(default=None, description="Bracket that is bent up for it")
