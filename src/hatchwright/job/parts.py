"""The parts that a job makes: the opening's outline, the doubler and the cover."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from hatchwright.job.entry import NotNegative, Positive, refusal
from hatchwright.job.fasteners import Screws
from hatchwright.job.outline import Outline
from hatchwright.job.skin import Sheet
from hatchwright.said import said


class Doubler(Sheet):
    """The reinforcing ring."""

    face: Literal["inside", "outside"] = Field(default="inside", description="Face of the skin it lies on")
    outer: Outline = Field(description="Outer outline")
    inner: Outline | None = Field(
        default=None, description="Inner outline; that of the opening when left away"
    )


class Cover(Sheet):
    """The cover: flush inside the opening, or lapped over it."""

    fit: Literal["flush", "lapped"] = Field(description="flush: inside the opening; lapped: over it")
    gap: NotNegative | None = Field(default=None, description="Gap all round of a flush cover")
    lap: Positive | None = Field(default=None, description="Lap all round of a lapped cover")
    outline: Outline | None = Field(default=None, description="Outline of its own, instead of a gap or lap")
    screws: Screws | None = Field(default=None, description="The screws that hold it")

    @model_validator(mode="after")
    def _one_outline(self) -> Cover:
        if self.fit == "flush" and self.lap is not None:
            raise refusal(said("job.flush_lap"), said("job.flush_lap.do"))
        if self.fit == "lapped" and self.gap is not None:
            raise refusal(said("job.lapped_gap"), said("job.lapped_gap.do"))
        given = [size for size in (self.gap, self.lap, self.outline) if size is not None]
        if len(given) != 1:
            raise refusal(said("job.cover_open"), said("job.cover_open.do"))
        return self
