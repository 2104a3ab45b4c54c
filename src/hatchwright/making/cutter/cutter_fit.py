"""T3xx: whether a cutter or hand tool can make this cut: thickness, corners, room behind, reach.

A shop asks it of the cutter in the job and of every other tool that it keeps.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.finding import Finding, held, stated
from hatchwright.ground import SHOP, practice
from hatchwright.job.bay import KeepOut
from hatchwright.job.cutter import Cutter, HandTool
from hatchwright.job.tool_kinds import MEASURED
from hatchwright.judged import Judgement, Measure, Status, bound, the_same
from hatchwright.layout.behind_skin import BEFORE_IN, BESIDE_IN, kept_beside_in, lies_on_skin, skin_in
from hatchwright.layout.gaps import gap_to, gap_to_point
from hatchwright.layout.layout import Layout
from hatchwright.layout.named import tool_named
from hatchwright.recipe.stops import Before, Stop, before, moving_advice, moving_entries, worst_before
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Listed, inch, said
from hatchwright.shapes.corners import Corner
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Loop, Profile, profile_of
from hatchwright.shapes.reach import extreme_points

FILED_IN = 0.0625
"""More metal than this nobody files off all round an opening [in]. Common practice, no source."""

_NEXT_64THS_IN = 1.0 / 32.0
"""A round tool that is smaller than its corner by less than this leaves what a file takes off [in]. Common practice,
no source."""

_FILED = practice("metal left to file")

T301 = enter(
    Entry(
        "T301",
        Shelf.HOLDS,
        step="cut",
        reads=("cutter", "hand_tool", "skin"),
        limits=("snips_max_thickness",),
    )
)
T302 = enter(Entry("T302", Shelf.SETTLE, step="cut", reads=("cutter", "hand_tool", "wanted")))
T304 = enter(Entry("T304", Shelf.SETTLE, step="cut", reads=("cutter", "hand_tool", "wanted")))
T305 = enter(Entry("T305", Shelf.SETTLE, step="cut", reads=("cutter", "hand_tool", "wanted")))
T306 = enter(Entry("T306", Shelf.KNOW, step="template", reads=("cutter", "hand_tool")))
T307 = enter(Entry("T307", Shelf.SETTLE, step="template", reads=("cutter", "hand_tool")))

_SPARE = practice("room behind the skin")

T303 = enter(Entry("T303", Shelf.BEHIND, step="cut", reads=("bay", "cutter", "hand_tool", "skin", "wanted")))


def cutter_findings(layout: Layout) -> tuple[Finding, ...]:
    """Judge the job's own cutter or hand tool."""
    return tool_findings(layout, layout.job.tool) if layout.job.tool else ()


def _asked(layout: Layout, tool: Cutter | HandTool, *names: str) -> tuple[str, ...]:
    """The boxes of the job where sizes of a tool are entered; none of a tool that is not the job's own."""
    section = "cutter" if isinstance(tool, Cutter) else "hand_tool"
    return tuple(f"{section}.{name}" for name in names) if tool == layout.job.tool else ()


def tool_findings(layout: Layout, tool: Cutter | HandTool) -> tuple[Finding, ...]:
    """Judge a tool for the rough cut of a job; what was never measured of it is said to be unknown."""
    line = layout.rough_cut or profile_of(layout.wanted)
    found = [*_thickness(layout, tool), *room_behind(layout, tool, line), *_reach(layout, tool, line)]
    found += _not_measured(layout, tool)
    corner = layout.rough_corner if layout.rough_cut else layout.bulging_corner
    if isinstance(tool, Cutter):
        found += _filed(tool)
    elif corner:
        found += [*_turns(tool, corner), *_round(tool, corner)]
    return tuple(sorted(found, key=lambda finding: finding.code))


