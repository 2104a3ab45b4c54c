"""R701, R702: room in the bay, from the new parts to flanges and to what lies behind."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.job.bay import Flange, KeepOut
from hatchwright.judged import FLOAT_NOISE, Judgement, Measure, Status, bound
from hatchwright.layout.base_screws import base_screw_holes
from hatchwright.layout.behind_skin import (
    BEFORE_IN,
    boxes_of,
    depth_in,
    holes_before,
    kept_clear,
    lies_on_skin,
)
from hatchwright.layout.gaps import gap_to, within
from hatchwright.layout.layout import Edge, Hole
from hatchwright.layout.survey import Survey
from hatchwright.recipe.stops import Before, before, drilled_to_in, moving_advice, moving_entries
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, held_as, stated
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import edge_named, some_numbered
from hatchwright.said import Listed, Said, Value, inch, missing, room, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

FLANGE_IN = 1.0
"""A flange seldom reaches farther from the rivets that hold it; common practice, no source [in]."""

_FLANGE = Cited(FLANGE_IN, "in", Source("PRACTICE", "flanges round their rivets"), Grade.PRACTICE)
_BEHIND = Cited(0.0, "in", Source("PRACTICE", "hidden-hazard survey"), Grade.PRACTICE)
_DRILL = Cited(BEFORE_IN, "in", Source("PRACTICE", "drill stop"), Grade.PRACTICE)


def outermost_edge(survey: Survey) -> Edge:
    """The outermost edge put on the skin: the doubler's outer one, else a lapped cover's, else the opening's."""
    layout = survey.layout
    cover = layout.job.cover
    if doubler := layout.part("doubler"):
        return doubler.edges[0]
    if (part := layout.part("cover")) and cover and cover.fit == "lapped":
        return part.edges[0]
    return layout.parts[0].edges[0]


@rule("R701", Shelf.HOLDS, reads=("bay", "cover", "parts", "patch", "skin"), marks_holes=True, cause="room")
@judged_by(_FLANGE, limits=("clearance_to_adjacent_structure",))
@mended_by(Change.DOUBLER_SIZE, Change.COVER_SIZE, Change.OPENING_SIZE)
def clearance(survey: Survey) -> Iterator[Finding]:
    """R701: clearance to flanges and to what lies against the skin."""
    least = survey.limit("clearance_to_adjacent_structure")
    bay, edge = survey.layout.job.bay, outermost_edge(survey)
    regions: list[Flange | KeepOut] = [*bay.flanges]
    regions += [keep_out for keep_out in bay.keep_outs if lies_on_skin(keep_out, survey.layout)]
    split = survey.layout.job.patch.split if survey.layout.job.patch else None
    for region in regions:
        gap_in, place = gap_to(edge.loop, region)
        if split and isinstance(region, Flange) and gap_in < 0.0:
            gap_in = max(gap_in, within(region, split.axis, split.sides_in))
        gap = Measure("gap", gap_in, edge.u_near(place))
        if isinstance(region, KeepOut):
            judged = kept_clear(region, gap, bound(least))
        else:
            judged = Judgement(gap, (bound(least),))
        overlap = (said("clearance.overlap", by=missing(-gap_in)),) if gap_in < 0 else ()
        subject = said("clearance.gap", edge=edge_named(edge), name=region.name)
        yield held(judged, subject, *overlap, ASK, place=place, cause=region.name)
    sides = _sides_without_flange(survey, edge)
    if sides or not bay.flanges:
        cited = _FLANGE if bay.flanges else least
        yield stated(
            Status.UNKNOWN,
            said("clearance.no_flange_on", n=len(sides), sides=Listed(tuple(sides)))
            if bay.flanges
            else said("clearance.no_flange"),
            cited,
            said("clearance.find_flanges"),
            limit=None if bay.flanges else least.value,
            unit="in",
            enter=("bay.flanges",),
        )


