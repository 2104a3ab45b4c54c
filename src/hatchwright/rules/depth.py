"""R705: how far the new parts reach behind the skin, against what lies there; both from the outer face of the skin."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hatchwright.finding import Finding
from hatchwright.job.bay import KeepOut
from hatchwright.judged import Judgement, Measure, Status, bound, lengths
from hatchwright.layout.behind_skin import depth_in, skin_in
from hatchwright.layout.gaps import gap_to, lies_inside
from hatchwright.layout.layout import Hole, HoleKind, Part
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import held, stated
from hatchwright.rules.clearance import holes_before, inside_doubler_in
from hatchwright.rules.rule import judged_by, rule
from hatchwright.rules.wording import some_numbered
from hatchwright.said import Said, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Source

_BEHIND = Cited(0.0, "in", Source("PRACTICE", "parts against what lies behind"), Grade.PRACTICE)


@dataclass(frozen=True, slots=True)
class Standing:
    """A part that stands out behind the skin in front of something.

    Args:
        name: what it is, in the plural or not.
        reach_in: from the outer face of the skin to its end [in].
        holes: those whose heads or nuts are meant.
    """

    name: Said
    reach_in: float
    holes: tuple[Hole, ...] = ()


@rule("R705", Shelf.BEHIND, reads=("bay", "cover", "doubler", "holes", "parts", "skin"), marks_holes=True)
@judged_by(_BEHIND, limits=("shop_head_height_nominal", "clearance_to_adjacent_structure"))
def depth_of_parts(survey: Survey) -> Iterator[Finding]:
    """R705: depth of the parts against what lies behind."""
    for keep_out in survey.layout.job.bay.keep_outs:
        yield from _nuts_unknown(survey, keep_out)
        deepest = max(_in_front(survey, keep_out), key=lambda part: part.reach_in, default=None)
        if deepest is None:
            yield stated(Status.PASS, said("depth.nothing_before", name=keep_out.name), _BEHIND, unit="in")
        else:
            yield _apart(survey, keep_out, deepest)


def _apart(survey: Survey, keep_out: KeepOut, deepest: Standing) -> Finding:
    """What strikes stops, and so does what stands nearer than the room that is kept to structure beside."""
    from_face_in = depth_in(keep_out, survey.layout)
    room = Measure(
        "depth - reach",
        from_face_in - deepest.reach_in,
        with_=lengths(depth=from_face_in, reach=deepest.reach_in),
    )
    clear = Judgement(room, (bound(_BEHIND),), strict=True)
    strikes = clear.status is not Status.PASS
    judged = clear if strikes else Judgement(room, (bound(survey.limit("clearance_to_adjacent_structure")),))
    subject = said(
        "depth.apart",
        name=keep_out.name,
        depth=inch(from_face_in, beside_in=deepest.reach_in),
        part=deepest.name,
        reach=inch(deepest.reach_in, beside_in=from_face_in),
    )
    advice = said("depth.strikes" if strikes else "depth.too_near")
    numbers = () if judged.status is Status.PASS else tuple(hole.number for hole in deepest.holes)
    return held(judged, subject, advice, holes=numbers, cause=keep_out.name)


def _in_front(survey: Survey, keep_out: KeepOut) -> Iterator[Standing]:
    """All that stands behind the skin in front of a keep-out."""
    job, doubler, skin = survey.layout.job, survey.layout.part("doubler"), skin_in(survey.layout)
    inside = doubler if job.doubler and job.doubler.face == "inside" else None
    if inside and _covers(inside, keep_out):
        yield Standing(said("part.doubler"), skin + inside.thickness_in)
    rivets = _beside(survey, keep_out, "rivet")
    if rivets:
        height_in = survey.limit("shop_head_height_nominal").value * max(hole.diameter_in for hole in rivets)
        heads = said("depth.shop_heads", of=some_numbered(*rivets), n=len(rivets))
        yield Standing(heads, skin + inside_doubler_in(survey, rivets) + height_in, rivets)
    screws = _beside(survey, keep_out, "screw")
    nut = job.cover.screws.nut_height if job.cover and job.cover.screws else None
    if screws and nut:
        nuts = said("depth.nuts", of=some_numbered(*screws), n=len(screws))
        yield Standing(nuts, skin + inside_doubler_in(survey, screws) + nut.inch, screws)


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
    return tuple(hole for hole in holes_before(survey, keep_out) if hole.kind == kind)
