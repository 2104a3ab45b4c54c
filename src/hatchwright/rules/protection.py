"""R912, R913: dissimilar metals and drains."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import stated
from hatchwright.rules.rule import rule
from hatchwright.said import said
from hatchwright.tables.instructions import instruction


@rule("R912", Shelf.KNOW, rests_on=("corrosion_step_5",), reads=("cover",), step="prime")
def dissimilar_metals(survey: Survey) -> Iterator[Finding]:
    """R912: dissimilar metals; what is done about them is an instruction of its step, so that nothing cautions."""
    cover = survey.layout.job.cover
    if cover and cover.screws:
        is_steel = cover.screws.steel
        yield stated(
            Status.PASS,
            said("steel_screws.in_aluminum" if is_steel else "steel_screws.none"),
            instruction("corrosion_step_5"),
            *((said("steel_screws.install_wet"),) if is_steel else ()),
        )


@rule("R913", Shelf.SETTLE, rests_on=("drain_holes",), reads=("gate",), step="doubler")
def drains(survey: Survey) -> Iterator[Finding]:
    """R913: drain paths."""
    is_covered = survey.layout.job.gate.drain_covered
    if is_covered is not None:
        yield stated(
            Status.STOP if is_covered else Status.PASS,
            said("drain.covered" if is_covered else "drain.clear"),
            instruction("drain_holes"),
            *((said("drain.keep_it_open"),) if is_covered else ()),
        )