def _sides_without_flange(survey: Survey, edge: Edge) -> list[str]:
    """Sides of the opening that no flange closes, nor a landmark row so far off that its flange cannot matter."""
    (x_in, y_in), bay = survey.layout.center_in, survey.layout.job.bay
    closed = set()
    for flange in bay.flanges:
        x_from, y_from, x_to, y_to = flange.bounds_in
        beyond = {"X-": x_to <= x_in, "X+": x_from >= x_in, "Y-": y_to <= y_in, "Y+": y_from >= y_in}
        closed |= {side for side, lies_there in beyond.items() if lies_there}
    for row in bay.rows:
        if gap_to(edge.loop, row)[0] >= FLANGE_IN - FLOAT_NOISE:
            closed.add(f"{'XY'[row.axis]}{'+' if row.at_in > (x_in, y_in)[row.axis] else '-'}")
    return [side for side in ("X-", "X+", "Y-", "Y+") if side not in closed]


@rule(
    "R702",
    Shelf.BEHIND,
    reads=("bay", "doubler", "holes", "mount", "opening", "parts", "skin"),
    marks_holes=True,
    step="drill",
)
@judged_by(_BEHIND, _DRILL)
def behind(survey: Survey) -> Iterator[Finding]:
    """R702: what lies behind the drill and the cutter; what lies against the skin is judged by R701."""
    layout = survey.layout
    bay = layout.job.bay
    if not bay.keep_outs and bay.nothing_near is not None:
        if bay.nothing_near:
            yield stated(Status.PASS, said("behind.looked"), _BEHIND)
        else:
            what, do = said("behind.not_entered"), said("behind.enter")
            yield stated(Status.UNKNOWN, what, _BEHIND, do, enter=("bay.keep_outs",))
    for keep_out in bay.keep_outs:
        if lies_on_skin(keep_out, layout):
            continue
        holes = holes_before(keep_out, layout.holes)
        of_base = holes_before(keep_out, base_screw_holes(layout))
        over_opening = gap_to(layout.opening, keep_out)[0] <= 0.0
        if holes or of_base or over_opening:
            yield _drilled_before(survey, keep_out, holes, of_base, over_opening=over_opening)
        else:
            yield stated(
                Status.PASS,
                said("behind.nothing_before", name=keep_out.name),
                _BEHIND,
                value=depth_in(keep_out, layout),
                unit="in",
            )


def _drilled_before(
    survey: Survey,
    keep_out: KeepOut,
    holes: tuple[Hole, ...],
    of_base: tuple[Hole, ...],
    *,
    over_opening: bool,
) -> Finding:
    """A drill on its stop leaves what is kept from what lies behind, or stops; the setting is told."""
    layout = survey.layout
    drilled = (*holes, *of_base)
    within = (*boxes_of(keep_out, drilled), *((layout.opening.bounds,) if over_opening else ()))
    reach_in = drilled_to_in(layout, {name for hole in drilled for name in hole.stack})
    one = before(layout, keep_out, within, reach_in)
    assert one.judged is not None  # a drill's reach is known
    named: tuple[Value, ...] = (some_numbered(*holes),) if holes else ()
    named += (said("behind.base_screws"),) if of_base else ()
    named += (said("behind.opening"),) if over_opening else ()
    passes = one.judged.status is Status.PASS
    subject = said(
        "behind.depth" if passes else "behind.in_reach",
        name=keep_out.name,
        depth=inch(one.depth_in),
        before=Listed(named),
    )
    place, numbers = drilled[0].place if drilled else None, tuple(hole.number for hole in holes)
    if passes:
        advice = said("behind.set_stop", stop=inch(reach_in), most=room(one.most_in))
        return held_as(
            one.judged, Status.PASS, subject, advice, holes=numbers, place=place, cause=keep_out.name
        )
    return held(
        one.judged,
        subject,
        *_too_near(one, reach_in),
        holes=numbers,
        place=place,
        cause=keep_out.name,
        enter=moving_entries(one),
    )


def _too_near(one: Before, reach_in: float) -> Iterator[Said]:
    if one.status is Status.UNKNOWN:
        yield moving_advice(one)
    else:
        strikes = one.depth_in <= reach_in + FLOAT_NOISE
        yield (
            said("behind.drill_strikes", reach=inch(reach_in))
            if strikes
            else said("behind.too_near", left=room(one.depth_in - reach_in), needed=inch(one.kept_in))
        )
        yield said("behind.move_it")
