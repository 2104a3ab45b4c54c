"""T6xx: starter hole and corner holes: clear of the line and of what lies behind, and the stop of the drill."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from hatchwright.finding import Finding, held, held_as, stated
from hatchwright.ground import practice
from hatchwright.job.bay import KeepOut
from hatchwright.judged import Judgement, Measure, Status, bound
from hatchwright.layout.behind_skin import THROUGH_IN, depth_in
from hatchwright.layout.layout import Layout
from hatchwright.layout.named import kind_named
from hatchwright.making.cutter.starter import (
    DrilledHole,
    best_starter,
    chosen_starter,
    corner_holes,
    largest_starter_in,
    starter_diameter_in,
    starter_hole,
)
from hatchwright.making.cutter.starter_stops import (
    STEP_DRILL_ENTRY,
    boxes_before,
    needs_step_drill,
    pilot_stop,
    step_drill_reach_in,
)
from hatchwright.making.making import Cutting, cutting_of
from hatchwright.recipe.stops import before, drilled_to_in, moving_advice, moving_entries
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Listed, Place, Said, Value, inch, missing, room, said

_THEORY = "docs/theory/starter.md"
_BEHIND = practice(f"drilling in front of something; {_THEORY}")
_READS = ("bay", "cutter", "wanted")

_LIMITS = ("starter_from_cut_min",)
T601 = enter(Entry("T601", Shelf.BEHIND, step="starter", reads=_READS, limits=_LIMITS, theory=_THEORY))
T602 = enter(Entry("T602", Shelf.BEHIND, step="starter", reads=(*_READS, "skin"), theory=_THEORY))
T603 = enter(Entry("T603", Shelf.BEHIND, step="starter", reads=(*_READS, "skin"), theory=_THEORY))

_SAME_IN = 1e-9


def starter_findings(cutting: Cutting) -> tuple[Finding, ...]:
    """Judge the starter hole and the corner holes of a job."""
    return (*_starter(cutting), _stop(cutting), *_corners(cutting))


def _starter(cutting: Cutting) -> Iterator[Finding]:
    """T601: the starter hole lies in the waste, clear of the rough line, of everything behind, and of a plug."""
    layout, least = cutting.layout, cutting.layout.limit("starter_from_cut_min")
    best = best_starter(cutting)
    hole = chosen_starter(cutting) or starter_hole(cutting, layout.center_in)
    wrong = tuple(_wrong(layout, hole, least.value))
    if best is not None and best.to_line_in < least.value - _SAME_IN and hole.center == best.center:
        status, advice = Status.CAUTION, _in_cut(hole, least.value)
    elif wrong:
        status, advice = Status.STOP, (*wrong, *_remedy(cutting, best, least.value))
    else:
        status, advice = Status.PASS, ()
    judged = Judgement(Measure("to the line", hole.to_line_in), (bound(least),))
    subject = said("T601.subject", diameter=inch(hole.diameter_in), place=Place(*hole.center))
    place = None if status is Status.PASS else hole.center
    yield held_as("T601", judged, status, subject, *advice, place=place)
    cutter = cutting.cutter
    if cutter.starter is None and cutter.what.starter:
        what = said("T601.not_measured", tool=kind_named(cutter.kind))
        do = said("T601.measure", cut=inch(cutter.cut_width.inch))
        yield stated("T601", Status.CAUTION, what, least, do, enter=("cutter.starter",))


def _wrong(layout: Layout, hole: DrilledHole, least_in: float) -> Iterator[Said]:
    for one in hole.over:
        depth = inch(depth_in(one, layout, boxes_before(one, (hole,))))
        yield said("T601.over", name=one.name, depth=depth)
    if hole.guide_clear_in is not None and hole.guide_clear_in < -_SAME_IN:
        yield said("T601.guide_on_plug", by=missing(-hole.guide_clear_in))
    if hole.to_line_in < -hole.diameter_in + _SAME_IN:
        yield said("T601.outside")
    elif hole.to_line_in < -_SAME_IN:
        yield said("T601.beyond", by=missing(-hole.to_line_in))
    elif hole.to_line_in < least_in - _SAME_IN:
        yield said("T601.near", by=room(hole.to_line_in))


def _remedy(cutting: Cutting, best: DrilledHole | None, least_in: float) -> Iterator[Said]:
    """Where the hole does no harm, else every way out."""
    if best is not None:
        yield said("T601.move", place=Place(*best.center))
        if best.to_line_in < least_in - _SAME_IN:
            yield from _in_cut(best, least_in)
        return
    if cutting.chain is not None and cutting.chain.guide.kind == "male":
        yield from _beside_plug(cutting, cutting.chain.guide.cut_in, least_in)
        return
    most_in, cut_in = largest_starter_in(cutting), cutting.cutter.cut_width.inch
    if most_in >= cut_in:
        yield said("T601.smaller", most=room(most_in))
    else:
        yield said("T601.other_cutter", cut=inch(cut_in))
    if cutting.layout.job.bay.keep_outs:
        yield said("T601.shield")


def _beside_plug(cutting: Cutting, cut_in: float, least_in: float) -> Iterator[Said]:
    """Why no hole of this size lies beside a plug, and what would do."""
    inside_in = starter_diameter_in(cutting.cutter) / 2.0 + least_in
    yield said("T601.beside_plug", clear=room(cut_in / 2.0), inside=missing(inside_in))
    without_template = cutting_of(cutting.layout)
    free = best_starter(without_template) if without_template else None
    if free is not None:
        yield said("T601.window", place=Place(*free.center))
    yield said("T601.cut_wide", cut=inch(cut_in))


def _in_cut(hole: DrilledHole, least_in: float) -> tuple[Said, ...]:
    """How a hole is drilled that lies wholly in what the cut takes away."""
    return (said("T601.in_cut", least=inch(least_in), place=Place(*hole.center)), said("T601.in_cut.do"))


def _stop(cutting: Cutting) -> Finding:
    """T602: the drill's stop lets it through the skin and keeps it from what lies behind the waste."""
    stop = pilot_stop(cutting.layout)
    reach_in, one = stop.reach_in, stop.before
    assert reach_in is not None  # a drill's reach is known
    told = (
        _BEHIND.lengths(
            "stop = skin + through", stop=reach_in, skin=reach_in - THROUGH_IN, through=THROUGH_IN
        ),
    )
    if one is None or one.judged is None:
        return stated(
            "T602", Status.PASS, said("T602.subject"), _BEHIND, value=reach_in, unit="in", working=told
        )
    judged = replace(one.judged, more=(*one.judged.more, *told))
    names: dict[str, Value] = {
        "name": one.keep_out.name,
        "stop": inch(reach_in),
        "depth": inch(one.depth_in),
    }
    if judged.status is Status.PASS:
        return held("T602", judged, said("T602.before", **names, most=room(one.most_in)))
    subject, moves = said("T602.too_deep", **names), judged.status is Status.UNKNOWN
    advice = moving_advice(one) if moves else said("T602.do")
    return held("T602", judged, subject, advice, enter=moving_entries(one))


