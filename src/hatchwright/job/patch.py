"""A flush patch: what is damaged and how far, the plug that fills the cut-out, and the doubler's split."""

from typing import Literal, Self

from pydantic import Field, model_validator

from hatchwright.job.entry import (
    Coordinate,
    Entered,
    NotNegative,
    Point,
    Positive,
    UncertaintyOrNone,
    refusal,
)
from hatchwright.job.skin import Sheet
from hatchwright.said import said

_LEAST_POINTS = {"crack": 2, "hole": 3, "dent": 3, "corrosion": 3}
"""A crack has two ends; what has an area takes three points at least [-]."""


class DamagePoint(Entered):
    """One end of a crack, or one point on the boundary of other damage, as measured."""

    at: Point
    uncertainty: UncertaintyOrNone


class Plug(Sheet):
    """The sheet that fills the cut-out, flush with the skin."""

    gap: NotNegative


class Split(Entered):
    """Where the doubler is in two pieces: a strip along an axis that is left open for the structure in it."""

    along: Literal["x", "y"]
    at: Coordinate
    gap: Positive

    @property
    def axis(self) -> int:
        """The axis that the strip crosses, 0 for X, 1 for Y: no load along it gets past the split."""
        return 1 if self.along == "x" else 0

    @property
    def sides_in(self) -> tuple[float, float]:
        """Where its two sides cross that axis [in]."""
        half_in = self.gap.inch / 2.0
        return self.at.inch - half_in, self.at.inch + half_in


class Patch(Entered):
    """Damage that is cut out clean and patched flush: the opening is the cut-out, the doubler closes it."""

    damage: Literal["crack", "hole", "dent", "corrosion"]
    extent: tuple[DamagePoint, ...] = Field(max_length=200)
    cause: str = Field(default="", max_length=400)
    inspected_by: str = Field(default="", max_length=120)
    plug: Plug
    split: Split | None = None

    @model_validator(mode="after")
    def _enough_points(self) -> Self:
        least = _LEAST_POINTS[self.damage]
        if len(self.extent) < least:
            raise refusal(said(f"job.damage_points.{self.damage}"), said("job.damage_points.do", least=least))
        return self
