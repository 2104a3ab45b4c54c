"""The cutter in hand, the guide template for it, and the machine that makes the template.

Every size is a fact that the shop has measured; nothing here is a rated value of a maker.
"""

from typing import TYPE_CHECKING, Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from hatchwright.job.entry import (
    Diameter,
    Entered,
    NotNegative,
    Point,
    Positive,
    Size,
    YesNo,
    matching,
    refusal,
)
from hatchwright.job.tool_kinds import BY_HAND, GUIDED, KINDS, ToolKind
from hatchwright.said import said

if TYPE_CHECKING:
    CutterName = str
    HandToolName = str
else:  # the names that the table of kinds holds, checked at the door like any other choice
    CutterName = Literal[GUIDED]
    HandToolName = Literal[BY_HAND]


class Tool(Entered):
    """What any tool that cuts skin is measured for."""

    name: str = Field(default="", max_length=80)
    capacity: Positive | None = None
    behind: NotNegative | None = None
    body: Diameter | None = None
    reach: Positive | None = None
    starter: Diameter | None = None


def _guided(kind: Any) -> Any:
    """Say where a tool belongs that no template guides."""
    if kind in BY_HAND:
        raise refusal(said("job.by_hand", kind=kind), said("job.by_hand.do"))
    return kind


class Cutter(Tool):
    """A cutter guided by a template, as measured in the shop."""

    kind: Annotated[CutterName, BeforeValidator(_guided)]
    cut_width: Diameter
    guide: Diameter
    filing_allowance: NotNegative
    template: Literal["female", "male"]
    advance: Positive | None = None
    eccentricity: NotNegative | None = None
    starter_at: Point | None = None
    starter_reach: Positive | None = None

    @property
    def what(self) -> ToolKind:
        """What a cutter of its kind is."""
        return KINDS[self.kind]

    @model_validator(mode="after")
    def _bites(self) -> Self:
        if self.advance and not self.what.bites:
            raise refusal(said("job.no_bites", kind=self.kind), said("job.no_bites.do"))
        if self.advance and self.advance.exact_in >= self.cut_width.exact_in:
            raise refusal(said("job.bites_apart"), said("job.bites_apart.do"))
        if self.starter and self.starter.exact_in < self.cut_width.exact_in:
            raise refusal(said("job.starter_small"), said("job.starter_small.do"))
        return self


class HandTool(Tool):
    """A tool that follows a line or makes a round hole, without a template."""

    kind: HandToolName
    least_radius: NotNegative | None = None
    diameters: tuple[Diameter, ...] = Field(default=(), max_length=60)

    @property
    def what(self) -> ToolKind:
        """What a tool of its kind is."""
        return KINDS[self.kind]

    @model_validator(mode="after")
    def _sizes(self) -> Self:
        if self.what.round_holes != bool(self.diameters):
            raise refusal(said("job.tool_diameters"), said("job.tool_diameters.do"))
        return self


class Template(Entered):
    """The guide template, the temporary fasteners that hold it, and the machine that cuts it."""

    material: str = Field(default="", max_length=80)
    thickness: Positive
    end_mill: Diameter
    border: Positive
    flexed: YesNo | None = Field(default=None)
    blank: Size | None = None
    envelope: Size | None = None
    pin: Diameter | None = None
    pin_body: Diameter | None = None
    pin_clearance: Positive | None = None
    revision: Annotated[str, matching("[A-Z]{1,3}", said("job.revision"), said("job.revision.do"))] = Field(
        default="A"
    )
    reason: str = Field(default="", max_length=600)

    @model_validator(mode="after")
    def _blank_fits(self) -> Self:
        if self.blank and self.envelope:
            blank = sorted(side.exact_in for side in self.blank)
            envelope = sorted(side.exact_in for side in self.envelope)
            if any(b > e for b, e in zip(blank, envelope, strict=True)):
                raise refusal(said("job.blank_large"), said("job.blank_large.do"))
        if self.pin and self.pin_body and self.pin_body.exact_in < self.pin.exact_in:
            raise refusal(said("job.pin_body"), said("job.pin_body.do"))
        return self
