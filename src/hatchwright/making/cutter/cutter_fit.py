"""T3xx: whether a cutter or hand tool can make this cut: thickness, corners, room behind, reach.

A shop asks it of the cutter in the job and of every other tool that it keeps.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from hatchwright.finding import Finding
from hatchwright.job.bay import KeepOut
from hatchwright.job.cutter import Cutter, HandTool, Tool
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least, judge_at_most
from hatchwright.layout.gaps import gap_to_point, gap_to_region
from hatchwright.layout.layout import Layout
from hatchwright.making.answer import answer
from hatchwright.making.cutter.starter import BESIDE_IN
from hatchwright.shapes.corners import Corner
from hatchwright.shapes.distance import distances
from hatchwright.shapes.extremes import extreme_points
from hatchwright.shapes.profile import Loop, Profile, profile_of
from hatchwright.units import length_words
from hatchwright.workings import Grade, Source

BEHIND_SPARE_IN = 0.125
"""What is to stay between a tool and what lies behind the skin [in]. Common practice, no source."""

FILED_IN = 0.0625
"""More metal than this nobody files off all round an opening [in]. Common practice, no source."""

_SHOP = Source("PRACTICE", "the shop's own measurement of the tool")

_JUDGES = {
    "capacity": "whether it cuts this thickness cleanly (T301)",
    "reach": "whether it gets all round from its starting hole (T304)",
    "eccentricity": "whether its cut stays in line when it is turned (T404)",
    "advance": "how high the ridges between its bites stand (T403)",
}
"""What each measurement of a tool is needed for."""


def cutter_findings(layout: Layout) -> tuple[Finding, ...]:
    """Judge the job's own cutter.

    Returns:
        tuple: findings in the order of their code; empty without a cutter.
    """
    return tool_findings(layout, layout.job.cutter) if layout.job.cutter else ()


def tool_findings(layout: Layout, tool: Cutter | HandTool) -> tuple[Finding, ...]:
    """Judge a tool for the rough cut of a job; what was never measured of it is said to be unknown.

    Args:
        tool: cutter or hand tool of the shop.
    Returns:
        tuple: findings in the order of their code.
    """
    line = layout.rough_cut or profile_of(layout.wanted)
    found = [*_thickness(layout, tool), *_behind(layout, tool, line), *_reach(layout, tool, line)]
    found += _not_measured(tool)
    if isinstance(tool, Cutter):
        found += _filed(layout, tool)
    if isinstance(tool, HandTool):
        corner = layout.rough_corner if layout.rough_cut else layout.bulging_corner
        found += [*_turns(tool, corner), *_round(layout, tool, corner)]
    return tuple(sorted(found, key=lambda finding: finding.code))


def _name(tool: Tool) -> str:
    kind = tool.kind if isinstance(tool, Cutter | HandTool) else "tool"
    return f"{kind} {tool.name}".strip()


def _not_measured(tool: Cutter | HandTool) -> Iterator[Finding]:
    """T306: what a finding would need of the tool has been measured; how far it reaches behind is asked for by T303."""
    wanted = ["capacity"] if not isinstance(tool, HandTool) or tool.kind != "snips" else []
    if isinstance(tool, Cutter):
        wanted += ["reach", "eccentricity", *(["advance"] if tool.kind == "round-punch nibbler" else [])]
    missing = [name for name in wanted if getattr(tool, name) is None]
    if missing:
        judged = ", ".join(_JUDGES[name] for name in missing)
        yield answer(
            "T306",
            Status.CAUTION,
            f"not measured of the {_name(tool)}: {', '.join(missing)}",
            source=_SHOP,
            grade=Grade.SHOP,
            advice=f"Until it is entered this is not judged: {judged}. Prove it on scrap, and measure.",
        )


def _filed(layout: Layout, tool: Cutter) -> Iterator[Finding]:
    """T307: no more metal is left to file than anybody files."""
    left_in, unit = tool.filing_allowance.inch, layout.job.unit
    if left_in > FILED_IN + FLOAT_NOISE:
        yield answer(
            "T307",
            Status.CAUTION,
            f"metal left to file by the {_name(tool)}, all round: {length_words(left_in, unit)}",
            value=left_in,
            limit=FILED_IN,
            source=Source("PRACTICE", "metal left to file"),
            grade=Grade.PRACTICE,
            advice="That is more than one files off by hand. Check its unit; the cut is made that much inside the "
            "finished line, and corner radius and template with it.",
        )


def _thickness(layout: Layout, tool: Cutter | HandTool) -> Iterator[Finding]:
    """T301: the skin is no thicker than the tool cuts cleanly."""
    skin = layout.job.skin
    thickness_in = max(skin.thickness.inch, skin.measured.inch if skin.measured else 0.0)
    capacity, source, grade = tool.capacity, _SHOP, Grade.SHOP
    most_in = capacity.inch if capacity else None
    if most_in is None and isinstance(tool, HandTool) and tool.kind == "snips":
        published = layout.limit("snips_max_thickness")
        most_in, source, grade = published.value, published.source, published.grade
    if most_in is None:
        return
    yield answer(
        "T301",
        judge_at_most(thickness_in, most_in),
        f"skin thickness for the {_name(tool)}",
        value=thickness_in,
        limit=most_in,
        source=source,
        grade=grade,
        advice="Take a cutter for thicker sheet, or another method.",
    )


def _turns(tool: HandTool, corner: Corner | None) -> Iterator[Finding]:
    """T302: the tool turns the sharpest corner, where its corners are not drilled first."""
    if tool.least_radius is None or corner is None:
        return
    yield answer(
        "T302",
        judge_at_least(corner.radius_in, tool.least_radius.inch, short=Status.CAUTION),
        f"sharpest corner for the {_name(tool)}",
        value=corner.radius_in,
        limit=tool.least_radius.inch,
        source=_SHOP,
        grade=Grade.SHOP,
        advice="Drill the corners first and cut straight between the holes.",
        place=corner.place,
    )


def _round(layout: Layout, tool: HandTool, corner: Corner | None) -> Iterator[Finding]:
    """T305: a hole saw or step drill makes the size of the corners, or of a round opening."""
    if not tool.diameters or corner is None:
        return
    wanted_in = 2.0 * corner.radius_in
    nearest_in = min((size.inch for size in tool.diameters), key=lambda inch: abs(inch - wanted_in))
    fits = nearest_in <= wanted_in + 1e-9 and wanted_in - nearest_in < 1.0 / 32.0
    yield answer(
        "T305",
        Status.PASS if fits else Status.CAUTION,
        f"nearest hole of the {_name(tool)} for corners of {length_words(wanted_in, layout.job.unit)} diameter",
        value=nearest_in,
        limit=wanted_in,
        source=_SHOP,
        grade=Grade.SHOP,
        advice="A larger hole cuts beyond the corner; a smaller one leaves the rest to be filed.",
    )


def _behind(layout: Layout, tool: Cutter | HandTool, line: Profile) -> Iterator[Finding]:
    """T303: what lies behind the waste, the line or the tool beside it is farther than the tool reaches.

    At the line there is no way round it; elsewhere there may be one, and it is a caution.
    """
    unit = layout.job.unit
    for keep_out in layout.job.bay.keep_outs:
        depth = keep_out.depth
        beside_in = min(gap_to_region(loop, keep_out)[0] for loop in line.loops)
        if depth is None or depth.inch == 0.0 or beside_in > _sideways_in(tool):
            continue
        where = f"behind the {'waste' if beside_in <= 0.0 else 'tool'}"
        if any(_apart_in(loop, keep_out) <= _cut_in(tool) for loop in line.loops):
            where = "behind the cut"
        elif beside_in > 0.0:
            where += f", {length_words(beside_in, unit)} beside the line"
        if tool.behind is None:
            yield answer(
                "T303",
                Status.UNKNOWN,
                f"{keep_out.name} lies {length_words(depth.inch, unit)} {where}",
                limit=depth.inch,
                source=_SHOP,
                grade=Grade.SHOP,
                advice=f"Measure how far the {_name(tool)} reaches behind the skin (cutter.behind).",
            )
            continue
        room_in = depth.inch - tool.behind.inch
        meets = Status.STOP if where == "behind the cut" else Status.CAUTION
        yield answer(
            "T303",
            meets if room_in <= 0.0 else judge_at_least(room_in, BEHIND_SPARE_IN, short=Status.CAUTION),
            f"room between the {_name(tool)} and {keep_out.name} {where}",
            value=room_in,
            limit=BEHIND_SPARE_IN,
            source=Source("PRACTICE", "room behind the skin"),
            grade=Grade.PRACTICE,
            advice=f"It lies {length_words(depth.inch, unit)} behind the skin, the tool reaches "
            f"{length_words(tool.behind.inch, unit)}: move what lies there, shield it, or use a tool that reaches less "
            "far behind the skin"
            + (
                "."
                if where == "behind the cut"
                else "; or mark its place on the skin and lead the tool round it."
            ),
        )


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


def _reach(layout: Layout, tool: Cutter | HandTool, line: Profile) -> Iterator[Finding]:
    """T304: the tool gets from its starting hole to the farthest part of the line."""
    if tool.reach is None:
        return
    at = tool.starter_at if isinstance(tool, Cutter) else None
    start = (at[0].inch, at[1].inch) if at else layout.center_in
    points = np.vstack([loop.points(1e-3) for loop in line.loops])
    farthest_in = float(np.hypot(*(points - np.array(start)).T).max())
    yield answer(
        "T304",
        judge_at_most(farthest_in, tool.reach.inch),
        f"farthest part of the cut from the starting hole, for the {_name(tool)}",
        value=farthest_in,
        limit=tool.reach.inch,
        source=_SHOP,
        grade=Grade.SHOP,
        advice="Start nearer to that part, or from two holes.",
    )
