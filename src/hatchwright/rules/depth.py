"""R705: how far the new parts reach behind the skin, against what lies there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hatchwright.finding import Finding
from hatchwright.job.bay import KeepOut
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least
from hatchwright.layout.gaps import gap_to_region, gaps_to_points, lies_inside
from hatchwright.layout.layout import Hole, HoleKind, Part
from hatchwright.layout.survey import Survey, points_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, inch, short_text
from hatchwright.tables.cited import Cited
from hatchwright.units import Length
from hatchwright.workings import Grade, Quantity, Source

_BEHIND = Cited(0.0, "in", Source("PRACTICE", "parts against what lies behind"), Grade.PRACTICE)
_NAMED_HOLES = 3


@dataclass(frozen=True, slots=True)
class Standing:
    """A part that stands out behind the skin in front of something.

    Args:
        name: in the trade's words.
        reach_in: how far behind the skin it ends [in].
        holes: those whose heads or nuts are meant.
    """

    name: str
    reach_in: float
    holes: tuple[Hole, ...] = ()


@rule(
    "R705",
    Shelf.BEHIND,
    limits=("shop_head_height_nominal", "clearance_to_adjacent_structure"),
    rests_on=(_BEHIND,),
    reads=("bay", "cover", "doubler", "holes", "parts"),
    marks_holes=True,
)
def depth_of_parts(survey: Survey) -> Iterator[Finding]:
    """R705: depth of the parts against what lies behind."""
    least = survey.limit("clearance_to_adjacent_structure")
    for keep_out in survey.layout.job.bay.keep_outs:
        yield from _nuts_unknown(survey, keep_out)
        depth_in, depth = (keep_out.depth.inch, keep_out.depth.text) if keep_out.depth else (0.0, "0")
        deepest = max(_in_front(survey, keep_out), key=lambda part: part.reach_in, default=None)
        if deepest is None:
            yield against(
                "R705",
                Status.PASS,
                f"no doubler, rivet or nut of known height stands in front of {keep_out.name}",
                value=None,
                limit=None,
                unit="in",
                cited=_BEHIND,
            )
            continue
        margin_in = depth_in - deepest.reach_in
        strikes = margin_in <= FLOAT_NOISE
        status = Status.STOP if strikes else judge_at_least(margin_in, least.value, short=Status.CAUTION)
        fits = status is Status.PASS
        yield against(
            "R705",
            status,
            f"{keep_out.name}, {depth} deep: {deepest.name} in front of it "
            f"{'reaches' if len(deepest.holes) == 0 else 'reach'} {inch(deepest.reach_in)} in behind the skin",
            value=margin_in,
            limit=0.0 if strikes else least.value,
            unit="in",
            cited=_BEHIND if strikes else least,
            formula="margin = depth - reach",
            values=(Quantity("depth", depth_in, "in"), Quantity("reach", deepest.reach_in, "in")),
            advice=""
            if fits
            else "It strikes what nothing may touch: move or shield it first, or shift the parts."
            if strikes
            else f"{short_text(least.value - margin_in)} See that nothing moves or chafes there, or shield it.",
            holes=() if fits else tuple(hole.number for hole in deepest.holes),
            shortfall=(0.0 if strikes else least.value) - margin_in,
        )


def _in_front(survey: Survey, keep_out: KeepOut) -> Iterator[Standing]:
    """All that stands behind the skin in front of a keep-out."""
    job, doubler = survey.layout.job, survey.layout.part("doubler")
    inside = doubler if job.doubler and job.doubler.face == "inside" else None
    if inside and _covers(inside, keep_out):
        yield Standing("the doubler", inside.thickness_in)
    head_ratio = survey.limit("shop_head_height_nominal").value
    rivets = _beside(survey, keep_out, "rivet")
    if rivets:
        height_in = head_ratio * max(hole.diameter_in for hole in rivets)
        yield Standing(_named("shop heads of", rivets), _stack_in(rivets, inside) + height_in, rivets)
    screws, nut = _beside(survey, keep_out, "screw"), _nut_height(survey)
    if screws and nut:
        yield Standing(_named("nuts of", screws), _stack_in(screws, inside) + nut.inch, screws)


def _nut_height(survey: Survey) -> Length | None:
    cover = survey.layout.job.cover
    return cover.screws.nut_height if cover and cover.screws else None


def _nuts_unknown(survey: Survey, keep_out: KeepOut) -> Iterator[Finding]:
    """Nuts in front of a keep-out of which nothing tells how far they reach; a screw's length would, by R803."""
    cover, screws = survey.layout.job.cover, _beside(survey, keep_out, "screw")
    if screws and cover and cover.screws and not (cover.screws.nut_height or cover.screws.length):
        yield against(
            "R705",
            Status.UNKNOWN,
            f"how far the {_named('nuts of', screws)} reach in front of {keep_out.name} is not known",
            value=None,
            limit=None,
            unit="in",
            cited=_BEHIND,
            advice="Enter nut_height and the length of the screws.",
            holes=tuple(hole.number for hole in screws),
        )


def _covers(doubler: Part, keep_out: KeepOut) -> bool:
    """Whether the ring of the doubler lies over any of a keep-out."""
    outer, inner = doubler.edges
    return gap_to_region(outer.loop, keep_out)[0] <= outer.uncertainty_in and not lies_inside(
        keep_out, inner.loop
    )


def _beside(survey: Survey, keep_out: KeepOut, kind: HoleKind) -> tuple[Hole, ...]:
    """The fasteners within a diameter of a keep-out."""
    holes = survey.layout.holes_of(kind)
    beside = gaps_to_points(keep_out, points_of(holes)).tolist()
    return tuple(
        hole
        for hole, off_in in zip(holes, beside, strict=True)
        if off_in <= hole.diameter_in + hole.uncertainty_in
    )


def _stack_in(holes: tuple[Hole, ...], inside: Part | None) -> float:
    """Thickness of what lies behind the skin under a head or nut [in]."""
    return inside.thickness_in if inside and any("doubler" in hole.stack for hole in holes) else 0.0


def _named(what: str, holes: tuple[Hole, ...]) -> str:
    return f"{what} {holes_named(*holes) if len(holes) <= _NAMED_HOLES else f'{len(holes)} {holes[0].kind}s'}"
