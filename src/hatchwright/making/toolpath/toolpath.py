"""Toolpaths that make a template on the shop's machine: holes, marks, then windows, the outline last.

The tool's center runs half its diameter off the edge, by exact offset; the control compensates for nothing. An edge
is cut down the machine's ramp in equal passes, with the metal on the right of the travel, and stays hung on tabs.
Method: docs/theory/toolpath.md.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import Fault, GeometryError, JobError
from hatchwright.job.cutter import Template
from hatchwright.job.machine import Drill, EndMill, Engraver, Machine, Tool
from hatchwright.making.making import Making
from hatchwright.making.template.blank import Blank, laid_on_blank
from hatchwright.making.template.part import PartHole, template_part
from hatchwright.making.template.stroke_letters import Mark
from hatchwright.making.toolpath.edge_laps import Laps, lap_moves
from hatchwright.making.toolpath.tool_moves import Drilling, Move
from hatchwright.said import Listed, inch, missing, room, said
from hatchwright.shapes.offset import erode, grow
from hatchwright.shapes.profile import Loop, Profile
from hatchwright.units import Unit

POINT_RATIO = 0.5 / math.tan(math.radians(59.0))
"""Length of a drill's point of 118 degrees for each unit of its diameter [-]. Common practice, no source."""

DEEPEST_RATIO = 0.5
"""Deepest mark for each unit of the blank's thickness [-]. Common practice, no source."""

MOST_PASSES = 500
"""More passes or pecks than this are a slip of their depth or its unit [-]."""

_STOP_IN = 1e-4


class ToolRun(Struct, frozen=True):
    """All that one tool does, in order.

    Args:
        edges: what it cuts: windows, then outlines, each with the material on the left of the loop [in].
        moves: what the machine is told; begins and ends at the safe height.
    """

    tool: Tool
    holes: tuple[PartHole, ...]
    edges: tuple[Loop, ...]
    moves: tuple[Move | Drilling, ...]
    marks: tuple[Mark, ...] = ()


class Toolpath(Struct, frozen=True):
    """How a template is made on a machine: one run a tool, in the order of the work."""

    blank: Blank
    runs: tuple[ToolRun, ...]


def toolpath(making: Making, machine: Machine, marks: tuple[Mark, ...] = ()) -> Toolpath:
    """Plan the making of a job's template, not yet judged for room; see `room_faults`.

    Args:
        marks: what is engraved on the template's face, where it is drawn; nothing is without an engraver [in].
    Raises:
        JobError: the job tells no blank, or the machine lacks a tool or a reach that the template needs.
        GeometryError: the tabs do not fit round an edge.
    Method: docs/theory/toolpath.md.
    """
    blank = laid_on_blank(replace(template_part(making), marks=marks), making)
    return Toolpath(blank, tool_runs(blank, machine, _end_mill(machine, making.template)))


def tool_runs(blank: Blank, machine: Machine, mill: EndMill) -> tuple[ToolRun, ...]:
    """Plan what each tool does: drills, the engraver, then the end mill that the template was made for, with
    the windows before the outlines. Every hole and edge of the template is in one run, every mark too where
    there is an engraver.

    Raises:
        JobError: a hole has no drill, or a tool does not reach deep enough or in more than `MOST_PASSES`.
        GeometryError: an edge can't be followed in one run, or its tabs do not fit.
    """
    drills = _drills(machine, mill, blank.part.holes)
    runs = [_tool_run(tool, holes, (), blank, machine) for tool, holes in drills.items() if tool != mill]
    if machine.engraver and blank.part.marks:
        runs.append(_engraving(machine.engraver, blank, machine))
    edges = sorted(blank.part.material.loops, key=lambda loop: loop.area_sq_in)  # windows run clockwise
    return (*runs, _tool_run(mill, drills.get(mill, []), tuple(edges), blank, machine))


def depth_in(tool: Tool, blank: Blank, machine: Machine) -> float:
    """How far below the top of the blank a tool must go [in]."""
    if isinstance(tool, Engraver):
        return tool.depth.inch
    point_in = POINT_RATIO * tool.diameter.inch if isinstance(tool, Drill) else 0.0
    return blank.thickness_in + machine.cut_below.inch + point_in


def _end_mill(machine: Machine, template: Template) -> EndMill:
    if mill := machine.tool(EndMill, template.end_mill.inch):
        return mill
    what, do = said("toolpath.no_end_mill"), said("toolpath.no_end_mill.do")
    if kept := tuple(tool.diameter.text for tool in machine.tools if isinstance(tool, EndMill)):
        what, do = said("toolpath.other_end_mills", kept=Listed(kept, ",")), said("toolpath.end_mill.do")
    raise JobError((Fault("template.end_mill", what, template.end_mill.text, do, unit=machine.units),))


def _drills(
    machine: Machine, mill: EndMill, holes: tuple[PartHole, ...]
) -> dict[EndMill | Drill, list[PartHole]]:
    """Which tool drills which holes; the end mill does a hole of its own diameter when no drill does."""
    chosen: dict[EndMill | Drill, list[PartHole]] = {}
    for hole in holes:
        own = mill if abs(hole.diameter_in - mill.diameter.inch) < 1e-6 else None
        tool = machine.tool(Drill, hole.diameter_in) or own
        if tool is None:
            size = said("toolpath.given", size=inch(hole.diameter_in, fine=True))
            raise JobError.about("tools", "toolpath.no_drill", size, machine.units, hole=hole.name)
        chosen.setdefault(tool, []).append(hole)
    return chosen


