"""R912, R913: dissimilar metals and drains."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import in_words
from hatchwright.rules.rule import rule
from hatchwright.tables.instructions import instruction


@rule("R912", Shelf.KNOW, rests_on=(instruction("corrosion_step_5"),), reads=("cover",), step="prime")
def dissimilar_metals(survey: Survey) -> Iterator[Finding]:
    """R912: dissimilar metals."""
    cover = survey.layout.job.cover
    if cover and cover.screws:
        steel = cover.screws.steel
        yield in_words(
            "R912",
            Status.CAUTION if steel else Status.PASS,
            "steel screws in aluminium" if steel else "screws that are not of steel, as entered",
            instruction("corrosion_step_5"),
            advice="Two coats of primer on each faying surface, and put the screws and nuts in wet."
            if steel
            else "",
        )


@rule("R913", Shelf.KNOW, rests_on=(instruction("drain_holes"),), reads=("gate",), step="close")
def drains(survey: Survey) -> Iterator[Finding]:
    """R913: drain paths."""
    answer = survey.layout.job.gate.drain_covered
    if answer is not None:
        yield in_words(
            "R913",
            Status.STOP if answer else Status.PASS,
            "a new part covers a drain hole" if answer else "no new part covers a drain hole, as answered",
            instruction("drain_holes"),
            advice="Move the part, or make a drain of the same size through it; ask where the maker puts it."
            if answer
            else "",
        )
