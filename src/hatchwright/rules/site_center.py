"""R938 to R940: the center by two or more routes, whether they agree within their u, and what a helper taped to it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from hatchwright.finding import Finding
from hatchwright.ground import computed
from hatchwright.judged import OFF, Bound, Judgement, Measure, Status, lengths
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.said import Listed, Place, Said, inch, missing, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

if TYPE_CHECKING:
    from hatchwright.job.site import Site
    from hatchwright.layout.site.center import Center, Gap, Tape

GAP_IN = 1.0 / 32.0
"""Routes to the center may differ by this much; common practice, no source [in]."""

LEVEL = 0.05
"""Routes that agree within their u are seldom found so far apart as this; common practice, no source [-]."""

_GAP = Cited(GAP_IN, "in", Source("PRACTICE", "two routes to the center"), Grade.PRACTICE)
_SHOP = Cited(0.0, "in", Source("PRACTICE", "the limit entered for the gap"), Grade.SHOP)
_ODDS = Cited(LEVEL, "", Source("PRACTICE", "routes within their u, chi-square at 95 %"), Grade.PRACTICE)
_THEORY = computed("docs/theory/site.md")
_TAPED = Cited(0.0, "in", Source("GEOMETRY", "docs/theory/site.md"), Grade.COMPUTED)


@rule("R938", Shelf.PLACE, reads=("site",))
@judged_by(_GAP, _SHOP)
def two_routes(survey: Survey) -> Iterator[Finding]:
    """R938: two routes to the center."""
    site, center = survey.layout.job.site, _center(survey)
    if site is None or center is None:
        return
    for route in center.routes:
        if route.place is None and route.why is not None:
            subject = said("site_center.no_place", name=route.name, why=route.why)
            yield stated(
                Status.UNKNOWN, subject, _GAP, said("site_center.correct_route"), unit="in", cause=route.name
            )
    placed = [route for route in center.routes if route.place is not None]
    if len(placed) < 2:
        subject = said("site_center.one_route" if placed else "site_center.no_route")
        advice = said("site_center.second_route")
        yield stated(Status.UNKNOWN, subject, _GAP, advice, unit="in", enter=("site.routes",))
        return
    yield from _from_one_landmark(site, center)
    most = Bound(site.gap.inch, _SHOP.source, _SHOP.grade) if site.gap else _bound()
    judged = [(gap, _gap(gap, most)) for gap in center.gaps]
    gap, worst = max(judged, key=lambda each: (each[1].status.rank, each[0].apart.distance_in))
    subject = said("site_center.gap", one=gap.one, other=gap.other)
    place = center.best.at_in if center.best else None
    if worst.status is Status.CAUTION:
        advice = said("site_center.tape_finer", u=missing(gap.apart.u_in))
    else:
        advice = said("site_center.find_wrong")
    yield held(worst, subject, advice, place=place)


def _from_one_landmark(site: Site, center: Center) -> Iterator[Finding]:
    """Along an axis for which all routes tape from the same: a wrong one lies in all of them, and no gap shows it."""
    from hatchwright.layout.site.landmarks import called

    placed = [way for way, found in zip(site.routes, center.routes, strict=True) if found.place is not None]
    for axis in ("x", "y"):
        names = {called(getattr(way, f"{axis}_from")) or tuple(way.from_corners) for way in placed}
        if len(names) == 1:
            corners = tuple(placed[0].from_corners)
            name = getattr(placed[0], f"{axis}_from") or Listed(corners, "and")
            id = "site_center.same_corners" if corners else "site_center.same_landmark"
            subject = said(id, name=name, axis=axis.upper())
            yield stated(
                Status.UNKNOWN,
                subject,
                _GAP,
                said("site_center.second_route"),
                unit="in",
                enter=("site.routes",),
            )
            if corners:
                return  # they give both axes


def _bound() -> Bound:
    return Bound(_GAP.value, _GAP.source, _GAP.grade)


def _gap(gap: Gap, most: Bound) -> Judgement:
    """The limit is the trade's for two tapes as they are read, so that their u does not stop what agrees; a u in which
    a slip of the whole limit would hide is told."""
    as_read = Judgement(Measure("gap", gap.apart.distance_in), (most,), at_least=False)
    if as_read.status is not Status.PASS or gap.apart.u_in <= float(most.limit):
        return as_read
    with_u = Measure("gap", gap.apart.distance_in, gap.apart.u_in)
    return Judgement(with_u, (most,), at_least=False, fails_as=Status.CAUTION)


@rule("R939", Shelf.SETTLE, reads=("site",), step="measure")
@judged_by(_ODDS)
def consistent(survey: Survey) -> Iterator[Finding]:
    """R939: routes that agree within their stated u."""
    center = _center(survey)
    if center is None or center.best is None or not center.best.freedom:
        return
    from hatchwright.metrology.routes import chi_square_point

    best = center.best
    most = chi_square_point(LEVEL, best.freedom)
    measure = Measure("chi-square", best.chi_square, unit="")
    judged = Judgement(
        measure, (Bound(most, _ODDS.source, _ODDS.grade),), at_least=False, fails_as=Status.CAUTION
    )
    subject = said("site_center.consistent", at=Place(*best.at_in))
    yield held(judged, subject, said("site_center.u_too_small"))


@rule("R940", Shelf.PLACE, reads=("site",))
@judged_by(_TAPED)
def taped(survey: Survey) -> Iterator[Finding]:
    """R940: what a helper taped to the center."""
    site, center = survey.layout.job.site, _center(survey)
    if site is None or center is None:
        return
    from hatchwright.layout.site.landmarks import called

    known = {called(tape.landmark) for tape in center.tapes}
    for line in site.tapes:
        if called(line.landmark) not in known:
            names = Listed(tuple(tape.landmark for tape in center.tapes), "or")
            subject = said("site_center.tape_unknown", name=line.landmark)
            advice = said("site_center.tape_from", names=names) if known else said("site_center.second_route")
            yield stated(Status.UNKNOWN, subject, _TAPED, advice, unit="in", cause=line.landmark)
    for tape in center.tapes:
        if tape.taped is not None:
            yield _taped(tape)


def _taped(tape: Tape) -> Finding:
    assert tape.taped is not None
    assert tape.off is not None
    expected, found = tape.expected.value, tape.taped.value
    measure = Measure(OFF, abs(tape.off.value), with_=lengths(taped=found, worked_out=expected))
    subject = said(
        "site_center.taped",
        name=_name(tape),
        taped=inch(found, beside_in=expected),
        expected=inch(expected, beside_in=found),
    )
    judged = _THEORY.at_most(measure, tape.off.u)
    return held(judged, subject, said("site_center.mark_off"), cause=tape.landmark)


def _name(tape: Tape) -> Said | str:
    return tape.landmark if tape.axis is not None else said("site_center.corner", letter=tape.landmark)


def _center(survey: Survey) -> Center | None:
    job = survey.layout.job
    if job.site is None:
        return None
    from hatchwright.layout.site.center import center_of  # a job without a survey does without it

    return center_of(job.site, survey.layout.frame)
