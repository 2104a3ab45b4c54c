"""R806, R811: clip nuts of the cover."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding
from hatchwright.job.fasteners import Screws
from hatchwright.judged import Bound, Judgement, Measure, Status, bound, lengths
from hatchwright.layout.layout import Hole, points_of
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated
from hatchwright.rules.cover import ScrewedCover, screwed_cover
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import numbered
from hatchwright.said import Listed, inch, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import instruction
from hatchwright.workings import Grade, Source

REACH_WITHIN_IN = 0.005
"""A hole farther than this from where a clip nut's reach puts it misses the nut; common practice, no source [in]."""

_CLIPS = Cited(1.0, "", Source("PRACTICE", "clip nuts, as measured on the part"), Grade.PRACTICE)


@rule("R806", Shelf.SETTLE, reads=("cover", "holes", "opening", "parts"), marks_holes=True, step="drill")
@judged_by("sheet_spring_nuts", _CLIPS)
@mended_by(Change.SCREW_INSET, Change.SCREW_NUMBER)
def clip_nuts(survey: Survey) -> Iterator[Finding]:
    """R806: clip nuts."""
    found = screwed_cover(survey)
    if found is None or found.screws.known_nut != "clip nut":
        return
    on_straights = found.screws.straights_only
    status = Status.PASS if on_straights else Status.STOP
    subject = said("clip_nuts.on_straights" if on_straights else "clip_nuts.on_arc", n=len(found.holes))
    advice = () if on_straights else (said("clip_nuts.off_its_seat"), ASK)
    yield stated(status, subject, instruction("sheet_spring_nuts"), *advice, cause="arc")
    yield from _not_entered(found.screws)
    yield from _grip(survey, found.screws)
    yield from _reach(survey, found)
    yield from _width(survey, found)


def _not_entered(screws: Screws) -> Iterator[Finding]:
    """What is not known of the clip nut, so that it cannot be shown to hold."""
    given = {"clip_grip": screws.clip_grip, "clip_reach": screws.clip_reach, "clip_width": screws.clip_width}
    lacking = [field for field, value in given.items() if value is None]
    if lacking:
        what = Listed(tuple(said(f"clip_nuts.{field}") for field in lacking))
        subject, advice = said("clip_nuts.not_entered", what=what), said("clip_nuts.measure", what=what)
        yield stated(
            Status.UNKNOWN, subject, _CLIPS, advice, enter=tuple(f"cover.screws.{field}" for field in lacking)
        )


def _grip(survey: Survey, screws: Screws) -> Iterator[Finding]:
    if not screws.clip_grip:
        return
    low, high = screws.clip_grip
    sheet_in = survey.layout.parts[0].thickness_in
    sheet = Measure("sheet", sheet_in)
    thin = Judgement(sheet, (bound(_CLIPS, low.inch, "least"),))
    thick = Judgement(sheet, (bound(_CLIPS, high.inch, "greatest"),), at_least=False)
    subject = said("clip_nuts.grip", least=inch(low.inch), greatest=inch(high.inch), sheet=inch(sheet_in))
    yield held(thin if thick.status is Status.PASS else thick, subject, ASK, cause="grip")


def _reach(survey: Survey, found: ScrewedCover) -> Iterator[Finding]:
    reach = found.screws.clip_reach
    if reach is None:
        return
    edge = survey.layout.parts[0].edges[0]
    gaps = distances(Profile((edge.loop,)), points_of(found.holes))
    to_edge = -gaps.inward_in
    i = int(np.argmax(np.abs(to_edge - reach.inch)))
    hole, at_in, is_near = found.holes[i], float(to_edge[i]), to_edge[i] < reach.inch
    within = -REACH_WITHIN_IN if is_near else REACH_WITHIN_IN
    asks = "reach - w" if is_near else "reach + w"
    measure = Measure(
        "hole to edge",
        at_in,
        float(edge.u_at(gaps.foot)[i]),
        with_=lengths(reach=reach.inch, w=REACH_WITHIN_IN),
    )
    bounds = (Bound(reach.inch + within, _CLIPS.source, _CLIPS.grade, asks),)
    judged = Judgement(measure, bounds, at_least=bool(is_near))
    subject = said("clip_nuts.reach", reach=inch(reach.inch), screw=numbered(hole), edge=inch(at_in))
    numbers = () if judged.status is Status.PASS else (hole.number,)
    yield held(judged, subject, said("clip_nuts.misses_nut"), ASK, holes=numbers, cause="reach")


def _width(survey: Survey, found: ScrewedCover) -> Iterator[Finding]:
    width = found.screws.clip_width
    if width is None:
        return
    clear_in, hole = _to_corner(survey, found.holes)
    u_in = survey.layout.parts[0].edges[0].uncertainty_in
    measure = Measure("clear straight", clear_in, u_in, with_=lengths(width=width.inch))
    judged = Judgement(measure, (Bound(width.inch / 2.0, _CLIPS.source, _CLIPS.grade, "width / 2"),))
    subject = said(
        "clip_nuts.width",
        width=inch(width.inch),
        screw=numbered(hole),
        clear=inch(clear_in, beside_in=width.inch / 2.0),
    )
    numbers = () if judged.status is Status.PASS else (hole.number,)
    yield held(judged, subject, said("clip_nuts.runs_onto_arc"), ASK, holes=numbers, cause="width")


def _to_corner(survey: Survey, holes: tuple[Hole, ...]) -> tuple[float, Hole]:
    """Least distance along the edge from a screw's foot to the end of its straight side, and that screw."""
    opening = survey.layout.opening
    feet = distances(Profile((opening,)), points_of(holes)).foot
    off = feet[:, None, :] - opening.rows[None, :, :2]
    apart = np.hypot(off[..., 0], off[..., 1]).min(axis=1)
    at = int(np.argmin(apart))
    return float(apart[at]), holes[at]


@rule("R811", Shelf.HOLDS, reads=("cover", "holes", "parts", "skin"))
@judged_by("sheet_spring_nuts")
def clip_nuts_on_stressed(survey: Survey) -> Iterator[Finding]:
    """R811: clip nuts on stressed skin."""
    found = screwed_cover(survey)
    if found and found.screws.known_nut == "clip nut":
        is_stressed = survey.layout.job.skin.stressed
        status = Status.STOP if is_stressed else Status.PASS
        subject = said("clip_nuts.on_stressed" if is_stressed else "clip_nuts.on_unstressed")
        advice = (said("clip_nuts.not_structural"), ASK) if is_stressed else ()
        yield stated(status, subject, instruction("sheet_spring_nuts"), *advice)
