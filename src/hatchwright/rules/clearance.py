"""R701, R702: room in the bay, from the new parts to flanges and to what lies behind."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.job.bay import Flange, KeepOut
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least
from hatchwright.layout.gaps import gap_to_region, gap_to_row, gaps_to_points
from hatchwright.layout.layout import Edge
from hatchwright.layout.survey import Survey, points_of
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, inch, short_text
from hatchwright.tables.cited import Cited
from hatchwright.workings import Grade, Quantity, Source

FLANGE_IN = 1.0
"""A flange seldom reaches farther from the rivets that hold it; common practice, no source [in]."""

_FLANGE = Cited(FLANGE_IN, "in", Source("PRACTICE", "flanges round their rivets"), Grade.PRACTICE)
_BEHIND = Cited(0.0, "in", Source("PRACTICE", "hidden-hazard survey"), Grade.PRACTICE)
_NAMED_HOLES = 3


def outermost_edge(survey: Survey) -> Edge:
    """The outermost edge of what is put on the skin.

    Returns:
        Edge: the doubler's outer one, else a lapped cover's, else the opening's.
    """
    layout = survey.layout
    cover = layout.job.cover
    if doubler := layout.part("doubler"):
        return doubler.edges[0]
    if (part := layout.part("cover")) and cover and cover.fit == "lapped":
        return part.edges[0]
    return layout.parts[0].edges[0]


@rule(
    "R701",
    Shelf.HOLDS,
    limits=("clearance_to_adjacent_structure",),
    rests_on=(_FLANGE,),
    reads=("bay", "cover", "parts"),
    marks_holes=True,
    cause="room",
)
def clearance(survey: Survey) -> Iterator[Finding]:
    """R701: clearance to flanges and to what lies against the skin."""
    least = survey.limit("clearance_to_adjacent_structure")
    bay, edge = survey.layout.job.bay, outermost_edge(survey)
    regions: list[Flange | KeepOut] = [*bay.flanges]
    regions += [keep_out for keep_out in bay.keep_outs if _depth_in(keep_out) == 0.0]
    for region in regions:
        gap_in, place = gap_to_region(edge.loop, region)
        u_in = edge.uncertainty_in
        status = judge_at_least(gap_in, least.value, uncertainty=u_in)
        overlap = f"They overlap by {inch(-gap_in)} in; " if gap_in < 0 else ""
        yield against(
            "R701",
            status,
            f"{edge.name} to {region.name}",
            value=gap_in,
            limit=least.value,
            unit="in",
            cited=least,
            formula=f"gap >= {inch(least.value)} in",
            values=(Quantity("gap", gap_in, "in"),),
            advice=""
            if status is Status.PASS
            else f"{overlap}{short_text(least.value - gap_in, u_in)} Shift or shrink the parts, or ask for data.",
            place=place,
            shortfall=least.value - gap_in,
            uncertainty=u_in,
        )
    sides = _sides_without_flange(survey, edge)
    if sides or not bay.flanges:
        yield against(
            "R701",
            Status.UNKNOWN,
            f"no flange has been entered on side {', '.join(sides)}"
            if bay.flanges
            else "no flange of the bay has been entered",
            value=None,
            limit=None if bay.flanges else least.value,
            unit="in",
            cited=_FLANGE if bay.flanges else least,
            advice="Find the free edges of the flanges round the opening and enter them.",
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
        if gap_to_row(edge.loop, row)[0] >= FLANGE_IN - FLOAT_NOISE:
            is_plus = row.x.inch > x_in if row.x else row.y is not None and row.y.inch > y_in
            closed.add(f"{'X' if row.x else 'Y'}{'+' if is_plus else '-'}")
    return [side for side in ("X-", "X+", "Y-", "Y+") if side not in closed]


@rule("R702", Shelf.BEHIND, rests_on=(_BEHIND,), reads=("bay", "holes", "opening"), marks_holes=True)
def behind(survey: Survey) -> Iterator[Finding]:
    """R702: what lies behind the drill and the cutter."""
    layout = survey.layout
    points = points_of(layout.holes)
    for keep_out in layout.job.bay.keep_outs:
        depth = keep_out.depth
        if depth is None or depth.inch == 0.0:
            continue
        beside = gaps_to_points(keep_out, points)
        holes = tuple(
            hole for hole, off_in in zip(layout.holes, beside, strict=True) if off_in <= hole.diameter_in
        )
        over_opening = gap_to_region(layout.opening, keep_out)[0] <= 0.0
        said = [holes_named(*holes) if len(holes) <= _NAMED_HOLES else f"{len(holes)} holes"] if holes else []
        said += ["the opening"] if over_opening else []
        yield against(
            "R702",
            Status.CAUTION if said else Status.PASS,
            f"{keep_out.name} lies {depth.text} behind {' and '.join(said)}"
            if said
            else f"{keep_out.name} lies behind no hole and not behind the opening",
            value=depth.inch,
            limit=None,
            unit="in",
            cited=_BEHIND,
            advice=f"Set the drill stop well under {depth.text}, shield it, and keep the starter hole away from it."
            if said
            else "",
            holes=tuple(hole.number for hole in holes),
            place=(holes[0].x_in, holes[0].y_in) if holes else None,
        )


def _depth_in(keep_out: KeepOut) -> float:
    """Distance behind the skin, 0 against it [in]."""
    return keep_out.depth.inch if keep_out.depth else 0.0
