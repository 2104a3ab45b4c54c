"""The bay around the opening: landmarks, flanges, what lies behind, and the fasteners that are there."""

import math
from fractions import Fraction
from typing import Literal, Self

from pydantic import Field, model_validator

from hatchwright.job.entry import Coordinate, Diameter, Entered, NotNegative, Point, Positive, YesNo, refusal
from hatchwright.job.existing import ExistingFastener, ExistingRow
from hatchwright.number import MOST_HOLES
from hatchwright.said import said
from hatchwright.units import Length


class LandmarkRow(Entered):
    """A straight row of existing rivets along X or Y; give `x` for a row that runs along Y, `y` for one along X."""

    name: str = Field(min_length=1, max_length=80)
    member: Literal["rib", "spar", "stringer", "frame", "longeron", "other"] = "other"
    x: Coordinate | None = None
    y: Coordinate | None = None
    diameter: Diameter | None = None
    pitch: Positive | None = None

    @model_validator(mode="after")
    def _pitch_over_rivet(self) -> Self:
        if self.pitch and self.diameter and self.pitch.exact_in < 2 * self.diameter.exact_in:
            raise refusal(said("job.row_pitch"), said("job.row_pitch.do"))
        return self

    @model_validator(mode="after")
    def _one_axis(self) -> Self:
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
    def _has_extent(self) -> Self:
        x_from, y_from, x_to, y_to = self._entered_in
        if not any(math.isfinite(bound) for bound in self._entered_in):
            raise refusal(said("job.no_bounds"), said("job.no_bounds.do"))
        if x_to < x_from or y_to < y_from:
            raise refusal(said("job.bounds_crossed"), said("job.bounds_crossed.do"))
        return self

    @property
    def bounds_in(self) -> tuple[float, float, float, float]:
        """x_from, y_from, x_to, y_to; infinite where no bound was given [in]."""
        return self._entered_in

    @property
    def _entered_in(self) -> tuple[float, float, float, float]:
        return (
            self.x_from.inch if self.x_from else -math.inf,
            self.y_from.inch if self.y_from else -math.inf,
            self.x_to.inch if self.x_to else math.inf,
            self.y_to.inch if self.y_to else math.inf,
        )


class Flange(Region):
    """A flange or cap against the skin; it ends at its free edge."""


class KeepOut(Region):
    """Something behind the skin that nothing may touch; it may slope between two ends, and it may move."""

    depth: NotNegative | None = None
    start: Point | None = None
    start_depth: NotNegative | None = None
    end: Point | None = None
    end_depth: NotNegative | None = None
    moves: YesNo | None = None
    swing: NotNegative | None = None
    swing_sideways: NotNegative | None = None
    clearance: Positive | None = None
    tied_back: Positive | None = None

    @model_validator(mode="after")
    def _slopes(self) -> Self:
        ends = (self.start, self.start_depth, self.end, self.end_depth)
        if any(each is not None for each in ends):
            if any(each is None for each in ends):
                raise refusal(said("job.half_sloped"), said("job.half_sloped.do"))
            if self.depth is not None:
                raise refusal(said("job.sloped_and_flat"), said("job.sloped_and_flat.do"))
            if self.start and self.end and _exact(self.start) == _exact(self.end):
                raise refusal(said("job.slope_without_length"), said("job.slope_without_length.do"))
        return self

    @model_validator(mode="after")
    def _swings(self) -> Self:
        if self.swing is None and self.swing_sideways is None:
            return self
        if self.depth is None and self.start_depth is None:
            raise refusal(said("job.swing_without_rest"), said("job.swing_without_rest.do"))
        if self.moves is False:
            raise refusal(said("job.swing_at_rest"), said("job.swing_at_rest.do"))
        return self

    @model_validator(mode="after")
    def _tied_back_deeper(self) -> Self:
        if self.tied_back and self.depth and self.tied_back.exact_in < self.depth.exact_in:
            raise refusal(said("job.tied_back_nearer"), said("job.tied_back_nearer.do"))
        return self

    @property
    def is_moving(self) -> bool:
        """Whether it was entered as something that moves."""
        return bool(self.moves) or self.swing is not None or self.swing_sideways is not None

    @property
    def bounds_in(self) -> tuple[float, float, float, float]:
        """Those of all the room that it takes in its travel sideways [in]."""
        x_from, y_from, x_to, y_to = self._entered_in
        beside_in = self.swing_sideways.inch if self.swing_sideways else 0.0
        return x_from - beside_in, y_from - beside_in, x_to + beside_in, y_to + beside_in


def _exact(place: tuple[Length, Length]) -> tuple[Fraction, Fraction]:
    return place[0].exact_in, place[1].exact_in


class Corners(Entered):
    """The four-corner survey of the bay."""

    sides: tuple[Positive, ...] = Field(min_length=2, max_length=4)
    diagonals: tuple[Positive, Positive]


class Bay(Entered):
    """What surrounds the opening."""

    rows: tuple[LandmarkRow, ...] = Field(default=(), max_length=100)
    flanges: tuple[Flange, ...] = Field(default=(), max_length=100)
    keep_outs: tuple[KeepOut, ...] = Field(default=(), max_length=100)
    existing: tuple[ExistingFastener, ...] = Field(default=(), max_length=MOST_HOLES)
    existing_rows: tuple[ExistingRow, ...] = Field(default=(), max_length=100)
    corners: Corners | None = None
    nothing_near: YesNo | None = None
    way_in: str = Field(default="", max_length=200)
    bar: Positive | None = None
    tool: Positive | None = None

    @property
    def fasteners(self) -> tuple[ExistingFastener, ...]:
        """Every fastener that is there: those entered singly, then those of each row."""
        return (*self.existing, *(one for row in self.existing_rows for one in row.fasteners))

    @model_validator(mode="after")
    def _not_too_many(self) -> Self:
        if len(self.existing) + sum(row.bays + 1 for row in self.existing_rows) > MOST_HOLES:
            raise refusal(said("error.many_rows", most=MOST_HOLES), said("error.many_rows.do"))
        return self

    @model_validator(mode="after")
    def _looked(self) -> Self:
        if self.nothing_near and self.keep_outs:
            raise refusal(said("job.nothing_near", name=self.keep_outs[0].name), said("job.nothing_near.do"))
        return self
