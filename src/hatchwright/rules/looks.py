"""R426: cracks that were found when the finished job was looked at again."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from hatchwright.finding import Finding
from hatchwright.job.looks import Crack, CrackAtPlace, CrackHistory, Look, ResolvedCrack, crack_histories
from hatchwright.judged import Status
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.rules.answer import stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.rules.wording import numbered
from hatchwright.said import Said, Value, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

_CRACKS = Cited(0.0, "in", Source("PRACTICE", "cracks at a repeat inspection"), Grade.PRACTICE)


@rule("R426", Shelf.HOLDS, reads=("holes", "looks"), marks_holes=True)
@judged_by(_CRACKS)
def cracks_at_looks(survey: Survey) -> Iterator[Finding]:
    """R426: cracks at repeat looks; every one of the last look stops, and one that it doesn't speak of is not shown
    until somebody says that it is resolved, by name and on which data."""
    looks = survey.layout.job.looks
    if not looks:
        return
    last, histories = looks[-1], crack_histories(looks)
    for one in last.all_cracks:
        yield _stop(survey, histories[one.mark])
    for mark, history in histories.items():
        look, crack = history.read[-1]
        if history.resolved is not None:
            yield _resolved(survey, crack, *history.resolved)
        elif look is not last:
            subject = said("R426.not_read", mark=mark, where=_where(survey, crack), on=look.date.isoformat())
            holes, place = _at(survey, crack)
            yield stated(Status.UNKNOWN, subject, _CRACKS, said("R426.read_it"), holes=holes, place=place)
    if not histories:
        yield stated(Status.PASS, said("R426.none", on=last.date.isoformat()), _CRACKS)


def _resolved(survey: Survey, crack: Crack, look: Look, told: ResolvedCrack) -> Finding:
    subject = said(
        "R426.resolved",
        mark=crack.mark,
        where=_where(survey, crack),
        on=look.date.isoformat(),
        by=told.by,
        data=told.data,
    )
    holes, place = _at(survey, crack)
    return stated(Status.PASS, subject, _CRACKS, holes=holes, place=place)


def _stop(survey: Survey, history: CrackHistory) -> Finding:
    """A crack of the last look beside the reading before, where it was read since it was last resolved."""
    *before, (look, crack) = history.read
    told: dict[str, Value] = {
        "mark": crack.mark,
        "where": _where(survey, crack),
        "length": inch(crack.length.inch),
    }
    subject = said("R426.crack", **told)
    u_in = look.u_in(crack)
    if before:
        earlier, was = before[-1]
        grown_in = crack.length.inch - was.length.inch
        u_grown_in = hypot(u_in, earlier.u_in(was))
        id = "R426.grown" if grown_in > u_grown_in else "R426.not_shown_grown"
        subject = said(id, **told, on=earlier.date.isoformat(), grown=inch(grown_in), u=inch(u_grown_in))
    holes, place = _at(survey, crack)
    return stated(
        Status.STOP,
        subject,
        _CRACKS,
        said("R426.before_flight"),
        ASK,
        value=crack.length.inch,
        unit="in",
        uncertainty=u_in,
        holes=holes,
        place=place,
        cause=crack.mark,
    )


def _at(survey: Survey, crack: Crack) -> tuple[tuple[int, ...], tuple[float, float]]:
    if isinstance(crack, CrackAtPlace):
        return (), (crack.x.inch, crack.y.inch)
    hole = next(hole for hole in survey.layout.holes if hole.number == crack.number)
    return (hole.number,), hole.place


def _where(survey: Survey, crack: Crack) -> Said:
    if isinstance(crack, CrackAtPlace):
        return said("R426.at", x=inch(crack.x.inch), y=inch(crack.y.inch))
    hole = next(hole for hole in survey.layout.holes if hole.number == crack.number)
    return said("R426.at_hole", hole=numbered(hole))
