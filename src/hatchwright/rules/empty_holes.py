"""R427: rivet holes that were left without a rivet."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.job.as_made import NO_RIVET
from hatchwright.judged import Status
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.answer import stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.rules.wording import numbered
from hatchwright.said import said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

_OPEN = Cited(0.0, "in", Source("PRACTICE", "holes left open"), Grade.PRACTICE)


@rule("R427", Shelf.HOLDS, reads=("holes",), marks_holes=True)
@judged_by(_OPEN)
def empty_holes(survey: Survey) -> Iterator[Finding]:
    """R427: holes left without a rivet; one more rivet beside them fills none."""
    made = survey.layout.job.as_made
    if made is None or not made.fitted:
        return
    empty = {number for one in made.fitted if one.rivet == NO_RIVET for number in one.holes}
    for hole in survey.layout.holes_of("rivet"):
        if hole.number in empty:
            subject = said("R427.open", hole=numbered(hole))
            advice = (said("R427.fill"), ASK)
            yield stated(Status.STOP, subject, _OPEN, *advice, holes=(hole.number,), place=hole.place)
    if not empty:
        yield stated(Status.PASS, said("R427.none"), _OPEN)
