"""The bay around the opening: landmarks, flanges, what lies behind, and the fasteners that are there."""

from __future__ import annotations

import math
from typing import Literal

from pydantic import Field, model_validator

from hatchwright.job.entry import Coordinate, Diameter, Entered, NotNegative, Point, Positive, refusal
from hatchwright.said import said


class LandmarkRow(Entered):
    """A straight row of existing rivets along X or Y; give `x` for a row that runs along Y, `y` for one along X."""

    name: str = Field(min_length=1, max_length=80, description="Name of the structure under the row")
    member: Literal["rib", "spar", "stringer", "frame", "longeron", "other"] = Field(
        default="other", description="Kind of structure under the row"
    )
    x: Coordinate | None = Field(default=None, description="X of a row that runs along Y")
    y: Coordinate | None = Field(default=None, description="Y of a row that runs along X")
    diameter: Diameter | None = Field(default=None, description="Rivet diameter of the row")

    @model_validator(mode="after")
    def _one_axis(self) -> LandmarkRow:
        if (self.x is None) == (self.y is None):
            raise refusal(said("job.row_axis"), said("job.row_axis.do"))
        return self


class Region(Entered):
    """A rectangle that may be open to any side; give only the bounds that it has."""

    name: str = Field(min_length=1, max_length=80, description="What is there")
    x_from: Coordinate | None = Field(default=None, description="Bound at the least X")
    x_to: Coordinate | None = Field(default=None, description="Bound at the greatest X")
    y_from: Coordinate | None = Field(default=None, description="Bound at the least Y")
    y_to: Coordinate | None = Field(default=None, description="Bound at the greatest Y")

    @model_validator(mode="after")
    def _has_extent(self) -> Region:
        x_from, y_from, x_to, y_to = self.bounds_in
        if not any(math.isfinite(bound) for bound in self.bounds_in):
            raise refusal(said("job.no_bounds"), said("job.no_bounds.do"))
        if x_to < x_from or y_to < y_from:
            raise refusal(said("job.bounds_crossed"), said("job.bounds_crossed.do"))
        return self

    @property
    def bounds_in(self) -> tuple[float, float, float, float]:
        """x_from, y_from, x_to, y_to; infinite where no bound was given [in]."""
        return (
            self.x_from.inch if self.x_from else -math.inf,
            self.y_from.inch if self.y_from else -math.inf,
            self.x_to.inch if self.x_to else math.inf,
            self.y_to.inch if self.y_to else math.inf,
        )


class Flange(Region):
    """A flange or cap against the skin; it ends at its free edge."""


class KeepOut(Region):
    """Something behind the skin that nothing may touch."""

    depth: NotNegative | None = Field(
        default=None, description="Distance from the outer face of the skin; on the skin when left blank"
    )


class ExistingFastener(Entered):
    """One fastener that is there already."""

    at: Point = Field(description="Its centre")
    diameter: Diameter = Field(description="Its shank diameter")


class Corners(Entered):
    """The four-corner survey of the bay."""

    sides: tuple[Positive, ...] = Field(min_length=2, max_length=4, description="Lengths of opposite sides")
    diagonals: tuple[Positive, Positive] = Field(description="Both diagonals")


class Bay(Entered):
    """What surrounds the opening."""

    rows: tuple[LandmarkRow, ...] = Field(default=(), max_length=100, description="Landmark rivet rows")
    flanges: tuple[Flange, ...] = Field(default=(), max_length=100, description="Flanges against the skin")
    keep_outs: tuple[KeepOut, ...] = Field(default=(), max_length=100, description="What lies behind")
    existing: tuple[ExistingFastener, ...] = Field(
        default=(), max_length=2000, description="Existing fasteners"
    )
    corners: Corners | None = Field(default=None, description="Four-corner survey")
