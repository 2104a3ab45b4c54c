"""The skin that is to be opened, and the aircraft it belongs to."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from hatchwright.job.entry import Entered, NotNegative, Positive
from hatchwright.job.frame import Side, Surface
from hatchwright.job.yes_no import YesNo


class Aircraft(Entered):
    """The aircraft as the mechanic writes it, and where on it the skin lies."""

    registration: str = Field(default="", max_length=80, description="Registration as typed")
    serial: str = Field(default="", max_length=80, description="Serial number as typed")
    side: Side = Field(description="left, right or center, as the pilot sits")
    surface: Surface = Field(description="upper, lower or side skin")
    both_sides: YesNo = Field(default=False, description="Whether the other side gets the mirrored job too")


class Mandate(Entered):
    """What asks for the opening."""

    kind: Literal["directive", "bulletin", "owner"] = Field(default="owner", description="Who asks for it")
    reference: str = Field(default="", max_length=120, description="Number of the directive or order")
    bulletin: str = Field(default="", max_length=120, description="Service bulletin, when one is named")
    revision: str = Field(default="", max_length=40, description="Revision of the bulletin")
    kit: str = Field(default="", max_length=120, description="Kit of parts, when one is named")
    purpose: str = Field(default="", max_length=400, description="What must be reached, seen or mounted")
    bay_x: Positive | None = Field(default=None, description="Size along X of the bay that it shows")
    bay_y: Positive | None = Field(default=None, description="Size along Y of the bay that it shows")
    opening_x: Positive | None = Field(
        default=None, description="Size along X of the opening that it asks for"
    )
    opening_y: Positive | None = Field(
        default=None, description="Size along Y of the opening that it asks for"
    )


class Sheet(Entered):
    """One sheet of aluminium alloy."""

    alloy: str = Field(description="Alloy number, such as 2024")
    temper: str = Field(description="Temper, such as T3")
    clad: YesNo = Field(default=False, description="Whether the sheet is clad")
    thickness: Positive = Field(description="Nominal thickness")


class Curvature(Entered):
    """Single curvature, taken with a straightedge."""

    along: Literal["x", "y"] = Field(description="The axis along which the skin is curved")
    chord: Positive = Field(description="Length of the straightedge")
    rise: Positive = Field(description="Gap at its middle")
    other_rise: NotNegative | None = Field(
        default=None, description="Gap at the middle of the same straightedge laid along the other axis"
    )


class Skin(Sheet):
    """The skin itself."""

    measured: Positive | None = Field(default=None, description="Thickness measured on the aircraft")
    stressed: YesNo = Field(description="Whether the skin carries flight loads")
    pressurized: YesNo = Field(default=False, description="Whether it holds cabin pressure")
    curvature: Curvature | None = Field(default=None, description="Curvature, when the skin is not flat")
