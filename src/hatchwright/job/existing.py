"""Fasteners that are there already, each by itself or in straight rows."""

import math
from typing import Self

from pydantic import Field, model_validator

from hatchwright.job.entry import Count, Diameter, Entered, Point, Positive, refusal
from hatchwright.number import MOST_HOLES
from hatchwright.said import said
from hatchwright.units import inches

_NEAR_A_WHOLE = 0.2
"""A measured pitch that divides a row into a number of bays farther than this from a whole one belongs to another row,
or a hole was miscounted; common practice, no source [bays]."""


class ExistingFastener(Entered):
    """One fastener that is there already."""

    at: Point
    diameter: Diameter


class ExistingRow(Entered):
    """A straight row of fasteners that are there already, evenly spaced, both ends included."""

    name: str = Field(default="", max_length=80)
    first: Point
    last: Point
    pitch: Positive | None = None
    count: Count | None = None
    diameter: Diameter

    @model_validator(mode="after")
    def _divides(self) -> Self:
        if (self.pitch is None) == (self.count is None):
            raise refusal(said("job.existing_row"), said("job.pitch_or_count"))
        if self.count is not None and not 2 <= self.count <= MOST_HOLES:
            raise refusal(said("job.existing_count"), said("job.existing_count.do", most=MOST_HOLES))
        if self._run_in == 0.0:
            raise refusal(said("job.existing_no_length"), said("job.existing_no_length.do"))
        if self.pitch is not None:
            bays = self._run_in / self.pitch.inch
            if bays > MOST_HOLES - 1:
                raise refusal(said("error.many_holes", most=MOST_HOLES), said("error.many_pitch"))
            if abs(bays - max(round(bays), 1)) > _NEAR_A_WHOLE:
                raise refusal(said("job.existing_pitch", bays=f"{bays:.2f}"), said("job.existing_pitch.do"))
        return self

    @property
    def _run_in(self) -> float:
        return math.hypot(*(end.inch - start.inch for start, end in zip(self.first, self.last, strict=True)))

    @property
    def bays(self) -> int:
        """Spaces from hole to hole; one less than its fasteners [-]."""
        if self.pitch is not None:
            return round(self._run_in / self.pitch.inch)
        assert self.count is not None  # a row gives a pitch or a count
        return self.count - 1

    @property
    def fasteners(self) -> tuple[ExistingFastener, ...]:
        """Each of them, evenly between the first and the last."""
        bays = self.bays
        ends = tuple(zip(self.first, self.last, strict=True))
        between = (
            tuple(inches(start.inch + (end.inch - start.inch) * k / bays) for start, end in ends)
            for k in range(1, bays)
        )
        places = (self.first, *between, self.last)
        return tuple(ExistingFastener(at=(x, y), diameter=self.diameter) for x, y in places)
