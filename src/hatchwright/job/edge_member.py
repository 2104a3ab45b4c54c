"""A framing member along an edge of the opening, as somebody designed it: this program draws none."""

from typing import Annotated, Literal, Self

from pydantic import AfterValidator, Field, model_validator

from hatchwright.job.entry import Positive, refusal
from hatchwright.job.fasteners import without_length
from hatchwright.job.skin import Sheet
from hatchwright.said import said
from hatchwright.tables.rivet_part import parse_rivet

_LEAST_FLANGE = 2.0
"""A flange narrower than this many thicknesses is a slip [-]."""


class EdgeMember(Sheet):
    """An angle from row to row along one edge of the opening."""

    edge: Literal["X+", "X-", "Y+", "Y-"]
    attached: Positive
    standing: Positive
    rivet: Annotated[str, AfterValidator(without_length)] = Field(min_length=1, max_length=40)
    pitch: Positive

    @model_validator(mode="after")
    def _is_an_angle(self) -> Self:
        if min(self.attached.inch, self.standing.inch) < _LEAST_FLANGE * self.thickness.inch:
            raise refusal(said("job.flange_narrow"), said("job.flange_narrow.do"))
        if self.pitch.inch < 2.0 * parse_rivet(self.rivet).diameter_in:
            raise refusal(said("job.member_pitch"), said("job.member_pitch.do"))
        return self
