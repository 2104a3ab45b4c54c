"""What was found at single holes besides place and size: shop heads, countersinks, cracked dimples, holes of no row."""

from typing import Annotated, Literal, Self

from pydantic import AfterValidator, Field, model_validator

from hatchwright.job.bracketed import Bracketed, in_brackets
from hatchwright.job.entry import Coordinate, Count, Diameter, Positive, Uncertainty, WrittenBy, refusal
from hatchwright.job.fasteners import without_length
from hatchwright.said import said


class MadeHead(Bracketed):
    """The shop head of one driven rivet as measured."""

    number: Count
    diameter: Positive
    height: Positive
    uncertainty: Uncertainty | None = None


class MadeCountersink(Bracketed):
    """One countersink as measured: its diameter at the surface, its depth, or both."""

    number: Count
    diameter: Positive | None = None
    depth: Positive | None = None
    uncertainty: Uncertainty | None = None

    @model_validator(mode="after")
    def _one_measured(self) -> Self:
        if self.diameter is None and self.depth is None:
            raise refusal(said("job.made_countersink"), said("job.made_countersink.do"))
        return self


class DimpleCrack(Bracketed):
    """A crack at one dimple, as long as it was found."""

    number: Count
    length: Positive
    uncertainty: Uncertainty | None = None


StrayPart = Literal["skin", "doubler", "both", "cover"]
"""Through which sheets a hole of no row goes; both are skin and doubler."""


class StrayHole(Bracketed):
    """A hole that belongs to no row, drilled twice or in a wrong place; with the rivet that fills it.

    Args:
        part: the sheets that it goes through, None for the skin.
        data: where the data for filling it stand, None while there are none.
    """

    x: Coordinate
    y: Coordinate
    diameter: Diameter
    uncertainty: Uncertainty | None = None
    filled: Annotated[str, AfterValidator(without_length)] | None = Field(default=None, max_length=40)
    part: StrayPart | None = None
    data: str | None = Field(default=None, min_length=1, max_length=120)


_AS_TYPED = WrittenBy(Bracketed.as_typed)
Head = Annotated[MadeHead, in_brackets(MadeHead, "job.made_head"), _AS_TYPED]
Countersink = Annotated[MadeCountersink, in_brackets(MadeCountersink, "job.made_countersink"), _AS_TYPED]
CrackedDimple = Annotated[DimpleCrack, in_brackets(DimpleCrack, "job.dimple_crack"), _AS_TYPED]
Stray = Annotated[StrayHole, in_brackets(StrayHole, "job.stray_hole"), _AS_TYPED]