def _not_measured(layout: Layout, tool: Cutter | HandTool) -> Iterator[Finding]:
    """T306: what a finding would need of the tool has been measured; how far it reaches behind is asked for by T303."""
    wanted = ["capacity"] if tool.what.thickness == MEASURED else []
    if isinstance(tool, Cutter):
        wanted += ["reach", "eccentricity", *(["advance"] if tool.what.bites else [])]
    missing = [name for name in wanted if getattr(tool, name) is None]
    if missing:
        sizes, checks = (
            Listed(tuple(said(f"T306.{what}.{name}") for name in missing), ",") for what in ("size", "check")
        )
        subject = said("T306.subject", tool=tool_named(tool), sizes=sizes)
        not_checked, asked = said("T306.not_checked", checks=checks), _asked(layout, tool, *missing)
        yield stated("T306", Status.CAUTION, subject, SHOP, not_checked, said("T306.do"), enter=asked)


def _filed(tool: Cutter) -> Iterator[Finding]:
    """T307: no more metal is left to file than anybody files."""
    judged = _FILED.at_most(Measure("left", tool.filing_allowance.inch), FILED_IN, fails_as=Status.CAUTION)
    if judged.status is not Status.PASS:
        yield held("T307", judged, said("T307.subject", tool=tool_named(tool)), said("T307.do"))


def _thickness(layout: Layout, tool: Cutter | HandTool) -> Iterator[Finding]:
    """T301: the skin is no thicker than the tool cuts cleanly."""
    if not tool.capacity and tool.what.thickness == MEASURED:
        return
    most = SHOP.bound(tool.capacity.inch) if tool.capacity else bound(layout.limit(tool.what.thickness))
    judged = Judgement(Measure("t", skin_in(layout)), (most,), at_least=False)
    yield held("T301", judged, said("T301.subject", tool=tool_named(tool)), said("T301.do"))


def _turns(tool: HandTool, corner: Corner) -> Iterator[Finding]:
    """T302: the tool turns the sharpest corner, where its corners are not drilled first."""
    if tool.least_radius is None:
        return
    judged = SHOP.at_least(Measure("R", corner.radius_in), tool.least_radius.inch, fails_as=Status.CAUTION)
    subject = said("T302.subject", tool=tool_named(tool))
    yield held("T302", judged, subject, said("T302.do"), place=corner.place)


def _round(tool: HandTool, corner: Corner) -> Iterator[Finding]:
    """T305: a hole saw or step drill makes the size of the corners, or of a round opening."""
    if not tool.diameters:
        return
    wanted_in = 2.0 * corner.radius_in
    nearest_in = min((size.inch for size in tool.diameters), key=lambda inch: abs(inch - wanted_in))
    nearest = Measure("nearest", nearest_in)
    subject = said("T305.subject", tool=tool_named(tool), diameter=inch(wanted_in))
    filed = SHOP.at_least(nearest, wanted_in - _NEXT_64THS_IN, strict=True, fails_as=Status.CAUTION)
    if filed.status is Status.PASS:
        large = SHOP.at_most(nearest, wanted_in, fails_as=Status.CAUTION)
        yield held("T305", large, subject, said("T305.too_large"))
    else:
        small = the_same(nearest, SHOP.bound(wanted_in), fails_as=Status.CAUTION, more=filed.working)
        yield held("T305", small, subject, said("T305.too_small"))


def _reach(layout: Layout, tool: Cutter | HandTool, line: Profile) -> Iterator[Finding]:
    """T304: the tool gets from its starting hole to the farthest part of the line."""
    if tool.reach is None:
        return
    at = tool.starter_at if isinstance(tool, Cutter) else None
    start = (at[0].inch, at[1].inch) if at else layout.center_in
    points = np.vstack([loop.points(1e-3) for loop in line.loops])
    farthest_in = float(np.hypot(*(points - np.array(start)).T).max())
    judged = SHOP.at_most(Measure("farthest", farthest_in), tool.reach.inch)
    yield held("T304", judged, said("T304.subject", tool=tool_named(tool)), said("T304.do"))


class BehindTool(Struct, frozen=True):
    """Something that lies behind a tool at its line.

    Args:
        beside_in: from the line to it, 0 or less where it lies behind the waste [in].
        is_at_cut: whether the cut passes in front of it, so that there is no way round.
    """

    before: Before
    beside_in: float
    is_at_cut: bool