def _tool_run(
    tool: EndMill | Drill, holes: list[PartHole], edges: tuple[Loop, ...], blank: Blank, machine: Machine
) -> ToolRun:
    """The run of one tool: its holes, then its edges."""
    deep_in = _reached_in(tool, blank, machine)
    key, peck = ("peck", tool.peck) if isinstance(tool, Drill) else ("pass_depth", tool.pass_depth)
    peck_in = peck.inch
    if deep_in / peck_in > MOST_PASSES:
        where, unit, depth = f"tools (number {tool.number}).{key}", machine.units, inch(deep_in)
        raise JobError.about(
            where, "toolpath.too_many_passes", peck.text, unit, depth=depth, most=MOST_PASSES
        )
    first_peck_in = peck_in if peck_in < deep_in else None
    moves: list[Move | Drilling] = [
        Drilling(hole.center, -deep_in, machine.approach.inch, first_peck_in, tool.plunge.inch)
        for hole in holes
    ]
    if isinstance(tool, EndMill):
        laps = _laps(tool, deep_in, blank, machine)
        for edge in edges:
            moves += _edge_moves(edge, tool, laps, machine.units)
    return ToolRun(tool, tuple(holes), edges, tuple(moves))


def _reached_in(tool: Tool, blank: Blank, machine: Machine) -> float:
    """How deep a tool goes, which it must reach [in]."""
    deep_in = depth_in(tool, blank, machine)
    if deep_in > tool.reach.inch:
        where, depth = f"tools (number {tool.number})", missing(deep_in)
        raise JobError.about(where, "toolpath.too_short", tool.reach.text, machine.units, depth=depth)
    return deep_in


def _engraving(tool: Engraver, blank: Blank, machine: Machine) -> ToolRun:
    """Follow every mark once, straight down at its beginning and up again at its end."""
    deep_in = _reached_in(tool, blank, machine)
    if deep_in > DEEPEST_RATIO * blank.thickness_in:
        where, most = f"tools (number {tool.number}).depth", room(DEEPEST_RATIO * blank.thickness_in)
        raise JobError.about(where, "toolpath.mark_too_deep", tool.depth.text, machine.units, most=most)
    marks = tuple(mark for mark in map(_without_stops, blank.part.marks) if len(mark) > 1)
    safe_in, approach_in = machine.safe_height.inch, machine.approach.inch
    moves: list[Move] = []
    for mark in marks:
        begin, end = mark[0], mark[-1]
        moves += [Move((*begin, safe_in)), Move((*begin, approach_in))]
        moves.append(Move((*begin, -deep_in), tool.plunge.inch))
        moves += [Move((*place, -deep_in), tool.feed.inch) for place in mark[1:]]
        moves.append(Move((*end, safe_in)))
    return ToolRun(tool, (), (), tuple(moves), marks)


def _without_stops(mark: Mark) -> Mark:
    """The same mark without places that the tool is at already."""
    kept = [mark[0]]
    for place in mark[1:]:
        if math.dist(place, kept[-1]) > _STOP_IN:
            kept.append(place)
    return tuple(kept)


def _laps(mill: EndMill, deep_in: float, blank: Blank, machine: Machine) -> Laps:
    count = math.ceil(deep_in / mill.pass_depth.inch - 1e-9)
    tab_in = machine.tabs.height.inch
    if tab_in >= blank.thickness_in:
        height, thickness = machine.tabs.height.text, inch(blank.thickness_in)
        raise JobError.about(
            "tabs.height", "toolpath.tabs_too_high", height, machine.units, thickness=thickness
        )
    return Laps(
        levels_in=tuple(-deep_in * (k + 1) / count for k in range(count)),
        slope_ratio=math.tan(math.radians(machine.ramp)),
        tab_count=machine.tabs.count,
        tab_run_in=machine.tabs.width.inch + mill.diameter.inch,
        tab_top_in=tab_in - blank.thickness_in,
        safe_in=machine.safe_height.inch,
        approach_in=machine.approach.inch,
        feed_in=mill.feed.inch,
        plunge_in=mill.plunge.inch,
    )


def _edge_moves(edge: Loop, mill: EndMill, laps: Laps, unit: Unit) -> Iterator[Move]:
    """Cut along an edge, the material on the right of the travel."""
    radius_in = mill.diameter.inch / 2.0
    is_window = edge.area_sq_in < 0.0
    region = Profile((edge.reversed() if is_window else edge,))
    paths = (erode(region, radius_in) if is_window else grow(region, radius_in)).cleaned().loops
    edge_of = "window" if is_window else "outline"
    if len(paths) != 1:
        what, do = said(f"toolpath.mill_stuck.{edge_of}"), said("toolpath.mill_stuck.do")
        raise GeometryError(what, where="template.end_mill", remedy=do, unit=unit)
    path = paths[0] if is_window else paths[0].reversed()
    if laps.tab_count * laps.tab_foot_in > 0.5 * path.length_in:
        foot, length, do = inch(laps.tab_foot_in), inch(path.length_in), said("toolpath.tabs_too_long.do")
        what = said(f"toolpath.tabs_too_long.{edge_of}", n=laps.tab_count, foot=foot, length=length)
        raise GeometryError(what, where="tabs", remedy=do, unit=unit)
    return lap_moves(path, laps)
