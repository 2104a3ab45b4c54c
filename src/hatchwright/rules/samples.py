"""R930: sample values of a new job that nobody has replaced or confirmed."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import stated
from hatchwright.rules.rule import rule
from hatchwright.said import said
from hatchwright.tables.instructions import practised

_OWN_VALUES = practised("every value of a job is that of the aircraft at hand", "values of a new job")


@rule("R930", Shelf.KNOW, rests_on=(_OWN_VALUES,), reads=("samples",))
def samples_left(survey: Survey) -> Iterator[Finding]:
    """R930: sample values left."""
    left = survey.layout.job.samples
    yield stated(
        Status.UNKNOWN if left else Status.PASS,
        said("R930.subject", n=len(left)) if left else said("R930.none"),
        _OWN_VALUES,
        *((said("R930.do"),) if left else ()),
        enter=left,
    )
