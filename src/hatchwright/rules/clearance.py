"""R701, R702: room in the bay, from the new parts to flanges and to what lies behind."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.job.bay import Flange, KeepOut
from hatchwright.judged import FLOAT_NOISE, Bound, Judgement, Measure, Status, bound, lengths
from hatchwright.layout.behind_skin import BEFORE_IN, THROUGH_IN, lies_on_skin, skin_in
from hatchwright.layout.gaps import gap_to, gaps_to_points, within
from hatchwright.layout.layout import Edge, Hole
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, held_as, stated
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.wording import edge_named, some_numbered
from hatchwright.said import Listed, Value, inch, missing, room, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivet_part import LARGEST_RIVET_IN
from hatchwright.workings import Grade, Source

FLANGE_IN = 1.0
"""A flange seldom reaches farther from the rivets that hold it; common practice, no source [in]."""

_FLANGE = Cited(FLANGE_IN, "in", Source("PRACTICE", "flanges round their rivets"), Grade.PRACTICE)
_BEHIND = Cited(0.0, "in", Source("PRACTICE", "hidden-hazard survey"), Grade.PRACTICE)
_DRILL = Cited(THROUGH_IN + BEFORE_IN, "in", Source("PRACTICE", "drill stop"), Grade.PRACTICE)


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
        if split and gap_in < 0.0:
            gap_in = max(gap_in, within(region, split.axis, split.sides_in))
        judged = Judgement(Measure("gap", gap_in, edge.uncertainty_in), (bound(least),))
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
    reads=("bay", "doubler", "holes", "opening", "parts", "skin"),
    marks_holes=True,
    step="drill",
)
@judged_by(_BEHIND, _DRILL)
def behind(survey: Survey) -> Iterator[Finding]:
    """R702: what lies behind the drill and the cutter; what lies against the skin is judged by R701."""
    layout = survey.layout
    for keep_out in layout.job.bay.keep_outs:
        if lies_on_skin(keep_out, layout):
            continue
        holes = holes_before(survey, keep_out)
        over_opening = gap_to(layout.opening, keep_out)[0] <= 0.0
        if holes or over_opening:
            yield _drilled_before(survey, keep_out, holes, over_opening=over_opening)
        else:
            yield stated(
                Status.PASS,
                said("behind.nothing_before", name=keep_out.name),
                _BEHIND,
                value=keep_out.depth.inch if keep_out.depth else None,
                unit="in",
            )


def holes_before(survey: Survey, keep_out: KeepOut) -> tuple[Hole, ...]:
    """The holes within a diameter of something behind the skin, as near as they may lie.

    A hole whose fastener no table lists counts as the largest rivet: a size not known hides nothing behind it.
    """
    holes = survey.layout.holes
    beside = gaps_to_points(keep_out, survey.points).tolist()
    return tuple(
        hole
        for hole, off_in in zip(holes, beside, strict=True)
        if off_in <= (hole.nominal_in or LARGEST_RIVET_IN) + hole.uncertainty_in
    )


def inside_doubler_in(survey: Survey, holes: tuple[Hole, ...]) -> float:
    """Thickness of the doubler behind the skin that any of the holes goes through, 0 for none [in]."""
    job, doubler = survey.layout.job, survey.layout.part("doubler")
    inside = doubler is not None and job.doubler is not None and job.doubler.face == "inside"
    through = any("doubler" in hole.stack for hole in holes)
    return doubler.thickness_in if doubler and inside and through else 0.0


def _drilled_before(
    survey: Survey, keep_out: KeepOut, holes: tuple[Hole, ...], *, over_opening: bool
) -> Finding:
    """What a drill on its stop may reach stops; what lies deeper is a matter of setting the stop."""
    assert keep_out.depth is not None  # else it lies on the skin
    doubler_in = inside_doubler_in(survey, holes)
    sheets_in = skin_in(survey.layout) + doubler_in
    judged = Judgement(
        Measure(
            "depth",
            keep_out.depth.inch,
            with_=lengths(
                skin=skin_in(survey.layout), doubler=doubler_in, point_through=THROUGH_IN, kept_free=BEFORE_IN
            ),
        ),
        (
            Bound(
                sheets_in + _DRILL.value,
                _DRILL.source,
                _DRILL.grade,
                "skin + doubler + point through + kept free",
            ),
        ),
    )
    before: tuple[Value, ...] = (some_numbered(*holes),) if holes else ()
    before += (said("behind.opening"),) if over_opening else ()
    names: dict[str, Value] = {
        "name": keep_out.name,
        "depth": inch(keep_out.depth.inch),
        "before": Listed(before),
    }
    numbers = tuple(hole.number for hole in holes)
    place = holes[0].place if holes else None
    stop_in, depth_in = sheets_in + THROUGH_IN, keep_out.depth.inch
    if judged.status is not Status.PASS:
        subject = said("behind.in_reach", **names)
        advice = (
            said("behind.drill_strikes", reach=inch(stop_in))
            if depth_in <= stop_in + FLOAT_NOISE
            else said("behind.too_near", left=room(depth_in - stop_in), needed=inch(BEFORE_IN))
        )
        return held(
            judged, subject, advice, said("behind.move_it"), holes=numbers, place=place, cause=keep_out.name
        )
    subject = said("behind.depth", **names)
    advice = said("behind.set_stop", stop=inch(stop_in), most=room(depth_in - BEFORE_IN))
    return held_as(judged, Status.CAUTION, subject, advice, holes=numbers, place=place, cause=keep_out.name)
