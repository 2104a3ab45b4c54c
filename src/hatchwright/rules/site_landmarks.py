"""R936, R937: landmarks of a survey that were told twice, and rows that don't run parallel to the origin row."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import TYPE_CHECKING

from hatchwright.finding import Finding
from hatchwright.ground import computed
from hatchwright.judged import OFF, Measure, Status, lengths
from hatchwright.layout.survey import Survey
from hatchwright.metrology.propagated import less
from hatchwright.register import Shelf
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import inch, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

if TYPE_CHECKING:
    from hatchwright.layout.site.landmarks import Landmark, Reading

_THEORY = computed("docs/theory/site.md")
_TWICE = Cited(0.0, "in", Source("GEOMETRY", "docs/theory/site.md"), Grade.COMPUTED)


@rule("R936", Shelf.PLACE, reads=("site",))
@judged_by(_TWICE)
def told_twice(survey: Survey) -> Iterator[Finding]:
    """R936: landmarks told twice."""
    site = survey.layout.job.site
    if site is None:
        return
    from hatchwright.layout.site.landmarks import landmarks

    found = landmarks(site)
    if not site.rows:
        what, do = said("site_landmarks.none"), said("site_landmarks.tape_rows")
        yield stated(Status.UNKNOWN, what, _TWICE, do, unit="in", enter=("site.rows",))
    elif all(len(line.readings) == 1 for line in found):
        yield stated(Status.PASS, said("site_landmarks.once", n=len(found)), _TWICE, unit="in")
    for line in found:
        for one, other in combinations(line.readings, 2):
            yield _twice(line, one, other)


def _twice(line: Landmark, one: Reading, other: Reading) -> Finding:
    off = less(other.first, one.first)
    measure = Measure(OFF, abs(off.value), with_=lengths(one=one.first.value, other=other.first.value))
    subject = said(
        "site_landmarks.twice",
        name=line.name,
        axis="XY"[line.axis],
        one=inch(one.first.value, beside_in=other.first.value),
        other=inch(other.first.value, beside_in=one.first.value),
    )
    return held(_THEORY.at_most(measure, off.u), subject, said("site_landmarks.tape_again"), cause=line.name)


@rule("R937", Shelf.SETTLE, reads=("site",), step="measure")
@judged_by(_TWICE)
def parallel(survey: Survey) -> Iterator[Finding]:
    """R937: rows and edges that run parallel."""
    site = survey.layout.job.site
    if site is None:
        return
    from hatchwright.layout.site.landmarks import landmarks

    for line in landmarks(site):
        for reading in line.readings:
            if reading.second is None or reading.stations_in is None:
                continue
            off = less(reading.second, reading.first)
            begin, end = reading.stations_in
            subject = said(
                "site_landmarks.skewed",
                name=line.name,
                axis="XY"[line.axis],
                along="YX"[line.axis],
                one=inch(reading.first.value, beside_in=reading.second.value),
                other=inch(reading.second.value, beside_in=reading.first.value),
                first=inch(begin),
                second=inch(end),
            )
            measure = Measure(OFF, abs(off.value))
            judged = _THEORY.at_most(measure, off.u, fails_as=Status.CAUTION)
            yield held(judged, subject, said("site_landmarks.not_parallel"), cause=line.name)
