"""What is mounted on the skin: an antenna, a camera or another fitting."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from hatchwright.job.entry import Entered, Positive, Size


class Mount(Entered):
    """The part that is mounted, and what it asks of the skin."""

    kind: Literal["antenna", "camera", "other"] = Field(description="What is mounted")
    base: Size = Field(description="Size of its base, along X and Y")
    screw_size: str = Field(default="", max_length=20, description="Thread of its screws, such as 8-32")
    screw_pattern: Size | None = Field(default=None, description="Screw spacing along X and Y, two by two")
    bonded: bool | None = Field(
        default=None, description="Whether its base must be bonded to the skin electrically"
    )
    sealed: bool | None = Field(default=None, description="Whether its base is sealed to the skin")
    nearest_antenna: Positive | None = Field(default=None, description="Distance to the next antenna")
