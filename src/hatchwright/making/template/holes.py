"""Holes of the job that can be drilled through the guide template, and the parts that each goes through."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.layout.layout import Hole, Layout, PartName
from hatchwright.making.making import Making, once
from hatchwright.recipe.sheet_work import hole_work
from hatchwright.shapes.boolean import difference
from hatchwright.shapes.distance import distances
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.shapes.profile import Profile
from hatchwright.tables.drills import Drill, drill_sizes

PILOT_DRILL = "40"
"""Pilot drill of a hole of which no drill is known. Common practice, no source."""

WALL_IN = 0.0625
"""Least wall of the template round a pilot hole [in]. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class TemplateHole:
    """A hole of the job with its pilot hole in the template [in]."""

    hole: Hole
    pilot_in: float


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


def first_drill(hole: Hole, layout: Layout) -> Drill | None:
    """The drill that goes first through all the sheets of a hole: the smallest of their first drills, a pilot
    or else the final one; None when the work on a sheet begins with a dimple, or no drill is known."""
    firsts = [work.steps[0].drill if work.steps else None for work in hole_work(hole, layout)]
    known = [first for first in firsts if first is not None]
    return min(known, key=lambda first: first.diameter_in) if known and len(known) == len(firsts) else None


def _pilot_in(hole: Hole, layout: Layout) -> float:
    """Diameter of a hole in the template: that of the job's own fasteners, else of the hole's first drill [in]."""
    template, first = layout.job.template, first_drill(hole, layout)
    if template and template.pin:
        return template.pin.inch
    return first.diameter_in if first else drill_sizes()[PILOT_DRILL]


@once
def template_holes(making: Making) -> tuple[TemplateHole, ...]:
    """The holes of a job that lie on its template, with material enough round them.

    A hole whose fastener no table lists is none of them: nobody knows which pilot it can be opened from. Nor is one
    that a doubler leads.
    """
    layout = making.layout
    doubler = layout.job.doubler
    led_by = "doubler" if doubler and doubler.holes_from == "doubler" else None
    holes = tuple(hole for hole in layout.holes if hole.nominal_in is not None and led_by not in hole.stack)
    if not holes:
        return ()
    sizes_in = [_pilot_in(hole, layout) for hole in holes]
    inward_in = distances(_plate(making), [(hole.x_in, hole.y_in) for hole in holes]).inward_in
    return tuple(
        TemplateHole(hole, size_in)
        for hole, size_in, wall_in in zip(holes, sizes_in, inward_in, strict=True)
        if wall_in >= size_in / 2.0 + WALL_IN
    )


def through_which(holes: tuple[TemplateHole, ...]) -> dict[tuple[float, tuple[PartName, ...]], list[int]]:
    """Diameter [in] and parts from outside, to the numbers of the holes of that size through just these."""
    listed: dict[tuple[float, tuple[PartName, ...]], list[int]] = {}
    for one in holes:
        listed.setdefault((one.pilot_in, one.hole.stack), []).append(one.hole.number)
    return listed
