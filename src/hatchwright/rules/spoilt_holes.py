"""R209, R210: holes that run into each other, and existing heads under a new edge."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from hatchwright.errors import TableError
from hatchwright.finding import Finding, Grade, Quantity, Source, Status
from hatchwright.job.bay import Region
from hatchwright.layout.gaps import gap_to_region
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.survey import Survey
from hatchwright.rules.answer import against
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import profile_of
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivets import hole_drill

_PRACTICE = Cited(0.0, "in", Source("PRACTICE", "overlapping holes"), Grade.PRACTICE)
_HEAD_RATIO = Cited(
    2.0, "D", Source("PRACTICE", "universal heads are about two diameters across"), Grade.PRACTICE
)


def drilled_in(hole: Hole) -> float:
    """Diameter of a hole: as measured, else that of its final drill.

    Args:
        hole: of a layout.
    Returns:
        float: the fastener's own diameter when no drill is listed for it [in].
    """
    if hole.hole_in is not None:
        return hole.hole_in
    try:
        return hole_drill(hole.diameter_in).diameter_in if hole.kind == "rivet" else hole.diameter_in
    except TableError:
        return hole.diameter_in


@rule("R209", "Holes that run into each other")
def overlapping_holes(survey: Survey) -> Iterator[Finding]:
    """Two holes never break into each other. A figure-8 is not cured by the next rivet size or by a screw: it goes to
    the holder of the data, as does a hole within a hole's width of another."""
    for pair in survey.near:
        metal_in = pair.distance_in - (drilled_in(pair.first) + drilled_in(pair.second)) / 2.0
        if metal_in > pair.uncertainty_in:
            continue
        yield against(
            "R209",
            Status.STOP if metal_in <= -pair.uncertainty_in else Status.UNKNOWN,
            f"metal left between {holes_named(pair.first, pair.second)}",
            value=metal_in,
            limit=0.0,
            unit="in",
            cited=_PRACTICE,
            formula="metal = distance - half of both holes",
            values=(Quantity("distance", pair.distance_in, "in"),),
            advice="A double-drilled hole. Don't open it, don't fill it: ask the holder of the data for a disposition.",
            holes=(pair.first.number, pair.second.number),
            place=(pair.first.x_in, pair.first.y_in),
            shortfall=-metal_in,
            uncertainty=pair.uncertainty_in,
        )


@rule("R210", "Existing heads under a new edge")
def heads_under_edge(survey: Survey) -> Iterator[Finding]:
    """The outer edge of a doubler or a lapped cover does not end on the heads of fasteners that are there, and where it
    covers an existing row that row is picked up by it."""
    layout = survey.layout
    for part in layout.parts:
        if part.name == "skin" or (part.name == "cover" and not _is_lapped(layout)):
            continue
        edge = part.edges[0]
        for row in layout.job.bay.rows:
            head_in = _HEAD_RATIO.value * row.diameter.inch if row.diameter else 0.0
            line = Region(name=row.name, x_from=row.x, x_to=row.x, y_from=row.y, y_to=row.y)
            gap_in, place = gap_to_region(edge.loop, line)
            if gap_in < head_in / 2.0 or gap_in <= 0.0:
                yield _heads(
                    f"row of {row.name}", part.name, gap_in - head_in / 2.0, place, covered=gap_in <= 0.0
                )
        if layout.job.bay.existing:
            points = np.array([(there.at[0].inch, there.at[1].inch) for there in layout.job.bay.existing])
            found = distances(profile_of(edge.loop), points)
            for index, there in enumerate(layout.job.bay.existing):
                clear_in = float(found.distance_in[index]) - _HEAD_RATIO.value * there.diameter.inch / 2.0
                inside = bool(found.inside[index])
                if inside or clear_in < 0.0:
                    place = (float(points[index][0]), float(points[index][1]))
                    yield _heads(f"existing fastener {index + 1}", part.name, clear_in, place, covered=inside)


def _heads(name: str, part: str, clear_in: float, place: tuple[float, float], *, covered: bool) -> Finding:
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
        advice="Pick up those holes in the new part, or keep clear of them: the layout must say which."
        if covered
        else "Move the edge off the heads, or take the part out over the row and pick it up.",
        place=place,
        shortfall=-clear_in,
    )


def _is_lapped(layout: Layout) -> bool:
    return layout.job.cover is not None and layout.job.cover.fit == "lapped"
