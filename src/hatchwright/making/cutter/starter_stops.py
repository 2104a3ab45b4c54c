"""The stops of the tools that make the starter and corner holes: a pilot drill, and a step drill that opens them.

Method: docs/theory/starter.md.
"""

from __future__ import annotations

from collections.abc import Iterable

from hatchwright.job.bay import KeepOut
from hatchwright.layout.behind_skin import BESIDE_IN, box_of, kept_beside_in
from hatchwright.layout.gaps import Bounds
from hatchwright.layout.layout import Layout
from hatchwright.making.cutter.starter import DrilledHole
from hatchwright.making.making import Cutting
from hatchwright.recipe.stops import Stop, before, drilled_to_in, worst_before

STEP_DRILL_OVER_IN = 0.25
"""Wider holes than this are opened in thin sheet with a step drill, which comes through by its height [in]. Common
practice, no source."""

STEP_DRILL_ENTRY = "cutter.starter_reach"


def pilot_stop(layout: Layout) -> Stop:
    """The stop of the drill that makes pilots in the waste, of starter and corner holes or for a tool that was not
    entered, by all that lies behind it."""
    bounds = (layout.rough_cut or layout.wanted).bounds
    reach_in = drilled_to_in(layout, ("skin",))
    behind = (one for one in layout.job.bay.keep_outs if _is_within(one, bounds))
    found = [before(layout, one, (bounds,), reach_in) for one in behind]
    return Stop(reach_in, 0.0, worst_before(found))


def step_drill_stop(
    cutting: Cutting, holes: Iterable[DrilledHole], *, template_in: float = 0.0
) -> Stop | None:
    """The stop of the step drill that opens starter or corner holes; None where none of them is wide enough for one.

    It has no setting until its reach is entered: it comes through by far more than a drill's point.
    """
    wide = tuple(hole for hole in holes if needs_step_drill(hole))
    if not wide:
        return None
    layout, reach_in = cutting.layout, step_drill_reach_in(cutting)
    things = dict.fromkeys(one for hole in wide for one in hole.over)
    found = [before(layout, one, boxes_before(one, wide), reach_in) for one in things]
    return Stop(reach_in, template_in, worst_before(found), STEP_DRILL_ENTRY)


def needs_step_drill(hole: DrilledHole) -> bool:
    """Whether a hole is too wide for a drill in thin sheet."""
    return hole.diameter_in > STEP_DRILL_OVER_IN


def step_drill_reach_in(cutting: Cutting) -> float | None:
    """From the outer face of the skin to the step drill's point when its hole is to size; None until entered [in]."""
    reach = cutting.cutter.starter_reach
    return reach.inch if reach else None


def boxes_before(keep_out: KeepOut, holes: Iterable[DrilledHole]) -> tuple[Bounds, ...]:
    """Where something lies behind some holes, or too near beside them [in]."""
    beside_in = kept_beside_in(keep_out, BESIDE_IN)
    return tuple(
        box_of(hole.center, hole.diameter_in / 2.0 + beside_in) for hole in holes if keep_out in hole.over
    )


def _is_within(keep_out: KeepOut, bounds: Bounds) -> bool:
    x_from, y_from, x_to, y_to = keep_out.bounds_in
    x_min, y_min, x_max, y_max = bounds
    return x_from <= x_max and x_to >= x_min and y_from <= y_max and y_to >= y_min
