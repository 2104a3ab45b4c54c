"""T303: what lies behind the skin is farther than the tool reaches; every depth counts from the skin's outer face."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding, held, stated
from hatchwright.job.bay import KeepOut
from hatchwright.job.cutter import Cutter, HandTool
from hatchwright.judged import Bound, Judgement, Measure, Status
from hatchwright.layout.gaps import gap_to_point, gap_to_region
from hatchwright.layout.layout import Layout
from hatchwright.making.cutter.starter import BESIDE_IN
from hatchwright.making.cutter.tool_named import tool_named
from hatchwright.making.sources import SHOP
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Said, inch, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.extremes import extreme_points
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.workings import Grade, Source

BEHIND_SPARE_IN = 0.125
"""What is to stay between a tool and what lies behind the skin [in]. Common practice, no source."""

_SPARE = Bound(BEHIND_SPARE_IN, Source("PRACTICE", "room behind the skin"), Grade.PRACTICE)

T303 = enter(Entry("T303", Shelf.BEHIND, step="cut", reads=("bay", "cutter", "wanted")))


def room_behind(layout: Layout, tool: Cutter | HandTool, line: Profile) -> Iterator[Finding]:
    """Judge a tool against what lies behind the waste, the line or the tool beside it.

    At the line there is no way round it; elsewhere there may be one, and it is a caution.
    """
    for keep_out in layout.job.bay.keep_outs:
        depth = keep_out.depth
        beside_in = min(gap_to_region(loop, keep_out)[0] for loop in line.loops)
        if depth is None or depth.inch == 0.0 or beside_in > _sideways_in(tool):
            continue
        is_at_cut = any(_apart_in(loop, keep_out) <= _cut_in(tool) for loop in line.loops)
        where = _where(beside_in, is_at_cut=is_at_cut)
        if tool.behind is None:
            yield stated(
                "T303",
                Status.UNKNOWN,
                said("T303.lies", name=keep_out.name, depth=inch(depth.inch), where=where),
                source=SHOP,
                grade=Grade.SHOP,
                limit=depth.inch,
                unit="in",
                advice=(said("T303.measure", tool=tool_named(tool)),),
                enter=("cutter.behind",) if tool == layout.job.cutter else (),
            )
            continue
        room_in = depth.inch - tool.behind.inch
        judged = Judgement(
            Measure("room", room_in, with_=(("depth", depth.inch, "in"), ("tool", tool.behind.inch, "in"))),
            (_SPARE,),
            fails_as=Status.STOP if room_in <= 0.0 and is_at_cut else Status.CAUTION,
        )
        yield held(
            "T303",
            judged,
            said("T303.room", tool=tool_named(tool), name=keep_out.name, where=where),
            said("T303.depths", depth=inch(depth.inch), reach=inch(tool.behind.inch)),
            said("T303.move") if is_at_cut else said("T303.move_or_go_round"),
        )


def _where(beside_in: float, *, is_at_cut: bool) -> Said:
    if is_at_cut:
        return said("T303.behind_cut")
    return said("T303.behind_waste") if beside_in <= 0.0 else said("T303.beside_line", beside=inch(beside_in))


def _cut_in(tool: Cutter | HandTool) -> float:
    """Width that the tool cuts, 0 where none is told [in]."""
    return tool.cut_width.inch if isinstance(tool, Cutter) else 0.0


def _sideways_in(tool: Cutter | HandTool) -> float:
    """How far beside the line the tool, or what is drawn as a bare line behind the skin, may be [in]."""
    body_in = tool.body.inch if tool.body else 0.0
    return max(_cut_in(tool), 0.5 * body_in, BESIDE_IN)


def _apart_in(loop: Loop, keep_out: KeepOut) -> float:
    """From the line itself to the keep-out, which may lie wholly inside it [in]."""
    x_from, y_from, x_to, y_to = keep_out.bounds_in
    if all(math.isfinite(bound) for bound in keep_out.bounds_in):
        corners = np.array([(x, y) for x in (x_from, x_to) for y in (y_from, y_to)])
        found = distances(Profile((loop,)), corners)
        if found.inside.all():
            to_line = (gap_to_point(keep_out, (float(x), float(y))) for x, y in extreme_points(loop))
            return min(float(found.distance_in.min()), *to_line)
    return gap_to_region(loop, keep_out)[0]
