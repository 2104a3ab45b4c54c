"""What a proposal may choose from: what the opening must pass, sizes, and the rivets and sheets on the shelf."""

from typing import Annotated, Literal, Self

from pydantic import AfterValidator, Field, model_validator

from hatchwright.errors import EntryError
from hatchwright.job.amount import Amount, HolesPer100Jobs, MarginOfSafety
from hatchwright.job.entry import Count, Entered, Positive, Step, Thickness, refusal
from hatchwright.job.fasteners import RivetName
from hatchwright.said import said
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.units import MM_PER_IN, Unit

MOST_ROWS = 2
"""Rows of rivets on each side of an opening that a proposal lays at most [-]."""

STEP_IN = 0.005
"""What proposed lengths end on in an inch job [in]. Common practice, no source."""

STEP_METRIC_IN = 0.1 / MM_PER_IN
"""The same in a metric job, a tenth of a millimeter [in]. Common practice, no source."""


def _on_the_list(name: str) -> str:
    try:
        return str(parse_rivet(name))
    except EntryError as error:
        raise refusal(error.what, error.remedy) from None


def _most_rows(rows: int) -> int:
    if rows > MOST_ROWS:
        raise refusal(said("job.wish.rows", most=MOST_ROWS), said("job.wish.rows.do", most=MOST_ROWS))
    return rows


class Passing(Entered):
    """One thing that must go through the opening when all is made: a hand, a tool, the ring itself, a part."""

    what: Literal["hand", "tool", "ring", "part"]
    width: Positive | None = None
    height: Positive | None = None

    @model_validator(mode="after")
    def _has_a_size(self) -> Self:
        given = [size for size in (self.width, self.height) if size is not None]
        if self.what == "ring" and given:
            raise refusal(said("job.wish.ring_size"), said("job.wish.ring_size.do"))
        if self.what in ("tool", "part") and len(given) < len(("width", "height")):
            raise refusal(said(f"job.wish.no_size.{self.what}"), said("job.wish.no_size.do"))
        if len(given) == 1:
            raise refusal(said("job.wish.half_size"), said("job.wish.half_size.do"))
        return self


class Wish(Entered):
    """What a proposal is to keep to, and what it may choose from; what is left blank stays as the job has it."""

    passes: tuple[Passing, ...] = Field(default=(), max_length=8)
    width_from: Positive | None = None
    width_to: Positive | None = None
    height_from: Positive | None = None
    height_to: Positive | None = None
    shift: Positive | None = None
    rivets: tuple[Annotated[RivetName, AfterValidator(_on_the_list)], ...] = Field(default=(), max_length=20)
    sheets: tuple[Thickness, ...] = Field(default=(), max_length=20)
    most_rows: Annotated[Count, AfterValidator(_most_rows)] = MOST_ROWS
    margin: MarginOfSafety = Field(default=Amount(0.0, "0"))
    short_holes: HolesPer100Jobs = Field(default=Amount(1.0, "1"))
    step: Step | None = None

    @model_validator(mode="after")
    def _ranges_run_upward(self) -> Self:
        for low, high in ((self.width_from, self.width_to), (self.height_from, self.height_to)):
            if low is not None and high is not None and low.exact_in > high.exact_in:
                raise refusal(said("job.wish.range"), said("job.wish.range.do"))
        return self

    def step_in(self, unit: Unit) -> float:
        """What proposed lengths end on in a job of this unit [in]."""
        if self.step is not None:
            return self.step.inch
        return STEP_METRIC_IN if unit == "mm" else STEP_IN
