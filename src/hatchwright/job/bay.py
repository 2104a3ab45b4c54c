"""The bay around the opening: landmarks, flanges, what lies behind, and the fasteners that are there."""

from __future__ import annotations

import math
from typing import Literal

from pydantic import Field, model_validator

from hatchwright.job.entry import Coordinate, Diameter, Entered, NotNegative, Point, Positive, refusal
from hatchwright.said import said


class LandmarkRow(Entered):
    """A straight row of existing rivets along X or Y; give `x` for a row that runs along Y, `y` for one along X."""

    name: str = Field(min_length=1, max_length=80)
    member: Literal["rib", "spar", "stringer", "frame", "longeron", "other"] = "other"
    x: Coordinate | None = None
    y: Coordinate | None = None
    diameter: Diameter | None = None

    @model_validator(mode="after")
    def _one_axis(self) -> LandmarkRow:
        if (self.x is None) == (self.y is None):
            raise refusal(said("job.row_axis"), said("job.row_axis.do"))
        return self

    @property
    def axis(self) -> int:
        """The axis that it crosses, 0 for X, 1 for Y."""
        return 1 if self.x is None else 0

    @property
    def at_in(self) -> float:
        """Where it crosses that axis [in]."""
        at = self.x or self.y
        assert at is not None  # it gives one of the two
        return at.inch

    @property
    def bounds_in(self) -> tuple[float, float, float, float]:
        """Those of its line, endless along its axis, as of a region [in]."""
        at_in, end = self.at_in, math.inf
        return (-end, at_in, end, at_in) if self.axis else (at_in, -end, at_in, end)


class Region(Entered):
    """A rectangle that may be open to any side; give only the bounds that it has."""

    name: str = Field(min_length=1, max_length=80)
    x_from: Coordinate | None = None
    x_to: Coordinate | None = None
    y_from: Coordinate | None = None
    y_to: Coordinate | None = None

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

    depth: NotNegative | None = None


class ExistingFastener(Entered):
    """One fastener that is there already."""

    at: Point
    diameter: Diameter


class Corners(Entered):
    """The four-corner survey of the bay."""

    sides: tuple[Positive, ...] = Field(min_length=2, max_length=4)
    diagonals: tuple[Positive, Positive]


class Bay(Entered):
    """What surrounds the opening."""

    rows: tuple[LandmarkRow, ...] = Field(default=(), max_length=100)
    flanges: tuple[Flange, ...] = Field(default=(), max_length=100)
    keep_outs: tuple[KeepOut, ...] = Field(default=(), max_length=100)
    existing: tuple[ExistingFastener, ...] = Field(default=(), max_length=2000)
    corners: Corners | None = None
