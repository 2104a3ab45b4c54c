"""R705: how far the new parts reach behind the skin, against what lies there; both from the outer face of the skin."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.job.bay import KeepOut
from hatchwright.judged import Judgement, Status, bound
from hatchwright.layout.behind_skin import behind_sheets_in, boxes_of, holes_before
from hatchwright.layout.gaps import Bounds, gap_to, lies_inside
from hatchwright.layout.layout import Hole, HoleKind, Layout, Part
from hatchwright.layout.survey import Survey
from hatchwright.recipe.stops import Before, before, moving_advice, moving_entries, part_kept
from hatchwright.register import Shelf
from hatchwright.rules.answer import held, stated
from hatchwright.rules.rule import judged_by, rule
from hatchwright.rules.wording import some_numbered
from hatchwright.said import Said, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

_BEHIND = Cited(0.0, "in", Source("PRACTICE", "parts against what lies behind"), Grade.PRACTICE)


class Standing(Struct, frozen=True):
    """A part that stands out behind the skin in front of something.

    Args:
        name: what it is, in the plural or not.
        reach_in: from the outer face of the skin to its end [in].
        within: boxes that it lies in [in].
        holes: those whose heads or nuts are meant.
    """

    name: Said
    reach_in: float
    within: tuple[Bounds, ...]
    holes: tuple[Hole, ...] = ()


@rule("R705", Shelf.BEHIND, reads=("bay", "cover", "doubler", "holes", "parts", "skin"), marks_holes=True)
@judged_by(_BEHIND, limits=("shop_head_height_nominal", "clearance_to_adjacent_structure"))
def depth_of_parts(survey: Survey) -> Iterator[Finding]:
    """R705: depth of the parts against what lies behind."""
    for keep_out in survey.layout.job.bay.keep_outs:
        yield from _nuts_unknown(survey, keep_out)
        least = part_kept(survey.layout)
        found = [
            (part, before(survey.layout, keep_out, part.within, part.reach_in, least))
            for part in _in_front(survey, keep_out)
        ]
        if found:
            yield _apart(*min(found, key=lambda each: each[1].depth_in - each[0].reach_in))
        else:
            yield stated(Status.PASS, said("depth.nothing_before", name=keep_out.name), _BEHIND, unit="in")


def _apart(part: Standing, one: Before) -> Finding:
    """What strikes stops, and so does what stands nearer than the room that is kept to structure beside."""
    assert one.judged is not None  # its reach is known
    touches = Judgement(one.judged.measure, (bound(_BEHIND),), strict=True)
    strikes = touches.status is not Status.PASS
    judged = touches if strikes else one.judged
    subject = said(
        "depth.apart",
        name=one.keep_out.name,
        depth=inch(one.depth_in, beside_in=part.reach_in),
        part=part.name,
        reach=inch(part.reach_in, beside_in=one.depth_in),
    )
    moves = not strikes and one.status is Status.UNKNOWN
    advice = moving_advice(one) if moves else said("depth.strikes" if strikes else "depth.too_near")
    numbers = () if judged.status is Status.PASS else tuple(hole.number for hole in part.holes)
    enter = moving_entries(one) if moves else ()
    return held(judged, subject, advice, holes=numbers, cause=one.keep_out.name, enter=enter)


def _in_front(survey: Survey, keep_out: KeepOut) -> Iterator[Standing]:
    """All that stands behind the skin in front of a keep-out."""
    layout = survey.layout
    job, doubler = layout.job, layout.part("doubler")
    inside = doubler if job.doubler and job.doubler.face == "inside" else None
    if inside and _covers(inside, keep_out):
        reach_in = behind_sheets_in(layout, ("doubler",))
        yield Standing(said("part.doubler"), reach_in, (inside.edges[0].loop.bounds,))
    rivets = _beside(survey, keep_out, "rivet")
    if rivets:
        height_in = survey.limit("shop_head_height_nominal").value * max(hole.diameter_in for hole in rivets)
        heads = said("depth.shop_heads", of=some_numbered(*rivets), n=len(rivets))
        yield _standing(layout, keep_out, heads, height_in, rivets)
    screws = _beside(survey, keep_out, "screw")
    entered = job.cover.screws if job.cover else None
    nut, strap = (entered.nut_height, entered.strap) if entered else (None, None)
    if screws and nut:
        height_in = nut.inch + (strap.thickness.inch if strap else 0.0)
        nuts = said("depth.nuts", of=some_numbered(*screws), n=len(screws))
        yield _standing(layout, keep_out, nuts, height_in, screws)


def _standing(
    layout: Layout, keep_out: KeepOut, name: Said, height_in: float, holes: tuple[Hole, ...]
) -> Standing:
    """Heads or nuts of some holes, so high on the back of the last sheet that any of them goes through [in]."""
    behind_in = behind_sheets_in(layout, {part for hole in holes for part in hole.stack})
    return Standing(name, behind_in + height_in, boxes_of(keep_out, holes), holes)


def _nuts_unknown(survey: Survey, keep_out: KeepOut) -> Iterator[Finding]:
    """Nuts in front of a keep-out of which nothing tells how far they reach; a screw's length would, by R803."""
    cover, screws = survey.layout.job.cover, _beside(survey, keep_out, "screw")
    if screws and cover and cover.screws and not (cover.screws.nut_height or cover.screws.length):
        yield stated(
            Status.UNKNOWN,
            said(
                "depth.nuts_not_known",
                nuts=said("depth.nuts", of=some_numbered(*screws), n=len(screws)),
                name=keep_out.name,
            ),
            _BEHIND,
            said("depth.measure_nut"),
            unit="in",
            holes=tuple(hole.number for hole in screws),
            cause=keep_out.name,
            enter=("cover.screws.nut_height", "cover.screws.length"),
        )


def _covers(doubler: Part, keep_out: KeepOut) -> bool:
    """Whether the metal of the doubler lies over any of a keep-out."""
    outer, *holes = doubler.edges
    beside = any(lies_inside(keep_out, hole.loop) for hole in holes)
    return gap_to(outer.loop, keep_out)[0] <= outer.uncertainty_in and not beside


def _beside(survey: Survey, keep_out: KeepOut, kind: HoleKind) -> tuple[Hole, ...]:
    """The fasteners of one kind within a diameter of a keep-out."""
    return tuple(hole for hole in holes_before(keep_out, survey.layout.holes) if hole.kind == kind)
