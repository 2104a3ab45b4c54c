"""Holes of the job that can be drilled through the guide template, and the parts that each goes through."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.layout.layout import Hole, Layout, PartName
from hatchwright.making.making import Making, once
from hatchwright.recipe.hole_drills import first_drill
from hatchwright.shapes.boolean import difference
from hatchwright.shapes.distance import distances
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.profile import Profile
from hatchwright.tables.drills import Drill

WALL_IN = 0.0625
"""Least wall of the template round a pilot hole [in]. Common practice, no source."""


class TemplateHole(Struct, frozen=True):
    """A hole of the job with its pilot hole in the template [in], and the parts that are drilled through it."""

    hole: Hole
    pilot_in: float
    parts: tuple[PartName, ...]


def _plate(making: Making) -> Profile:
    """Material of the template before it is keyed: the plate with its window, or the plug [in]."""
    machinable = making.chain.machinable
    if not making.is_window:
        return machinable
    border_in = making.template.border.inch
    x_min, y_min, x_max, y_max = machinable.bounds
    whole = rounded_rectangle(
        width_in=x_max - x_min + 2.0 * border_in,
        height_in=y_max - y_min + 2.0 * border_in,
        radius_in=0.0,
        center=((x_min + x_max) / 2.0, (y_min + y_max) / 2.0),
    )
    return difference(Profile((whole,)), machinable)


def _pilot_in(first: Drill, layout: Layout) -> float:
    """Diameter of a hole in the template: that of the job's own pins, else of the hole's first drill [in]."""
    template = layout.job.template
    return template.pin.inch if template and template.pin else first.diameter_in


def _parts(hole: Hole, layout: Layout) -> tuple[PartName, ...]:
    """The sheets of a hole without a cover that is drilled from inside."""
    cover = layout.job.cover
    is_inside = cover is not None and cover.holes_from == "inside"
    return tuple(name for name in hole.stack if not (is_inside and name == "cover"))


@once
def template_holes(making: Making) -> tuple[TemplateHole, ...]:
    """The holes of a job that lie on its template, with material enough round them.

    A hole whose fastener no table lists is none of them, nor is one whose first drill is not known: nobody knows which
    pilot it can be opened from. Nor is one that a doubler leads.
    """
    layout = making.layout
    doubler = layout.job.doubler
    led_by = "doubler" if doubler and doubler.holes_from == "doubler" else None
    firsts = {hole: first_drill(hole, layout) for hole in layout.holes if hole.nominal_in is not None}
    known = {hole: first for hole, first in firsts.items() if first is not None and led_by not in hole.stack}
    if not known:
        return ()
    holes, sizes_in = tuple(known), [_pilot_in(first, layout) for first in known.values()]
    inward_in = distances(_plate(making), [(hole.x_in, hole.y_in) for hole in holes]).inward_in
    return tuple(
        TemplateHole(hole, size_in, _parts(hole, layout))
        for hole, size_in, wall_in in zip(holes, sizes_in, inward_in, strict=True)
        if wall_in >= size_in / 2.0 + WALL_IN
    )


def through_which(holes: tuple[TemplateHole, ...]) -> dict[tuple[float, tuple[PartName, ...]], list[int]]:
    """Diameter [in] and parts from outside, to the numbers of the holes of that size through just these."""
    listed: dict[tuple[float, tuple[PartName, ...]], list[int]] = {}
    for one in holes:
        listed.setdefault((one.pilot_in, one.parts), []).append(one.hole.number)
    return listed
