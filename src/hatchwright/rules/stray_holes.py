"""R107, R217, R424: holes that belong to no row, by their edges, by what stands beside them, and filled."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

import numpy as np

from hatchwright.errors import TableError
from hatchwright.finding import About, Finding
from hatchwright.judged import Bound, Judgement, Measure, Status, bound
from hatchwright.layout.stray import Stray, StrayIn
from hatchwright.layout.stray_edges import ToEdge, parts_left, to_edges
from hatchwright.layout.survey import Survey
from hatchwright.metrology.distance_uncertainty import distance_u
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, held_as, stated, worse
from hatchwright.rules.edge_distance import FLUSH_READINGS, WHOLE, edge_held, least_edges
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
@judged_by(WHOLE, limits=("edge_min_countersunk", "edge_min_single_row_protruding"), readings=FLUSH_READINGS)
@mended_by(Change.CLEANED_HOLE)
def stray_edge_distance(survey: Survey) -> Iterator[Finding]:
    """R107: edge distance of stray holes; one that a flush rivet fills is held as a flush rivet of a row is."""
    chosen = survey.chosen("R107")
    for stray in _left(survey):
        least = least_edges(survey.limit, flush=stray.is_flush)
        for one in _distinct(survey, stray):
            e = Measure("e", one.distance_in, one.uncertainty_in, per=("D", stray.diameter_in, "in"))
            asked, whole = edge_held(e, stray.diameter_in, least, chosen=chosen if stray.is_flush else None)
            judged = whole if whole.status.rank > asked.status.rank else asked
            subject = said(
                "R107.edge", stray=_named(stray), edge=edge_named(one.edge), part=part_named(one.part)
            )
            yield held(judged, subject, ASK, place=stray.place, strays=(stray.number,))


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
        apart_in, sizes_in, u_in = zip(
            *((one.apart_in, one.diameter_in, one.u_in) for one in beside), strict=True
        )
        larger_in = np.maximum(np.array(sizes_in), stray.diameter_in)
        p = Measure(
            "p",
            np.array(apart_in),
            np.array(u_in),
            per=("D", larger_in, "in"),
        )
        judged = Judgement(p, (bound(least, larger_in, "D"),))
        # The nearest speaks for what stands beside it; a stray hole that is too near is told as well, for its own sake.
        worst, ranks = judged.worst(), judged.ranks()
        also = [i for i, one in enumerate(beside) if i != worst and one.strays and ranks[i]]
        for i in (worst, *also):
            subject, both = said("R217.pair", stray=_named(stray), other=beside[i].named), beside[i].strays
            yield held(judged.at(i), subject, ASK, place=stray.place, strays=(stray.number, *both))


class _Beside(NamedTuple):
    """What stands beside a stray hole, with u of the distance; of another stray hole its number too [in]."""

    named: Numbered | Said
    apart_in: float
    diameter_in: float
    u_in: float
    strays: tuple[int, ...] = ()


def _beside(survey: Survey, stray: Stray) -> Iterator[_Beside]:
    for hole in survey.layout.holes:
        if set(hole.stack) & set(stray.parts):
            apart_in = float(np.hypot(hole.x_in - stray.x_in, hole.y_in - stray.y_in))
            u_in = distance_u(
                stray.uncertainty_in, hole.uncertainty_in, is_own=stray.is_own_u or hole.is_own_u
            )
            yield _Beside(numbered(hole), apart_in, hole.diameter_in, u_in)
    if "skin" not in stray.parts:
        return
    for number, there in enumerate(survey.layout.job.bay.fasteners, start=1):
        x, y = there.at
        apart_in = float(np.hypot(x.inch - stray.x_in, y.inch - stray.y_in))
        yield _Beside(
            said("existing.fastener", number=number), apart_in, there.diameter.inch, stray.uncertainty_in
        )


def _others(stray: Stray, strays: list[Stray]) -> Iterator[_Beside]:
    for other in strays:
        if other.number > stray.number and set(other.parts) & set(stray.parts):
            apart_in = float(np.hypot(other.x_in - stray.x_in, other.y_in - stray.y_in))
            u_in = distance_u(
                stray.uncertainty_in, other.uncertainty_in, is_own=stray.is_own_u or other.is_own_u
            )
            yield _Beside(_named(other), apart_in, other.diameter_in, u_in, (other.number,))


@rule("R424", Shelf.HOLDS, reads=("parts", "strays"))
@judged_by(_OPEN, _GEOMETRY, RIVET_HOLE_RANGES)
@mended_by(Change.CLEANED_HOLE, Change.FILLED_STRAY)
def stray_holes(survey: Survey) -> Iterator[Finding]:
    """R424: holes of no row; an open one stops, a filled one is held to its rivet's hole and asked for its data."""
    for stray in survey.layout.strays:
        about: About = {"place": stray.place, "strays": (stray.number,)}
        left = parts_left(survey.layout, stray)
        if not left:
            yield stated(Status.PASS, said("R424.gone", stray=_named(stray)), _GEOMETRY, **about)
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
                **about,
            )
        else:
            yield _filled(survey, stray, about)


def _filled(survey: Survey, stray: Stray, about: About) -> Finding:
    told: dict[str, Value] = {"stray": _named(stray), "data": stray.data}
    subject = said("R424.filled", **told)
    try:
        allowed = hole_range(stray.diameter_in, survey.shop)
    except TableError:
        return stated(Status.UNKNOWN, subject, _OPEN, ASK, value=stray.hole_in, unit="in", **about)
    size = Measure("hole", stray.hole_in, stray.uncertainty_in)
    most = Bound(allowed.greatest_in, allowed.source, allowed.grade)
    least = Bound(allowed.least_in, allowed.source, allowed.grade)
    judged = worse(Judgement(size, (most,), at_least=False), Judgement(size, (least,)))
    advice = (ASK,) if stray.data else (said("R424.ask_data"), said("R424.enter_data"))
    if judged.status is not Status.PASS:
        return held(judged, subject, *advice, **about)
    if not stray.data:
        return held_as(judged, Status.UNKNOWN, said("R424.no_data", **told), *advice, **about)
    return held(judged, said("R424.by_data", **told), **about)