def behind_tool(layout: Layout, tool: Cutter | HandTool, line: Profile) -> Iterator[BehindTool]:
    """What lies behind the waste, the line or the tool beside it; what lies on the skin is a matter of R701."""
    cut_in = tool.cut_width.inch if isinstance(tool, Cutter) else 0.0
    # How far beside the line the tool, or what is drawn as a bare line behind the skin, may be.
    sideways_in = max(cut_in, 0.5 * tool.body.inch if tool.body else 0.0, BESIDE_IN)
    for keep_out in layout.job.bay.keep_outs:
        reach_in = kept_beside_in(keep_out, sideways_in)
        beside_in = min(gap_to(loop, keep_out)[0] for loop in line.loops)
        if lies_on_skin(keep_out, layout) or beside_in > reach_in:
            continue
        x_min, y_min, x_max, y_max = line.bounds
        within = (x_min - reach_in, y_min - reach_in, x_max + reach_in, y_max + reach_in)
        behind_in = tool.behind.inch if tool.behind else None
        one = before(layout, keep_out, (within,), behind_in, _SPARE.bound(BEFORE_IN))
        at_cut_in = kept_beside_in(keep_out, cut_in)
        yield BehindTool(one, beside_in, any(_apart_in(loop, keep_out) <= at_cut_in for loop in line.loops))


def cutter_stop(layout: Layout) -> Stop | None:
    """How far the job's own tool reaches behind the skin and what lies there, as `Stop`; None without one."""
    tool = layout.job.tool
    if tool is None:
        return None
    line = layout.rough_cut or profile_of(layout.wanted)
    found = (one.before for one in behind_tool(layout, tool, line))
    reach_in = tool.behind.inch if tool.behind else None
    (entry,) = _asked(layout, tool, "behind")
    return Stop(reach_in, 0.0, worst_before(found), entry)


def room_behind(layout: Layout, tool: Cutter | HandTool, line: Profile) -> Iterator[Finding]:
    """Judge a tool against what lies behind the waste, the line or the tool beside it.

    At the line there is no way round it; elsewhere there may be one, and what does not move is a caution.
    """
    for there in behind_tool(layout, tool, line):
        one = there.before
        where = said("T303.beside_line", beside=inch(there.beside_in))
        if there.is_at_cut or there.beside_in <= 0.0:
            where = said("T303.behind_cut" if there.is_at_cut else "T303.behind_waste")
        if tool.behind is None or one.judged is None:
            what = said("T303.lies", name=one.keep_out.name, depth=inch(one.depth_in), where=where)
            do, asked = said("T303.measure", tool=tool_named(tool)), _asked(layout, tool, "behind")
            yield stated("T303", Status.UNKNOWN, what, SHOP, do, limit=one.depth_in, unit="in", enter=asked)
            continue
        subject = said("T303.room", tool=tool_named(tool), name=one.keep_out.name, where=where)
        depths = said("T303.depths", depth=inch(one.depth_in), reach=inch(tool.behind.inch))
        do = said("T303.move" if there.is_at_cut else "T303.move_or_go_round")
        judged = one.judged
        if one.status is Status.UNKNOWN:
            yield held("T303", judged, subject, moving_advice(one), depths, enter=moving_entries(one))
        elif there.is_at_cut or one.keep_out.is_moving:
            yield held("T303", judged, subject, depths, do)
        else:
            yield held("T303", replace(judged, fails_as=Status.CAUTION), subject, depths, do)


def _apart_in(loop: Loop, keep_out: KeepOut) -> float:
    """From the line itself to the keep-out, which may lie wholly inside it [in]."""
    x_from, y_from, x_to, y_to = keep_out.bounds_in
    if all(map(math.isfinite, keep_out.bounds_in)):
        corners = np.array([(x, y) for x in (x_from, x_to) for y in (y_from, y_to)])
        found = distances(Profile((loop,)), corners)
        if found.inside.all():
            to_line = (gap_to_point(keep_out, (float(x), float(y))) for x, y in extreme_points(loop))
            return min(float(found.distance_in.min()), *to_line)
    return gap_to(loop, keep_out)[0]
