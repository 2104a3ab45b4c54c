"""What was really made: filed edges and drilled points as measured, and how far the shop's work scatters."""

from __future__ import annotations

from collections import Counter
from typing import Annotated, Any

from pydantic import AfterValidator, Field, PlainSerializer, PlainValidator, ValidationInfo, model_validator

from hatchwright.job.entry import (
    AngleDeg,
    Count,
    Entered,
    Uncertainty,
    UncertaintyOrNone,
    coordinate,
    count,
    diameter,
    refusal,
)
from hatchwright.job.fasteners import without_length
from hatchwright.job.outline import Outline
from hatchwright.number import MOST_HOLES
from hatchwright.said import said
from hatchwright.units import Length


class MadeHole(Entered):
    """One drilled hole as measured."""

    number: Count
    x: Length
    y: Length
    diameter: Length | None = None


def _made_hole(value: Any, info: ValidationInfo) -> MadeHole:
    if isinstance(value, MadeHole):
        return value
    if not isinstance(value, list | tuple) or len(value) not in (3, 4):
        raise refusal(said("job.made_hole"), said("job.made_hole.do"))
    return MadeHole(
        number=count(value[0]),
        x=coordinate(value[1], info),
        y=coordinate(value[2], info),
        diameter=diameter(value[3], info) if len(value) == 4 else None,
    )


def _as_typed(hole: MadeHole) -> list[int | str]:
    sizes = [hole.x, hole.y] + ([hole.diameter] if hole.diameter else [])
    return [hole.number, *(size.text for size in sizes)]


Hole = Annotated[MadeHole, PlainValidator(_made_hole), PlainSerializer(_as_typed)]


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
    fitted: tuple[Fitted, ...] = Field(default=(), max_length=1000)

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
