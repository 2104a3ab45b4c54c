"""The parts that a job makes: the opening's outline, the doubler and the cover."""

from typing import Literal, Self

from pydantic import Field, model_validator

from hatchwright.job.entry import NotNegative, Positive, refusal
from hatchwright.job.fasteners import Screws
from hatchwright.job.outline import Outline
from hatchwright.job.skin import Sheet
from hatchwright.said import said


class Doubler(Sheet):
    """The reinforcing ring."""

    face: Literal["inside", "outside"] = "inside"
    holes_from: Literal["skin", "doubler"] = "skin"
    holes_reason: str = Field(default="", max_length=400)
    outer: Outline
    inner: Outline | None = None

    @model_validator(mode="after")
    def _says_why(self) -> Self:
        if self.holes_from == "doubler" and not self.holes_reason.strip():
            raise refusal(said("job.holes_reason"), said("job.holes_reason.do"))
        return self


class Cover(Sheet):
    """The cover: flush inside the opening, or lapped over it."""

    fit: Literal["flush", "lapped"]
    holes_from: Literal["outside", "inside"] = "outside"
    holes_reason: str = Field(default="", max_length=400)
    gap: NotNegative | None = None
    lap: Positive | None = None
    outline: Outline | None = None
    screws: Screws | None = None

    @model_validator(mode="after")
    def _says_why(self) -> Self:
        if self.holes_from == "inside" and not self.holes_reason.strip():
            raise refusal(said("job.cover_holes_reason"), said("job.cover_holes_reason.do"))
        return self

    @model_validator(mode="after")
    def _one_outline(self) -> Self:
        if self.fit == "flush" and self.lap is not None:
            raise refusal(said("job.flush_lap"), said("job.flush_lap.do"))
        if self.fit == "lapped" and self.gap is not None:
            raise refusal(said("job.lapped_gap"), said("job.lapped_gap.do"))
        given = [size for size in (self.gap, self.lap, self.outline) if size is not None]
        if len(given) != 1:
            raise refusal(said("job.cover_open"), said("job.cover_open.do"))
        return self
