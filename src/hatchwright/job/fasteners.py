"""Rows of new rivets, and how each row is laid."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from hatchwright.errors import EntryError
from hatchwright.job.entry import Count, Diameter, Entered, NotNegative, Point, Positive, Size, refusal
from hatchwright.job.yes_no import YesNo
from hatchwright.said import said
from hatchwright.tables.rivet_part import parse_rivet

Preparation = Literal["dimple", "countersink", "dimple over countersink"]
"""All sheets dimpled; all countersunk; or the outer dimpled into a countersunk one below."""


def _without_length(text: str) -> str:
    """A rivet as it is ordered but for its length, which follows from the grip."""
    try:
        part = parse_rivet(text)
    except EntryError as error:
        raise refusal(error.what, error.remedy) from None
    if part.length_16ths is not None:
        bare = replace(part, length_16ths=None)
        raise refusal(said("job.rivet_length"), said("job.rivet_length.do", rivet=str(bare)))
    return str(part)


def _without_length_or_none(text: str) -> str:
    return _without_length(text) if text.strip() else ""


class _Row(Entered):
    name: str = Field(min_length=1, max_length=80, description="Name of the row")
    rivet: Annotated[str, AfterValidator(_without_length)] = Field(
        max_length=40, description="Part number without the length, MS20470AD4"
    )
    first_number: Count | None = Field(
        default=None, description="Number of its first hole; the next free when left away"
    )
    preparation: Preparation | None = Field(
        default=None, description="How each sheet is prepared for a flush head, from outside"
    )
    pilot: Diameter | None = Field(default=None, description="Pilot drill, or the hole before dimpling")
    final: Diameter | None = Field(default=None, description="Final drill; that of the tables when left away")


class OffsetRow(_Row):
    """Rivets all round, at a distance from an edge."""

    lay: Literal["offset"]
    edge: Literal["opening", "doubler outer", "doubler inner"] = Field(description="The edge it follows")
    distance: Positive = Field(description="Distance from that edge, into the doubler")
    pitch: Positive = Field(description="Nominal pitch; the row is divided evenly so that none is longer")
    corners: Literal["free", "middles", "tangents"] = Field(
        default="free", description="Holes forced at corner middles or at the ends of the corner arcs"
    )
    stagger: YesNo = Field(default=False, description="Whether the holes lie half a pitch on")


class LineRow(_Row):
    """Rivets on a straight line, both ends included."""

    lay: Literal["line"]
    start: Point = Field(description="Centre of the first hole")
    end: Point = Field(description="Centre of the last hole")
    pitch: Positive | None = Field(
        default=None, description="Nominal pitch; divided evenly so that none is longer"
    )
    count: Count | None = Field(default=None, description="Number of holes, instead of a pitch")

    @model_validator(mode="after")
    def _pitch_or_count(self) -> LineRow:
        if (self.pitch is None) == (self.count is None):
            raise refusal(said("job.line_row"), said("job.pitch_or_count"))
        return self


class PointRow(_Row):
    """Rivets at explicit points."""

    lay: Literal["points"]
    points: tuple[Point, ...] = Field(min_length=1, max_length=2000, description="Centres, in order")


Row = Annotated[OffsetRow | LineRow | PointRow, Field(discriminator="lay")]


class Screws(Entered):
    """The screws of the cover, all round at a distance inside the cover's edge."""

    size: str = Field(min_length=3, max_length=20, description="Thread, such as 8-32")
    length: Positive | None = Field(default=None, description="Screw length")
    preparation: Preparation | None = Field(default=None, description="How the sheets take a flush head")
    pilot: Diameter | None = Field(default=None, description="Pilot drill, or the hole before dimpling")
    final: Diameter | None = Field(default=None, description="Final drill; that of the tables when left away")
    nut_height: Positive | None = Field(
        default=None,
        description="Height of the nut from the sheet it lies against to its far end, with its insert",
    )
    steel: YesNo = Field(default=True, description="Whether the screws are of steel")
    nut_rivet: Annotated[str, AfterValidator(_without_length_or_none)] = Field(
        default="", max_length=40, description="Rivet of a nutplate, without the length"
    )
    nut_rivet_spacing: Positive | None = Field(
        default=None, description="Between the two rivets of a nutplate, measured on the part"
    )
    clip_reach: Positive | None = Field(
        default=None, description="Reach of a clip nut from the edge to its hole"
    )
    clip_width: Positive | None = Field(default=None, description="Width of a clip nut along the edge")
    clip_grip: Size | None = Field(default=None, description="Least and greatest sheet that a clip nut takes")
    head: Literal["100 degree flush", "pan", "washer"] = Field(description="Head")
    nut: Literal["two-lug nutplate", "one-lug nutplate", "miniature nutplate", "clip nut"] = Field(
        description="Nut"
    )
    inset: Positive = Field(description="Distance from the edge of the cover to the screw line")
    count: Count | None = Field(default=None, description="Number of screws, divided evenly all round")
    pitch: Positive | None = Field(default=None, description="Greatest spacing, instead of a count")
    straights_only: YesNo = Field(
        default=False, description="Screws only on straight sides, as clip nuts need"
    )
    from_tangent: NotNegative | None = Field(
        default=None, description="Distance kept from the ends of a straight side"
    )

    @model_validator(mode="after")
    def _pitch_or_count(self) -> Screws:
        if (self.pitch is None) == (self.count is None):
            raise refusal(said("job.screw_row"), said("job.pitch_or_count"))
        if self.straights_only and self.pitch is None:
            raise refusal(said("job.screw_pitch"), said("job.screw_pitch.do"))
        return self
