"""R7xx: room in the bay, from the new parts to flanges and to what lies behind."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding, Quantity, Status, Working, judge_at_least
from hatchwright.job.bay import Flange, KeepOut, Region
from hatchwright.layout.layout import Edge
from hatchwright.layout.survey import Survey, points_of
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, shortfall_text
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Arc, Loop, profile_of
from hatchwright.tables.limits import limit


def gap_to_region(loop: Loop, region: Region) -> tuple[float, tuple[float, float]]:
    """The true gap between a closed outline and a rectangular region, arcs included.

    Args:
        loop: the outline [in].
        region: open to any side that has no bound.
    Returns:
        tuple: the gap, negative by the depth of the overlap [in], and the point of the outline concerned [in].
    """
    x_from, y_from, x_to, y_to = region.bounds_in
    x_min, y_min, x_max, y_max = loop.bounds
    points = _extreme_points(loop)
    dx = np.maximum(np.maximum(x_from - points[:, 0], points[:, 0] - x_to), 0.0)
    dy = np.maximum(np.maximum(y_from - points[:, 1], points[:, 1] - y_to), 0.0)
    off = np.hypot(dx, dy)
    nearest = int(np.argmin(off))
    gap, place = float(off[nearest]), (float(points[nearest, 0]), float(points[nearest, 1]))
    corners = [(x, y) for x in (x_from, x_to) for y in (y_from, y_to) if math.isfinite(x) and math.isfinite(y)]
    if corners:
        found = distances(profile_of(loop), np.array(corners))
        at = int(np.argmin(found.distance_in))
        if bool(found.inside.any()):
            gap = 0.0
        elif float(found.distance_in[at]) < gap:
            gap, place = float(found.distance_in[at]), (float(found.foot[at][0]), float(found.foot[at][1]))
    apart = max(x_from - x_max, x_min - x_to, y_from - y_max, y_min - y_to)
    if gap > 0.0 and (apart > 0.0 or not _crosses(loop, region)):
        return gap, place
    return min(apart, 0.0), place


def _extreme_points(loop: Loop) -> np.ndarray:  # type: ignore[type-arg]
    """Vertices and the points where an arc reaches farthest along an axis, shape (n, 2)."""
    points = [loop.rows[:, :2]]
    for piece in loop.pieces():
        if isinstance(piece, Arc):
            points.append(np.array(piece.axis_extremes()).reshape(-1, 2))
    return np.vstack(points)


def _crosses(loop: Loop, region: Region) -> bool:
    """Whether a bounded strip runs through the outline although neither has a corner inside the other."""
    x_from, y_from, x_to, y_to = region.bounds_in
    points = loop.points(1e-4)
    step = np.roll(points, -1, axis=0) - points
    with np.errstate(divide="ignore", invalid="ignore"):
        enter = np.zeros(len(points))
        leave = np.ones(len(points))
        for axis, low, high in ((0, x_from, x_to), (1, y_from, y_to)):
            a = (low - points[:, axis]) / step[:, axis]
            b = (high - points[:, axis]) / step[:, axis]
            still = step[:, axis] == 0.0
            inside = (points[:, axis] >= low) & (points[:, axis] <= high)
            first = np.where(still, np.where(inside, -np.inf, np.inf), np.minimum(a, b))
            last = np.where(still, np.where(inside, np.inf, -np.inf), np.maximum(a, b))
            enter, leave = np.maximum(enter, first), np.minimum(leave, last)
    return bool(np.any(enter <= leave))


def _outermost(survey: Survey) -> Edge:
    """The outermost edge of what is put on the skin: the doubler's, else the cover's, else the opening's."""
    for name, index in (("doubler", 0), ("cover", 0), ("skin", 0)):
        part = survey.layout.part(name)  # type: ignore[arg-type]
        if part is not None and (name != "cover" or survey.layout.job.cover and survey.layout.job.cover.fit == "lapped"):
            return part.edges[index]
    raise AssertionError("every layout has a skin")


@rule("R701", "Clearance to flanges and to what lies against the skin")
def clearance(survey: Survey) -> Iterator[Finding]:
    """The doubler, or without one the opening itself, keeps an eighth of an inch from every flange and from every
    keep-out that lies against the skin, on all four sides."""
    least = limit("clearance_to_adjacent_structure")
    bay = survey.layout.job.bay
    edges = {edge.name: edge for edge in (_outermost(survey), survey.layout.parts[0].edges[0])}
    regions: list[Flange | KeepOut] = [*bay.flanges]
    regions += [keep_out for keep_out in bay.keep_outs if keep_out.depth is None or keep_out.depth.inch == 0.0]
    for region in regions:
        for edge in list(edges.values())[:1]:
            gap_in, place = gap_to_region(edge.loop, region)
            status = judge_at_least(gap_in, least.value, uncertainty=edge.uncertainty_in)
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
                else f"{'They overlap; ' if gap_in < 0 else ''}{shortfall_text(least.value - gap_in)}. Shift or shrink "
                "the parts, take fewer rows, or ask for data that pick up the existing rows.",
                place=place,
                shortfall=max(0.0, least.value - gap_in),
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
    from hatchwright.finding import Grade, Source

    layout = survey.layout
    practice = Source("PRACTICE", "hidden-hazard survey")
    points = points_of(layout.holes)
    for keep_out in layout.job.bay.keep_outs:
        if keep_out.depth is None or keep_out.depth.inch == 0.0:
            continue
        x_from, y_from, x_to, y_to = keep_out.bounds_in
        reach = np.array([hole.diameter_in for hole in layout.holes])
        in_front = [
            hole
            for hole, is_in in zip(
                layout.holes,
                (points[:, 0] >= x_from - reach)
                & (points[:, 0] <= x_to + reach)
                & (points[:, 1] >= y_from - reach)
                & (points[:, 1] <= y_to + reach)
                if len(points)
                else [],
                strict=True,
            )
            if is_in
        ]
        over_opening = gap_to_region(layout.opening, keep_out)[0] <= 0.0
        if not in_front and not over_opening:
            continue
        where = " and ".join(
            [*([holes_named(*in_front)] if in_front else []), *(["the opening"] if over_opening else [])]
        )
        yield Finding(
            code="R702",
            status=Status.CAUTION,
            subject=f"{keep_out.name} lies {keep_out.depth.inch:g} in behind {where}",
            value=keep_out.depth.inch,
            limit=None,
            unit="in",
            source=practice,
            grade=Grade.PRACTICE,
            advice=f"Set the drill stop well under {keep_out.depth.inch:g} in, shield it, and keep the starter hole away.",
            holes=tuple(hole.number for hole in in_front),
            place=(in_front[0].x_in, in_front[0].y_in) if in_front else None,
        )
