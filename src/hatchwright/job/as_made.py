"""What was really made: filed edges and drilled points as measured, and how far the shop's work scatters."""

from __future__ import annotations

import math
from collections import Counter
from typing import Annotated

from pydantic import AfterValidator, Field, PlainSerializer, model_validator

from hatchwright.job.bracketed import Bracketed, in_brackets
from hatchwright.job.entry import (
    AngleDeg,
    Coordinate,
    Count,
    Diameter,
    Entered,
    NotNegative,
    Point,
    Uncertainty,
    UncertaintyOrNone,
    refusal,
)
from hatchwright.job.fasteners import without_length
from hatchwright.job.outline import Outline
from hatchwright.number import MOST_HOLES
from hatchwright.said import said
from hatchwright.units import Length


class MadeHole(Bracketed):
    """One drilled hole as measured."""

    number: Count
    x: Coordinate
    y: Coordinate
    diameter: Diameter | None = None


class PolarHole(Bracketed):
    """One drilled hole as measured about a center."""

    number: Count
    radius: NotNegative
    angle: AngleDeg
    diameter: Diameter | None = None


class MadeSize(Bracketed):
    """The diameter of one hole whose place was not measured."""

    number: Count
    diameter: Diameter


_AS_TYPED = PlainSerializer(Bracketed.as_typed)
Hole = Annotated[MadeHole, in_brackets(MadeHole, "job.made_hole"), _AS_TYPED]
HoleInPolarForm = Annotated[PolarHole, in_brackets(PolarHole, "job.polar_hole"), _AS_TYPED]
Size = Annotated[MadeSize, in_brackets(MadeSize, "job.made_size"), _AS_TYPED]


class PolarReadings(Entered):
    """Drilled holes as measured from one center, each by its radius and its angle from X toward Y."""

    name: str = Field(default="", max_length=80)
    center: Point | None = None
    holes: tuple[HoleInPolarForm, ...] = Field(default=(), max_length=MOST_HOLES)


NO_RIVET = "none"
"""What stands for a rivet that is not there; its hole is."""


def _fitted(text: str) -> str:
    return NO_RIVET if text.strip().lower() == NO_RIVET else without_length(text)


class Fitted(Entered):
    """Holes that got another rivet than their row's, or none."""

    holes: tuple[Count, ...] = Field(min_length=1, max_length=MOST_HOLES)
    rivet: Annotated[str, AfterValidator(_fitted)] = Field(max_length=40)


class AsMade(Entered):
    """The measurements, all with the same expanded uncertainty, and what was really fitted."""

    uncertainty: Uncertainty
    opening: Outline | None = None
    doubler_outer: Outline | None = None
    holes: tuple[Hole, ...] = Field(default=(), max_length=MOST_HOLES)
    polar: tuple[PolarReadings, ...] = Field(default=(), max_length=100)
    sizes: tuple[Size, ...] = Field(default=(), max_length=MOST_HOLES)
    fitted: tuple[Fitted, ...] = Field(default=(), max_length=1000)

    @property
    def placed_holes(self) -> tuple[MadeHole | PolarHole, ...]:
        """Those whose place was measured, in either form."""
        return (*self.holes, *(hole for one in self.polar for hole in one.holes))

    @property
    def diameters(self) -> tuple[tuple[int, Length], ...]:
        """Number and diameter of each hole whose size was measured."""
        sized = (*self.placed_holes, *self.sizes)
        return tuple((hole.number, hole.diameter) for hole in sized if hole.diameter is not None)

    def places_in(self, center_in: tuple[float, float]) -> dict[int, tuple[float, float]]:
        """Number of each hole whose place was measured, to that place [in].

        Args:
            center_in: center of readings in polar form that name none [in].
        """
        found = {hole.number: (hole.x.inch, hole.y.inch) for hole in self.holes}
        for one in self.polar:
            x_in, y_in = (one.center[0].inch, one.center[1].inch) if one.center else center_in
            for hole in one.holes:
                turned, out_in = math.radians(hole.angle), hole.radius.inch
                found[hole.number] = x_in + out_in * math.cos(turned), y_in + out_in * math.sin(turned)
        return found

    @model_validator(mode="after")
    def _fitted_once(self) -> AsMade:
        times = Counter(number for one in self.fitted for number in one.holes)
        if twice := sorted(number for number, many in times.items() if many > 1):
            raise refusal(said("job.fitted_twice", number=twice[0]), said("job.fitted_twice.do"))
        return self


class Scatter(Entered):
    """The shop's own scatter in drilling and cutting, each as a standard deviation from holes measured on scrap."""

    drill: Uncertainty
    placement: UncertaintyOrNone | None = None
    turn: AngleDeg = 0.0
    edge: UncertaintyOrNone | None = None
