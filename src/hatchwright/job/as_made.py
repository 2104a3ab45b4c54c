"""What was really made: filed edges and drilled points as measured."""

import math
from collections import Counter
from typing import Annotated, Protocol, Self

from pydantic import AfterValidator, Field, model_validator

from hatchwright.job.bracketed import Bracketed, in_brackets
from hatchwright.job.day import Day
from hatchwright.job.entry import (
    AngleDeg,
    Coordinate,
    Count,
    Diameter,
    Entered,
    NotNegative,
    Point,
    Uncertainty,
    WrittenBy,
    refusal,
)
from hatchwright.job.fasteners import without_length
from hatchwright.job.hole_readings import Countersink, CrackedDimple, Head, Stray
from hatchwright.job.made_outline import MadeOutline, MeasuredEdges, RoundEnds
from hatchwright.job.side_uncertainty import SideUncertainty
from hatchwright.number import MOST_HOLES
from hatchwright.said import said
from hatchwright.units import Length


class MadeHole(Bracketed):
    """One drilled hole as measured."""

    number: Count
    x: Coordinate
    y: Coordinate
    diameter: Diameter | None = None
    uncertainty: Uncertainty | None = None


class PolarHole(Bracketed):
    """One drilled hole as measured about a center."""

    number: Count
    radius: NotNegative
    angle: AngleDeg
    diameter: Diameter | None = None
    uncertainty: Uncertainty | None = None


class MadeSize(Bracketed):
    """The diameter of one hole whose place was not measured."""

    number: Count
    diameter: Diameter
    uncertainty: Uncertainty | None = None


_AS_TYPED = WrittenBy(Bracketed.as_typed)
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


class Reading(Protocol):
    """What may bear an uncertainty of its own."""

    @property
    def uncertainty(self) -> Length | None:
        """Expanded, None for the common one."""


class AsMade(Entered):
    """The measurements, each with the common expanded uncertainty or its own, and what was really fitted."""

    uncertainty: Uncertainty
    date: Day | None = None
    measured_by: str = Field(default="", max_length=120)
    opening: MadeOutline | None = None
    doubler_outer: MadeOutline | None = None
    doubler_inner: MadeOutline | None = None
    holes: tuple[Hole, ...] = Field(default=(), max_length=MOST_HOLES)
    polar: tuple[PolarReadings, ...] = Field(default=(), max_length=100)
    sizes: tuple[Size, ...] = Field(default=(), max_length=MOST_HOLES)
    fitted: tuple[Fitted, ...] = Field(default=(), max_length=1000)
    heads: tuple[Head, ...] = Field(default=(), max_length=MOST_HOLES)
    countersinks: tuple[Countersink, ...] = Field(default=(), max_length=MOST_HOLES)
    cracked_dimples: tuple[CrackedDimple, ...] = Field(default=(), max_length=MOST_HOLES)
    strays: tuple[Stray, ...] = Field(default=(), max_length=1000)

    @property
    def placed_holes(self) -> tuple[MadeHole | PolarHole, ...]:
        """Those whose place was measured, in either form."""
        return (*self.holes, *(hole for one in self.polar for hole in one.holes))

    @property
    def sized_holes(self) -> tuple[MadeSize, ...]:
        """Those whose diameter was measured."""
        placed = ((hole, hole.diameter) for hole in self.placed_holes)
        sized = (
            MadeSize(number=hole.number, diameter=diameter, uncertainty=hole.uncertainty)
            for hole, diameter in placed
            if diameter is not None
        )
        return (*sized, *self.sizes)

    def u_in(self, reading: Reading) -> float:
        """Of one reading: its own where it names one, else the common one [in]."""
        return (self.uncertainty if reading.uncertainty is None else reading.uncertainty).inch

    @property
    def greatest_u_in(self) -> float:
        """Of every measured place and edge: the greatest, of which a drawing may speak for all [in]."""
        edges = [self.edge_u_in(one) for one in (self.opening, self.doubler_outer, self.doubler_inner)]
        return max((*edges, *map(self.u_in, self.placed_holes)), default=0.0) or self.uncertainty.inch

    def edge_u_in(self, outline: MadeOutline | None) -> float:
        """Of a measured outline: the greatest of its sides and corners; 0 for one not measured [in]."""
        own = self.own_edge_u(outline)
        return own.greatest_in if own else 0.0

    def own_edge_u(self, outline: MadeOutline | None) -> SideUncertainty | None:
        """Of each side and corner of a measured outline, None for one not measured."""
        if outline is None:
            return None
        common_in = self.uncertainty.inch
        if isinstance(outline, MeasuredEdges | RoundEnds):
            return outline.own_u(common_in)
        return SideUncertainty((common_in,) * 4, (common_in,) * 4)

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
    def _no_head_without_rivet(self) -> Self:
        bare = {number for one in self.fitted if one.rivet == NO_RIVET for number in one.holes}
        if headed := sorted(bare & {head.number for head in self.heads}):
            raise refusal(said("job.head_of_none", number=headed[0]), said("job.head_of_none.do"))
        return self

    @model_validator(mode="after")
    def _fitted_once(self) -> Self:
        times = Counter(number for one in self.fitted for number in one.holes)
        if twice := sorted(number for number, many in times.items() if many > 1):
            raise refusal(said("job.fitted_twice", number=twice[0]), said("job.fitted_twice.do"))
        return self
