"""R7xx: room in the bay, from the new parts to flanges and to what lies behind."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, Grade, Quantity, Source, Status, Working, judge_at_least
from hatchwright.job.bay import Flange, KeepOut
from hatchwright.layout.gaps import gap_to_region
from hatchwright.layout.layout import Edge, Hole
from hatchwright.layout.survey import Survey
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, shortfall_text, verdict_text
from hatchwright.tables.limits import limit


def _outermost(survey: Survey) -> Edge:
    """The outermost edge of what is put on the skin: the doubler's, else a lapped cover's, else the opening's."""
    layout = survey.layout
    cover = layout.job.cover
    if doubler := layout.part("doubler"):
        return doubler.edges[0]
    if (part := layout.part("cover")) and cover and cover.fit == "lapped":
        return part.edges[0]
    return layout.parts[0].edges[0]


@rule("R701", "Clearance to flanges and to what lies against the skin", "clearance_to_adjacent_structure")
def clearance(survey: Survey) -> Iterator[Finding]:
    """The doubler, or without one a lapped cover or the opening itself, keeps an eighth of an inch from every
    flange and from every keep-out that lies against the skin, on all four sides."""
    least = limit("clearance_to_adjacent_structure")
    bay, edge = survey.layout.job.bay, _outermost(survey)
    regions: list[Flange | KeepOut] = [*bay.flanges]
    regions += [
        keep_out for keep_out in bay.keep_outs if keep_out.depth is None or keep_out.depth.inch == 0.0
    ]
    for region in regions:
        gap_in, place = gap_to_region(edge.loop, region)
        status = judge_at_least(gap_in, least.value, uncertainty=edge.uncertainty_in)
        missing_in = least.value - gap_in
        overlap = "They overlap; " if gap_in < 0 else ""
        yield Finding(
            code="R701",
            status=status,
            subject=f"{edge.name} to {region.name}",
            value=gap_in,
            limit=least.value,
            unit="in",
            source=least.source,
            grade=least.grade,
            working=(
                Working(
                    f"gap >= {least.value:g} in",
                    (Quantity("gap", gap_in, "in"),),
                    Quantity("gap", gap_in, "in"),
                    least.source,
                    least.grade,
                ),
            ),
            advice=""
            if status is Status.PASS
            else f"{overlap}{shortfall_text(missing_in)}{verdict_text(status, edge.uncertainty_in)} Shift or "
            "shrink the parts, take fewer rows, or ask for data that pick up the existing rows.",
            place=place,
            shortfall=max(0.0, missing_in),
            uncertainty=edge.uncertainty_in,
        )
    if not bay.flanges:
        yield Finding(
            code="R701",
            status=Status.UNKNOWN,
            subject="no flange of the bay has been entered",
            value=None,
            limit=least.value,
            unit="in",
            source=least.source,
            grade=least.grade,
            advice="Find the free edges of the flanges round the opening and enter them.",
        )


@rule("R702", "What lies behind the drill and the cutter")
def behind(survey: Survey) -> Iterator[Finding]:
    """Nothing is drilled or cut in front of a line, tube or cable until a drill stop is set: every keep-out with a
    depth that lies behind a hole or behind the opening is named, with its depth."""
    layout = survey.layout
    for keep_out in layout.job.bay.keep_outs:
        if keep_out.depth is None or keep_out.depth.inch == 0.0:
            continue
        holes = _in_front_of(keep_out, layout.holes)
        over_opening = gap_to_region(layout.opening, keep_out)[0] <= 0.0
        if not holes and not over_opening:
            continue
        said = ([holes_named(*holes)] if holes else []) + (["the opening"] if over_opening else [])
        yield Finding(
            code="R702",
            status=Status.CAUTION,
            subject=f"{keep_out.name} lies {keep_out.depth.inch:g} in behind {' and '.join(said)}",
            value=keep_out.depth.inch,
            limit=None,
            unit="in",
            source=Source("PRACTICE", "hidden-hazard survey"),
            grade=Grade.PRACTICE,
            advice=f"Set the drill stop well under {keep_out.depth.inch:g} in, shield it, and keep the starter hole "
            "away.",
            holes=tuple(hole.number for hole in holes),
            place=(holes[0].x_in, holes[0].y_in) if holes else None,
        )


def _in_front_of(region: KeepOut, holes: tuple[Hole, ...]) -> list[Hole]:
    """The holes whose drill could reach the region, a diameter added all round."""
    x_from, y_from, x_to, y_to = region.bounds_in
    return [
        hole
        for hole in holes
        if x_from - hole.diameter_in <= hole.x_in <= x_to + hole.diameter_in
        and y_from - hole.diameter_in <= hole.y_in <= y_to + hole.diameter_in
    ]
