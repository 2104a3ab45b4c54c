"""R912, R913: dissimilar metals and drains."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, Status
from hatchwright.layout.survey import Survey
from hatchwright.rules.answer import stated
from hatchwright.rules.rule import rule
from hatchwright.tables.instructions import instruction


@rule("R912", "Dissimilar metals", rests_on=(instruction("corrosion_step_5"),))
def dissimilar_metals(survey: Survey) -> Iterator[Finding]:
    """Steel screws and nuts in aluminium have at least two coats of primer on each surface and a barrier or sealant
    between; they are put in wet."""
    cover = survey.layout.job.cover
    if cover and cover.screws:
        steel = cover.screws.steel
        yield stated(
            "R912",
            Status.CAUTION if steel else Status.PASS,
            "steel screws in aluminium" if steel else "screws that are not of steel, as entered",
            instruction("corrosion_step_5"),
            advice="Two coats of primer on each faying surface, and put the screws and nuts in wet."
            if steel
            else "",
        )


@rule("R913", "Drain paths", rests_on=(instruction("drain_holes"),))
def drains(survey: Survey) -> Iterator[Finding]:
    """Drain holes are kept or replaced, and the new parts leave no pocket that holds water."""
    answer = survey.layout.job.gate.drain_covered
    if answer is not None:
        yield stated(
            "R913",
            Status.STOP if answer else Status.PASS,
            "a new part covers a drain hole" if answer else "no new part covers a drain hole, as answered",
            instruction("drain_holes"),
            advice="Move the part, or make a drain of the same size through it; ask where the maker puts it."
            if answer
            else "",
        )
