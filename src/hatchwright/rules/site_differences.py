"""R945: what the job says otherwise than its site survey."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hatchwright.finding import Finding
from hatchwright.ground import computed
from hatchwright.judged import OFF, Measure, Status, lengths
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import inch, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

if TYPE_CHECKING:
    from hatchwright.layout.site.difference import Difference

_THEORY = computed("docs/theory/site.md")
_SAME = Cited(0.0, "in", Source("GEOMETRY", "docs/theory/site.md"), Grade.COMPUTED)


@rule("R945", Shelf.PLACE, reads=("bay", "opening", "site", "skin"))
@judged_by(_SAME)
def as_surveyed(survey: Survey) -> Iterator[Finding]:
    """R945: the job as it was surveyed."""
    job = survey.layout.job
    if job.site is None:
        return
    from hatchwright.layout.site.center import center_of
    from hatchwright.layout.site.differences import differences

    found = differences(job, center_of(job.site, survey.layout.frame))
    beyond = [one for one in found if one.is_beyond]
    if not beyond:
        yield stated(Status.PASS, said("site_differences.none"), _SAME, unit="in")
    for one in beyond:
        yield _missing(one) if one.is_missing else _differs(one)


def _missing(one: Difference) -> Finding:
    subject = said("site_differences.missing", name=one.name, what=one.what)
    entry = ".".join(part for part in one.field.split(".") if not part.isdigit())
    return stated(
        Status.UNKNOWN, subject, _SAME, said("site_differences.enter"), unit="in", cause="", enter=(entry,)
    )


def _differs(one: Difference) -> Finding:
    advice = said("site_differences.enter")
    if one.job_in is None or one.site_in is None or one.off_in is None:
        subject = said("site_differences.other", name=one.name, what=one.what)
        return stated(Status.STOP, subject, _SAME, advice, unit="in", cause=one.field)
    subject = said(
        "site_differences.differs",
        name=one.name,
        what=one.what,
        job=inch(one.job_in, beside_in=one.site_in),
        site=inch(one.site_in, beside_in=one.job_in),
    )
    measure = Measure(OFF, one.off_in, with_=lengths(job=one.job_in, survey=one.site_in))
    return held(_THEORY.at_most(measure, one.u_in), subject, advice, cause=one.field)