def _corners(cutting: Cutting) -> Iterator[Finding]:
    """T603: what lies behind corner holes, before the drill's point and before a step drill, which comes through."""
    over: dict[KeepOut, list[DrilledHole]] = {}
    for hole in corner_holes(cutting):
        for one in hole.over:
            over.setdefault(one, []).append(hole)
    for keep_out, holes in over.items():
        yield _before_corners(cutting, keep_out, holes)


def _before_corners(cutting: Cutting, keep_out: KeepOut, holes: list[DrilledHole]) -> Finding:
    layout, boxes = cutting.layout, boxes_before(keep_out, holes)
    marks = Listed(tuple(hole.mark for hole in holes))
    subject, place = said("T603.subject", name=keep_out.name, n=len(holes), holes=marks), holes[0].center
    one = before(layout, keep_out, boxes, drilled_to_in(layout, ("skin",)))
    if one.status is Status.PASS and any(map(needs_step_drill, holes)):
        one = before(layout, keep_out, boxes, step_drill_reach_in(cutting))
    if one.judged is None:
        measure = said("T603.step_drill", depth=inch(one.depth_in))
        return stated(
            "T603",
            Status.UNKNOWN,
            subject,
            _BEHIND,
            measure,
            place=place,
            enter=(STEP_DRILL_ENTRY,),
            limit=one.depth_in,
            unit="in",
        )
    if one.status is Status.PASS:
        most = room(one.most_in)
        clear = said("T603.clear", name=keep_out.name, n=len(holes), holes=marks, most=most)
        return held("T603", one.judged, clear, place=place)
    moves = one.status is Status.UNKNOWN
    advice = (
        moving_advice(one)
        if moves
        else said("T603.too_near", depth=inch(one.depth_in), kept=inch(one.kept_in))
    )
    return held("T603", one.judged, subject, advice, place=place, enter=moving_entries(one))
