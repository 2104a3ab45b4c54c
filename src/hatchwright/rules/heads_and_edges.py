"""R210, R216: existing heads under a new edge, and new heads over the edge of a flange."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding
from hatchwright.job.bay import Flange
from hatchwright.judged import Judgement, Measure, Numbers, Status, bound, lengths
from hatchwright.layout.gaps import gap_to, gaps_to_points
from hatchwright.layout.layout import Hole, Layout, Part, points_of
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, held_as, stated
from hatchwright.rules.existing_fasteners import are_in_waste
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import numbered, part_named
from hatchwright.said import Listed, Said, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

HEAD_RATIO = Cited(
    2.0, "D", Source("PRACTICE", "universal heads are about two diameters across"), Grade.PRACTICE
)
_CLEAR = Cited(0.0, "in", HEAD_RATIO.source, HEAD_RATIO.grade)


def _clear_of(gap_in: Numbers, head_in: Numbers, u_in: Numbers) -> Judgement:
    """Room between heads and an edge: the gap from its center less half the head."""
    clear = Measure("clear", gap_in - head_in / 2.0, u_in, with_=lengths(gap=gap_in, head=head_in))
    return Judgement(clear, (bound(_CLEAR),), fails_as=Status.UNKNOWN)


@rule("R210", Shelf.HOLDS, reads=("bay", "cover", "opening", "parts"), marks_holes=True)
@judged_by(HEAD_RATIO)
@mended_by(Change.DOUBLER_SIZE, Change.COVER_SIZE)
def heads_under_edge(survey: Survey) -> Iterator[Finding]:
    """R210: existing heads under a new edge."""
    layout, bay = survey.layout, survey.layout.job.bay
    on_skin = [part for part in layout.parts if part.name == "doubler" or _is_lapped_cover(layout, part.name)]
    found = [finding for part in on_skin for finding in (*_rows(survey, part), *_fasteners(survey, part))]
    yield from found
    if on_skin and not found and (bay.rows or bay.fasteners):
        parts = Listed(tuple(part_named(part) for part in on_skin), "or")
        yield stated(Status.PASS, said("R210.none", parts=parts), HEAD_RATIO)


def _rows(survey: Survey, part: Part) -> Iterator[Finding]:
    for row in survey.layout.job.bay.rows:
        head_in = HEAD_RATIO.value * row.diameter.inch if row.diameter else 0.0
        gap_in, place = gap_to(part.edges[0].loop, row)
        u_in = part.edges[0].u_near(place)
        judged = _clear_of(gap_in, head_in, u_in)
        covered = gap_in <= 0.0
        if judged.status is not Status.PASS or covered:
            yield _heads(judged, part, said("existing.row", row=row.name), place, covered=covered)


def _fasteners(survey: Survey, part: Part) -> Iterator[Finding]:
    """Of the fasteners that were entered singly those that are covered, and those under the edge, each told once; what
    comes out with the cutout lies under nothing."""
    existing = survey.layout.job.bay.fasteners
    if not existing:
        return
    points = np.array([(there.at[0].inch, there.at[1].inch) for there in existing])
    heads_in = HEAD_RATIO.value * np.array([there.diameter.inch for there in existing])
    gaps = distances(Profile((part.edges[0].loop,)), points)
    judged = _clear_of(-gaps.inward_in, heads_in, part.edges[0].u_at(gaps.foot))
    to_opening = distances(Profile((survey.layout.opening,)), points)
    u_in = survey.layout.parts[0].edges[0].u_at(to_opening.foot)
    fails = (judged.ranks() > 0) & ~are_in_waste(-to_opening.inward_in, heads_in / HEAD_RATIO.value, u_in)
    is_covered = gaps.inside & (gaps.distance_in >= heads_in / 2.0)
    for covered in (False, True):
        some = np.flatnonzero(fails & (is_covered == covered))
        if len(some):
            # On the edge the head that lies farthest under it is the one to name, of covered ones the first entered.
            i = int(some[0] if covered else some[np.argmin(gaps.distance_in[some])])
            place = (float(points[i, 0]), float(points[i, 1]))
            there = said("existing.fastener", number=i + 1)
            yield _heads(judged.at(i), part, there, place, covered=covered, count=len(some))


def _heads(
    judged: Judgement, part: Part, there: Said, place: tuple[float, float], *, covered: bool, count: int = 1
) -> Finding:
    one, several = (
        ("R210.covers", "R210.covers_several") if covered else ("R210.ends_on", "R210.ends_on_several")
    )
    subject = said(one if count == 1 else several, part=part_named(part), there=there, n=count)
    advice = (said("R210.pick_up" if covered else "R210.on_heads"), ASK)
    cause = "covered" if covered else "edge"
    if not covered:
        return held(judged, subject, *advice, place=place, cause=cause)
    # What is covered is picked up or it is not: it lies short of nothing.
    return held_as(judged, Status.UNKNOWN, subject, *advice, place=place, cause=cause)


def _is_lapped_cover(layout: Layout, part: str) -> bool:
    return part == "cover" and layout.job.cover is not None and layout.job.cover.fit == "lapped"


@rule("R216", Shelf.HOLDS, reads=("bay", "holes"), marks_holes=True)
@judged_by(HEAD_RATIO)
@mended_by(Change.ROW_DISTANCE, Change.ROW_PLACE, Change.DOUBLER_SIZE, Change.ROW_PITCH)
def heads_over_flange(survey: Survey) -> Iterator[Finding]:
    """R216: new heads over a flange edge."""
    rivets, flanges = survey.layout.holes_of("rivet"), survey.layout.job.bay.flanges
    if not rivets or not flanges:
        return
    points = points_of(rivets)
    head_in = HEAD_RATIO.value * np.array([hole.diameter_in for hole in rivets])
    u_in = np.array([hole.uncertainty_in for hole in rivets])
    closest: list[tuple[float, Judgement, Hole, Flange]] = []
    for flange in flanges:
        every = _clear_of(gaps_to_points(flange, points), head_in, u_in)
        i = every.worst()
        judged = every.at(i)
        if judged.status is Status.PASS:
            closest.append((float(judged.margins()[0] - u_in[i]), judged, rivets[i], flange))
            continue
        sure_in = every.margins() - u_in
        short = sorted(np.flatnonzero(every.ranks()).tolist(), key=lambda k: float(sure_in[k]))
        yield _over_flange(every.at(short[0]), [rivets[k] for k in short], flange)
    if len(closest) == len(flanges):
        _, judged, hole, flange = min(closest, key=lambda one: one[0])
        subject = said("R216.closest", hole=numbered(hole), flange=flange.name)
        yield held(judged, subject, holes=(hole.number,), place=hole.place)


def _over_flange(judged: Judgement, short: list[Hole], flange: Flange) -> Finding:
    hole = short[0]
    subject = said("R216.over", hole=numbered(hole), flange=flange.name, n=len(short))
    advice = said("R216.do_not_drill")
    return held(judged, subject, advice, ASK, holes=tuple(one.number for one in short), place=hole.place)
