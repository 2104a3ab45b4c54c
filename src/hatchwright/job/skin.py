"""The skin that is to be opened, and the aircraft it belongs to."""

from typing import Literal, Self

from pydantic import Field, model_validator

from hatchwright.job.entry import Entered, NotNegative, Positive, Thickness, Uncertainty, YesNo, refusal
from hatchwright.job.frame import Side, Surface
from hatchwright.said import said


class Aircraft(Entered):
    """The aircraft as the mechanic writes it, and where on it the skin lies."""

    registration: str = Field(default="", max_length=80)
    serial: str = Field(default="", max_length=80)
    side: Side
    surface: Surface
    both_sides: YesNo = False


class Mandate(Entered):
    """What asks for the opening."""

    kind: Literal["directive", "bulletin", "owner"] = "owner"
    reference: str = Field(default="", max_length=120)
    bulletin: str = Field(default="", max_length=120)
    revision: str = Field(default="", max_length=40)
    kit: str = Field(default="", max_length=120)
    purpose: str = Field(default="", max_length=400)
    bay_x: Positive | None = None
    bay_y: Positive | None = None
    opening_x: Positive | None = None
    opening_y: Positive | None = None


class Sheet(Entered):
    """One sheet of aluminium alloy."""

    alloy: str = Field(min_length=1, max_length=40)
    temper: str = Field(min_length=1, max_length=40)
    clad: YesNo = False
    thickness: Thickness
    measured: Thickness | None = None
    measured_u: Uncertainty | None = None

    @model_validator(mode="after")
    def _measured_with_its_u(self) -> Self:
        if self.measured_u is not None and self.measured is None:
            raise refusal(said("job.u_of_nothing"), said("job.u_of_nothing.do"))
        return self


class Curvature(Entered):
    """Single curvature, taken with a straightedge."""

    along: Literal["x", "y"]
    chord: Positive
    rise: Positive
    other_rise: NotNegative | None = None


class Skin(Sheet):
    """The skin itself."""

    stressed: YesNo
    pressurized: YesNo = False
    curvature: Curvature | None = None
