"""R934, R935: the four corners of a survey: each triangle of them, and whether all six lengths close."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.errors import HatchwrightError
from hatchwright.finding import Finding
from hatchwright.ground import computed
from hatchwright.judged import OFF, Measure, Status, lengths
from hatchwright.layout.survey import Survey
from hatchwright.metrology.propagated import less
from hatchwright.register import Shelf
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import Amount, Listed, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

_THEORY = computed("docs/theory/site.md")
_CLOSES = Cited(0.0, "in", Source("GEOMETRY", "docs/theory/site.md"), Grade.COMPUTED)


@rule("R934", Shelf.PLACE, reads=("site",))
@judged_by(_CLOSES)
def triangles(survey: Survey) -> Iterator[Finding]:
    """R934: the triangles of the corners."""
    site = survey.layout.job.site
    if site is None:
        return
    from hatchwright.layout.site.center import lengths_of
    from hatchwright.metrology.quadrilateral import TRIANGLES, triangle_over

    taped = lengths_of(site)
    for triangle in TRIANGLES:
        if not all(name in taped for name in triangle):
            continue
        longest, over = triangle_over(taped, triangle)
        others = [name for name in triangle if name != longest]
        subject = said(
            "site_corners.triangle",
            corners="".join(sorted(set("".join(triangle)))).upper(),
            longest=longest.upper(),
            length=inch(taped[longest].value),
            others=Listed(tuple(name.upper() for name in others)),
            together=inch(sum(taped[name].value for name in others)),
        )
        judged = _THEORY.at_most(Measure("longest - others", over.value, over.u), 0.0)
        yield held(judged, subject, said("site_corners.tape_again"), cause=subject.id)


@rule("R935", Shelf.PLACE, reads=("site",))
@judged_by(_CLOSES)
def closing(survey: Survey) -> Iterator[Finding]:
    """R935: whether the six lengths between the corners close."""
    site = survey.layout.job.site
    if site is None:
        return
    from hatchwright.layout.site.center import lengths_of
    from hatchwright.metrology.quadrilateral import LENGTHS, angle_sum_deg, worked_out

    taped = lengths_of(site)
    missing = [name for name in LENGTHS if name not in taped]
    if missing:
        subject = said("site_corners.few", n=len(taped)) if taped else said("site_corners.none")
        entries = tuple(f"site.corners.{name}" for name in missing) if taped else ("site.corners",)
        yield stated(
            Status.CAUTION, subject, _CLOSES, said("site_corners.tape_all"), unit="in", enter=entries
        )
        return
    try:
        sixth, angles = worked_out(taped), angle_sum_deg(taped)
    except HatchwrightError as error:
        yield stated(
            Status.STOP, said("site_corners.no_shape", what=error.what), _CLOSES, error.remedy, unit="in"
        )
        return
    off = less(taped["cd"], sixth)
    measure = Measure(OFF, abs(off.value), with_=lengths(CD_taped=taped["cd"].value, CD_worked=sixth.value))
    subject = said(
        "site_corners.closing",
        taped=inch(taped["cd"].value, beside_in=sixth.value),
        worked=inch(sixth.value, beside_in=taped["cd"].value),
        angles=Amount(angles.value, "deg"),
    )
    yield held(_THEORY.at_most(measure, off.u), subject, said("site_corners.tape_again"))
