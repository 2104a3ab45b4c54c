"""The cutter in hand, the guide template for it, and the machine that makes the template."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from hatchwright.job.entry import Diameter, Entered, NotNegative, Positive, Size, refusal


class Cutter(Entered):
    """A cutter as measured in the shop."""

    kind: Literal["round-punch nibbler", "router"] = Field(description="Kind of cutter")
    cut_width: Diameter = Field(description="Width of the cut, measured on scrap")
    guide: Diameter = Field(description="Diameter of the guide collar, bush or bearing")
    filing_allowance: NotNegative = Field(description="Metal left to be filed to the line")
    template: Literal["female", "male"] = Field(
        description="female: guided inside a window; male: round a plug"
    )


class Template(Entered):
    """The guide template and the machine that cuts it."""

    material: str = Field(default="", max_length=80, description="Material")
    thickness: Positive = Field(description="Thickness")
    end_mill: Diameter = Field(description="Diameter of the machine's end mill")
    border: Positive = Field(description="Width left around the window, or around the plug")
    blank: Size | None = Field(default=None, description="Blank, along X and Y")
    envelope: Size | None = Field(default=None, description="Travel of the machine, along X and Y")

    @model_validator(mode="after")
    def _blank_fits(self) -> Template:
        if self.blank and self.envelope:
            blank = sorted(side.exact_in for side in self.blank)
            envelope = sorted(side.exact_in for side in self.envelope)
            if any(b > e for b, e in zip(blank, envelope, strict=True)):
                raise refusal("the blank is larger than the machine's travel", "Take a smaller blank.")
        return self
