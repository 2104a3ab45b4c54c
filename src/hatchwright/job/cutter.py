"""The cutter in hand, the guide template for it, and the machine that makes the template.

Every size is a fact that the shop has measured; nothing here is a rated value of a maker.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field, model_validator

from hatchwright.job.entry import Diameter, Entered, NotNegative, Point, Positive, Size, matching, refusal
from hatchwright.job.tool_kinds import BY_HAND, GUIDED, KINDS, ToolKind
from hatchwright.job.yes_no import YesNo
from hatchwright.said import said

if TYPE_CHECKING:
    CutterName = str
    HandToolName = str
else:  # the names that the table of kinds holds, checked at the door like any other choice
    CutterName = Literal[GUIDED]
    HandToolName = Literal[BY_HAND]


class Tool(Entered):
    """What any tool that cuts skin is measured for."""

    name: str = Field(default="", max_length=80, description="Name by which the shop keeps it")
    capacity: Positive | None = Field(
        default=None, description="Thickest aluminium sheet that it cuts cleanly"
    )
    behind: NotNegative | None = Field(
        default=None, description="How far it reaches in behind, from the outer face of the skin"
    )
    body: Diameter | None = Field(
        default=None, description="Diameter of its body or foot where it stands on the skin"
    )
    reach: Positive | None = Field(
        default=None, description="Farthest that it gets from the hole it starts in"
    )
    starter: Diameter | None = Field(default=None, description="Hole that it needs to start in")


class Cutter(Tool):
    """A cutter guided by a template, as measured in the shop."""

    kind: CutterName = Field(description="Kind of cutter")
    cut_width: Diameter = Field(description="Width of the cut, measured on scrap")
    guide: Diameter = Field(description="Diameter of the guide collar, bush or bearing")
    filing_allowance: NotNegative = Field(description="Metal left to be filed to the line")
    template: Literal["female", "male"] = Field(
        description="female: guided inside a window; male: round a plug"
    )
    advance: Positive | None = Field(
        default=None, description="Advance per bite, for a cutter that takes bites"
    )
    eccentricity: NotNegative | None = Field(
        default=None, description="How far the middle of the cut lies off that of the guide"
    )
    starter_at: Point | None = Field(default=None, description="Where the starter hole is wanted")

    @property
    def what(self) -> ToolKind:
        """What a cutter of its kind is."""
        return KINDS[self.kind]

    @model_validator(mode="after")
    def _bites(self) -> Cutter:
        if self.advance and not self.what.bites:
            raise refusal(said("job.no_bites", kind=self.kind), said("job.no_bites.do"))
        if self.advance and self.advance.exact_in >= self.cut_width.exact_in:
            raise refusal(said("job.bites_apart"), said("job.bites_apart.do"))
        if self.starter and self.starter.exact_in < self.cut_width.exact_in:
            raise refusal(said("job.starter_small"), said("job.starter_small.do"))
        return self


class HandTool(Tool):
    """A tool that follows a line or makes a round hole, without a template."""

    kind: HandToolName = Field(description="Kind of tool")
    least_radius: NotNegative | None = Field(default=None, description="Tightest inside corner that it turns")
    diameters: tuple[Diameter, ...] = Field(
        default=(), max_length=60, description="Round holes that it makes"
    )

    @property
    def what(self) -> ToolKind:
        """What a tool of its kind is."""
        return KINDS[self.kind]

    @model_validator(mode="after")
    def _sizes(self) -> HandTool:
        if self.what.round_holes != bool(self.diameters):
            raise refusal(
                said("job.tool_diameters"),
                said("job.tool_diameters.do"),
            )
        return self


class Template(Entered):
    """The guide template, the temporary fasteners that hold it, and the machine that cuts it."""

    material: str = Field(default="", max_length=80, description="Material")
    thickness: Positive = Field(description="Thickness")
    end_mill: Diameter = Field(description="Diameter of the machine's end mill")
    border: Positive = Field(description="Width left around the window, or around the plug")
    flexed: YesNo | None = Field(
        default=None,
        description="On a curved skin: yes when it is bent onto it, and then drawn stretched; no when it stays flat",
    )
    blank: Size | None = Field(default=None, description="Blank, along X and Y")
    envelope: Size | None = Field(default=None, description="Travel of the machine, along X and Y")
    pin: Diameter | None = Field(
        default=None, description="Pilot hole of the temporary fasteners that hold it"
    )
    pin_body: Diameter | None = Field(
        default=None, description="Diameter of a temporary fastener's body over the template"
    )
    pin_clearance: Positive | None = Field(
        default=None, description="How much larger than its fastener a pilot hole may be"
    )
    revision: Annotated[str, matching("[A-Z]{1,3}", said("job.revision"), said("job.revision.do"))] = Field(
        default="A", description="Revision of the template"
    )
    reason: str = Field(default="", max_length=600, description="Why the template was made anew")

    @model_validator(mode="after")
    def _blank_fits(self) -> Template:
        if self.blank and self.envelope:
            blank = sorted(side.exact_in for side in self.blank)
            envelope = sorted(side.exact_in for side in self.envelope)
            if any(b > e for b, e in zip(blank, envelope, strict=True)):
                raise refusal(said("job.blank_large"), said("job.blank_large.do"))
        if self.pin and self.pin_body and self.pin_body.exact_in < self.pin.exact_in:
            raise refusal(said("job.pin_body"), said("job.pin_body.do"))
        return self
