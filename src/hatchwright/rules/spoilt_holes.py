"""R209, R210: holes that run into each other, and existing heads under a new edge."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least
from hatchwright.layout.gaps import gap_to_row
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivets import hole_drill
from hatchwright.tables.screws import clearance_drill
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Quantity, Source

_PRACTICE = Cited(0.0, "in", Source("PRACTICE", "overlapping holes"), Grade.PRACTICE)
_HEAD_RATIO = Cited(
    2.0, "D", Source("PRACTICE", "universal heads are about two diameters across"), Grade.PRACTICE
)


def final_hole_in(hole: Hole, shop: ShopTables | None) -> float:
    """Diameter of the finished hole for a fastener: that of its usual final drill.

    Returns:
        float: the fastener's own diameter when no drill is listed for it [in].
    """
    try:
        if hole.kind == "rivet":
            return hole_drill(hole.diameter_in, shop=shop).diameter_in
        return clearance_drill(hole.fastener, shop=shop).diameter_in
    except TableError:
        return hole.diameter_in


@rule("R209", Shelf.HOLDS, rests_on=(_PRACTICE,), reads=("holes", "near"), marks_holes=True)
def overlapping_holes(survey: Survey) -> Iterator[Finding]:
    """R209: holes that run into each other."""
    drilled = {
        fastener: final_hole_in(hole, survey.shop)
        for fastener, hole in {hole.fastener: hole for hole in survey.layout.holes}.items()
    }
    broken = False
    for pair in survey.near:
        holes_in = [hole.hole_in or drilled[hole.fastener] for hole in (pair.first, pair.second)]
        metal_in = pair.distance_in - sum(holes_in) / 2.0
        u_in = pair.uncertainty_in
        if metal_in > FLOAT_NOISE and judge_at_least(metal_in, 0.0, uncertainty=u_in) is Status.PASS:
            continue
        broken = True
        yield against(
            "R209",
            Status.STOP if u_in == 0.0 else judge_at_least(metal_in, 0.0, uncertainty=u_in),
            f"metal left between {holes_named(pair.first, pair.second)}",
            value=metal_in,
            limit=0.0,
            unit="in",
            cited=_PRACTICE,
            formula="metal = distance - half of both holes",
            values=(
                Quantity("distance", pair.distance_in, "in"),
                Quantity("first hole", holes_in[0], "in"),
                Quantity("second hole", holes_in[1], "in"),
            ),
            advice="A double-drilled hole. Don't open it, don't fill it: ask the holder of the data for a disposition.",
            holes=(pair.first.number, pair.second.number),
            place=pair.middle,
            shortfall=-metal_in,
            uncertainty=u_in,
        )
    if survey.layout.holes and not broken:
        yield against(
            "R209",
            Status.PASS,
            f"no two of {len(survey.layout.holes)} holes run into each other",
            value=None,
            limit=None,
            unit="",
            cited=_PRACTICE,
        )


@rule("R210", Shelf.HOLDS, rests_on=(_HEAD_RATIO,), reads=("bay", "cover", "parts"), marks_holes=True)
def heads_under_edge(survey: Survey) -> Iterator[Finding]:
    """R210: existing heads under a new edge."""
    layout, bay = survey.layout, survey.layout.job.bay
    on_skin = [part for part in layout.parts if part.name == "doubler" or _is_lapped_cover(layout, part.name)]
    struck = False
    for part in on_skin:
        edge = part.edges[0].loop
        for row in bay.rows:
            head_in = _HEAD_RATIO.value * row.diameter.inch if row.diameter else 0.0
            gap_in, place = gap_to_row(edge, row)
            if gap_in < head_in / 2.0 or gap_in <= 0.0:
                struck = True
                covered = gap_in <= 0.0
                yield _heads(f"row of {row.name}", part.name, gap_in, head_in, place, covered=covered)
        if bay.existing:
            points = np.array([(there.at[0].inch, there.at[1].inch) for there in bay.existing])
            heads_in = _HEAD_RATIO.value * np.array([there.diameter.inch for there in bay.existing])
            found = distances(Profile((edge,)), points)
            clear_in = found.distance_in - heads_in / 2.0
            for k in np.flatnonzero(found.inside | (clear_in < 0.0)).tolist():
                struck = True
                covered = bool(found.inside[k] and clear_in[k] >= 0.0)
                place = (float(points[k][0]), float(points[k][1]))
                gap_in, head_in = float(found.distance_in[k]), float(heads_in[k])
                yield _heads(f"existing fastener {k + 1}", part.name, gap_in, head_in, place, covered=covered)
    if on_skin and not struck and (bay.rows or bay.existing):
        yield against(
            "R210",
            Status.PASS,
            f"no heads that were entered lie under the {' or the '.join(part.name for part in on_skin)}",
            value=None,
            limit=None,
            unit="",
            cited=_HEAD_RATIO,
        )


def _heads(
    name: str, part: str, gap_in: float, head_in: float, place: tuple[float, float], *, covered: bool
) -> Finding:
    clear_in = gap_in - head_in / 2.0
    what = (
        f"the {part} covers the {name}"
        if covered
        else f"the edge of the {part} ends on the heads of the {name}"
    )
    return against(
        "R210",
        Status.UNKNOWN,
        what,
        value=clear_in,
        limit=0.0,
        unit="in",
        cited=_HEAD_RATIO,
        formula="clear = gap from edge to centre - half the head, about 2 D across",
        values=(Quantity("gap", gap_in, "in"), Quantity("head", head_in, "in")),
        advice="Pick up those holes in the new part, or keep clear of them: the layout must say which."
        if covered
        else "Move the edge off the heads, or take the part out over the row and pick it up.",
        place=place,
        shortfall=-clear_in,
    )


def _is_lapped_cover(layout: Layout, part: str) -> bool:
    return part == "cover" and layout.job.cover is not None and layout.job.cover.fit == "lapped"
