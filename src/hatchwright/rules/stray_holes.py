"""R107, R217, R424: holes that belong to no row, by their edges, by what stands beside them, and filled."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import Bound, Judgement, Measure, Status, bound
from hatchwright.layout.stray import Stray, StrayIn
from hatchwright.layout.stray_edges import ToEdge, parts_left, to_edges
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated, worse
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import edge_named, numbered, part_named
from hatchwright.said import Listed, Numbered, Said, Value, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivets import RIVET_HOLE_RANGES, hole_range
from hatchwright.workings import Grade, Source

_GEOMETRY = Cited(0.0, "in", Source("GEOMETRY", "a hole within its sheet"), Grade.COMPUTED)
_OPEN = Cited(0.0, "in", Source("PRACTICE", "holes that belong to no row"), Grade.PRACTICE)


def _named(stray: Stray) -> Said:
    kind = "stray.open" if stray.is_open else "stray.filled"
    told: dict[str, Value] = {"number": stray.number, "size": inch(stray.hole_in), "rivet": stray.filled_with}
    return said(kind, **told)


def _parts_said(survey: Survey, names: Iterable[StrayIn]) -> Listed:
    parts = (survey.layout.part(name) for name in names)
    return Listed(tuple(part_named(part) for part in parts if part), "and")


def _left(survey: Survey) -> list[Stray]:
    """Those of which a sheet still holds a part; a hole that went with the cutout weakens nothing."""
    return [stray for stray in survey.layout.strays if parts_left(survey.layout, stray)]


@rule("R107", Shelf.HOLDS, reads=("parts", "strays"))
@judged_by(limits=("edge_min_single_row_protruding",))
@mended_by(Change.CLEANED_HOLE)
def stray_edge_distance(survey: Survey) -> Iterator[Finding]:
    """R107: edge distance of stray holes."""
    least = survey.limit("edge_min_single_row_protruding")
    for stray in _left(survey):
        for one in _distinct(survey, stray):
            e = Measure("e", one.distance_in, one.uncertainty_in, per=("D", stray.diameter_in, "in"))
            judged = Judgement(e, (bound(least, stray.diameter_in, "D"),))
            subject = said(
                "R107.edge", stray=_named(stray), edge=edge_named(one.edge), part=part_named(one.part)
            )
            yield held(judged, subject, ASK, place=stray.place)


def _distinct(survey: Survey, stray: Stray) -> Iterator[ToEdge]:
    """Each edge of the sheets that still hold a part of it, once: where the doubler ends at the opening, the skin's
    edge speaks for both."""
    left = parts_left(survey.layout, stray)
    for one in to_edges(survey.layout, stray):
        is_same = one.part.name == "doubler" and "skin" in left and one.edge.loop == survey.layout.opening
        if one.part.name in left and not is_same:
            yield one


@rule("R217", Shelf.HOLDS, reads=("bay", "holes", "parts", "strays"))
@judged_by(limits=("pitch_min_single_row",))
@mended_by(Change.CLEANED_HOLE)
def stray_spacing(survey: Survey) -> Iterator[Finding]:
    """R217: spacing of stray holes to fasteners, new and existing, and to each other."""
    least = survey.limit("pitch_min_single_row")
    strays = _left(survey)
    for stray in strays:
        beside = [*_beside(survey, stray), *_others(stray, strays)]
        if not beside:
            continue
        names, apart_in, sizes_in, u_in = zip(*beside, strict=True)
        larger_in = np.maximum(np.array(sizes_in), stray.diameter_in)
        p = Measure(
            "p",
            np.array(apart_in),
            np.maximum(np.array(u_in), stray.uncertainty_in),
            per=("D", larger_in, "in"),
        )
        judged = Judgement(p, (bound(least, larger_in, "D"),))
        i = judged.worst()
        subject = said("R217.pair", stray=_named(stray), other=names[i])
        yield held(judged.at(i), subject, ASK, place=stray.place)


_Beside = tuple[Numbered | Said, float, float, float]
"""What stands beside a stray hole: its name, distance, diameter and uncertainty [in]."""


def _beside(survey: Survey, stray: Stray) -> Iterator[_Beside]:
    for hole in survey.layout.holes:
        if set(hole.stack) & set(stray.parts):
            apart_in = float(np.hypot(hole.x_in - stray.x_in, hole.y_in - stray.y_in))
            yield numbered(hole), apart_in, hole.diameter_in, hole.uncertainty_in
    if "skin" not in stray.parts:
        return
    for number, there in enumerate(survey.layout.job.bay.fasteners, start=1):
        x, y = there.at
        apart_in = float(np.hypot(x.inch - stray.x_in, y.inch - stray.y_in))
        yield said("existing.fastener", number=number), apart_in, there.diameter.inch, 0.0


def _others(stray: Stray, strays: list[Stray]) -> Iterator[_Beside]:
    for other in strays:
        if other.number > stray.number and set(other.parts) & set(stray.parts):
            apart_in = float(np.hypot(other.x_in - stray.x_in, other.y_in - stray.y_in))
            yield _named(other), apart_in, other.diameter_in, other.uncertainty_in


@rule("R424", Shelf.HOLDS, reads=("parts", "strays"))
@judged_by(_OPEN, _GEOMETRY, RIVET_HOLE_RANGES)
@mended_by(Change.CLEANED_HOLE, Change.FILLED_STRAY)
def stray_holes(survey: Survey) -> Iterator[Finding]:
    """R424: holes of no row; an open one stops, a filled one is held to the hole of its rivet."""
    for stray in survey.layout.strays:
        left = parts_left(survey.layout, stray)
        if not left:
            yield stated(Status.PASS, said("R424.gone", stray=_named(stray)), _GEOMETRY, place=stray.place)
        elif stray.is_open:
            yield stated(
                Status.STOP,
                said("R424.open", stray=_named(stray), parts=_parts_said(survey, left)),
                _OPEN,
                said("R424.hold"),
                ASK,
                value=stray.hole_in,
                unit="in",
                uncertainty=stray.uncertainty_in,
                place=stray.place,
            )
        else:
            yield _filled(survey, stray)


def _filled(survey: Survey, stray: Stray) -> Finding:
    subject = said("R424.filled", stray=_named(stray))
    try:
        allowed = hole_range(stray.diameter_in, survey.shop)
    except TableError:
        return stated(Status.UNKNOWN, subject, _OPEN, ASK, value=stray.hole_in, unit="in", place=stray.place)
    size = Measure("hole", stray.hole_in, stray.uncertainty_in)
    most = Bound(allowed.greatest_in, allowed.source, allowed.grade)
    least = Bound(allowed.least_in, allowed.source, allowed.grade)
    judged = worse(Judgement(size, (most,), at_least=False), Judgement(size, (least,)))
    return held(judged, subject, ASK, place=stray.place)
