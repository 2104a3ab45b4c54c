"""R425: thickness of the new parts as measured; the skin's own is R403's."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Bound, Judgement, Measure, Status, lengths
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.answer import held
from hatchwright.rules.rule import judged_by, rule
from hatchwright.rules.wording import part_named
from hatchwright.said import inch, said
from hatchwright.tables.materials import SHEET_STOCK, nearest_gauge


def gauge_u_in(survey: Survey, measured_in: float, u_in: float) -> float:
    """How far the gauge of a measured sheet may be off: up to the gauge next to either end of the reading [in].

    Raises:
        TableError: an end lies outside the stock.
    """
    ends = (nearest_gauge(measured_in + off_in, survey.shop) for off_in in (-u_in, 0.0, u_in))
    low, found, high = (end.value for end in ends)
    return max(high - found, found - low)


@rule("R425", Shelf.HOLDS, reads=("parts",))
@judged_by(SHEET_STOCK)
def measured_parts(survey: Survey) -> Iterator[Finding]:
    """R425: measured thickness of new parts: a thinner gauge than drawn stops, a thicker one cautions."""
    for part in survey.layout.parts:
        if part.name == "skin" or part.measured_in is None:
            continue
        wanted = nearest_gauge(part.thickness_in, survey.shop)
        found = nearest_gauge(part.measured_in, survey.shop)
        gauge = Measure(
            "gauge",
            found.value,
            gauge_u_in(survey, part.measured_in, part.measured_u_in),
            with_=lengths(measured=part.measured_in, u=part.measured_u_in, job=part.thickness_in),
        )
        asked = (Bound(wanted.value, wanted.source, wanted.grade, "gauge of the job"),)
        thinner = Judgement(gauge, asked)
        thicker = Judgement(gauge, asked, at_least=False, fails_as=Status.CAUTION)
        subject = said(
            "R425.measured", part=part_named(part), measured=inch(part.measured_in), gauge=inch(found.value)
        )
        if thinner.status is Status.PASS and thicker.status is not Status.PASS:
            yield held(thicker, subject, said("R425.thicker"))
        else:
            yield held(thinner, subject, said("R425.thinner"), ASK)
