"""Rows of new rivets, and how each row is laid."""

from typing import Annotated, Any, Literal, Self

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from hatchwright.job.entry import (
    AngleDeg,
    Count,
    Diameter,
    Entered,
    Point,
    Positive,
    ReadBy,
    YesNo,
    angle,
    refusal,
)
from hatchwright.job.fasteners import Preparation, RivetName
from hatchwright.job.frame import OPPOSITE, Direction
from hatchwright.number import MOST_HOLES
from hatchwright.said import said

Turn = Literal["clockwise", "counterclockwise"]
"""Which way round, seen from outside the aircraft."""

TURNED: dict[str, Turn] = {"clockwise": "counterclockwise", "counterclockwise": "clockwise"}
"""Which way round a row runs in the mirror."""

FULL_TURN_DEG = 360.0
_WHOLE = 1e-6
"""What is nearer to a whole number than this is one [-]."""


class _Row(Entered):
    name: str = Field(min_length=1, max_length=80)
    rivet: RivetName = Field(max_length=40)
    first_number: Count | None = None
    preparation: Preparation | None = None
    pilot: Diameter | None = None
    final: Diameter | None = None


def _start_at(value: Any) -> float | Direction:
    """Read a place on a row that runs all round: a direction of the aircraft, or an angle from X toward Y [deg]."""
    word = str(value).strip().upper()
    if word in OPPOSITE:
        return OPPOSITE[OPPOSITE[word]]  # the same word, as one of the directions
    try:
        return angle(value)
    except PydanticCustomError:
        raise refusal(said("job.start_at"), said("job.start_at.do")) from None


StartAt = Annotated[float | Direction, ReadBy(_start_at)]


class _AllRound(_Row):
    start_at: StartAt | None = None
    direction: Turn | None = None


class OffsetRow(_AllRound):
    """Rivets all round, at a distance from an edge."""

    lay: Literal["offset"]
    edge: Literal["opening", "doubler outer", "doubler inner", "plug"]
    distance: Positive
    pitch: Positive | None = None
    count: Count | None = None
    per_side: tuple[Count, ...] = Field(default=(), max_length=200)
    corners: Literal["free", "middles", "tangents"] = "free"
    stagger: YesNo = False

    @model_validator(mode="after")
    def _one_spacing(self) -> Self:
        if sum(map(bool, (self.pitch, self.count, self.per_side))) != 1:
            raise refusal(said("job.offset_row"), said("job.offset_row.do"))
        if self.count and self.corners != "free":
            raise refusal(said("job.count_at_corners"), said("job.count_at_corners.do"))
        if self.per_side and self.corners == "tangents":
            raise refusal(said("job.per_side_corners"), said("job.per_side_corners.do"))
        return self


class LineRow(_Row):
    """Rivets on a straight line, both ends included."""

    lay: Literal["line"]
    start: Point
    end: Point
    pitch: Positive | None = None
    count: Count | None = None

    @model_validator(mode="after")
    def _pitch_or_count(self) -> Self:
        if (self.pitch is None) == (self.count is None):
            raise refusal(said("job.line_row"), said("job.pitch_or_count"))
        return self


class PointRow(_Row):
    """Rivets at explicit points."""

    lay: Literal["points"]
    points: tuple[Point, ...] = Field(min_length=1, max_length=MOST_HOLES)


class PolarRow(_AllRound):
    """Rivets on a circle or an arc about a center."""

    lay: Literal["polar"]
    center: Point | None = None
    radius: Positive | None = None
    bolt_circle: Positive | None = None
    count: Count | None = None
    step: AngleDeg | None = None

    @model_validator(mode="after")
    def _one_circle(self) -> Self:
        if (self.radius is None) == (self.bolt_circle is None):
            raise refusal(said("job.polar_circle"), said("job.polar_circle.do"))
        if self.step is None:
            if self.count is None:
                raise refusal(said("job.polar_row"), said("job.polar_row.do"))
        elif self.step <= 0.0:
            raise refusal(said("job.polar_step"), said("job.polar_step.do"))
        elif self.count is None:
            turns = FULL_TURN_DEG / self.step
            if abs(turns - round(turns)) > _WHOLE:
                raise refusal(said("job.polar_open"), said("job.polar_open.do"))
        elif self.count * self.step > FULL_TURN_DEG + _WHOLE:
            raise refusal(said("job.polar_over"), said("job.polar_over.do"))
        return self

    @property
    def radius_in(self) -> float:
        """Of the circle that its centers lie on [in]."""
        if self.radius is not None:
            return self.radius.inch
        assert self.bolt_circle is not None  # a row gives one of the two
        return self.bolt_circle.inch / 2.0

    @property
    def holes(self) -> int:
        """How many there are [-]."""
        return self.count or round(FULL_TURN_DEG / self.step_deg)

    @property
    def step_deg(self) -> float:
        """The angle from one hole to the next [deg]."""
        if self.step is not None:
            return self.step
        assert self.count is not None  # a row gives a step or a count
        return FULL_TURN_DEG / self.count


Row = Annotated[OffsetRow | LineRow | PointRow | PolarRow, Field(discriminator="lay")]
