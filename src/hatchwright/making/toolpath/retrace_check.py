"""Judges a traced toolpath against the template and the machine, before the file is offered.

What should happen is worked out here once more from the template's edges and the shop's machine: the tool's center
half its diameter off the edge, its height by the length it has run, its holes. Method: docs/theory/toolpath.md.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from hatchwright.job.machine import Drill, EndMill, Engraver, Machine, Tool
from hatchwright.making.template.part import PartHole
from hatchwright.making.template.stroke_letters import Mark
from hatchwright.making.toolpath.retrace import DrilledHole, Stroke, Trace, refuse
from hatchwright.making.toolpath.retrace_edges import TracedEdge
from hatchwright.said import inch, missing, said
from hatchwright.shapes.profile import Loop

ON_PATH_IN = 1e-5
"""Farthest that the tool's center may be off its path [in]."""

_HEIGHT_IN = 2e-5
_LENGTH_IN = 3e-4
_SLOPE_IN = 2.5e-5
_SHARES = tuple(k / 8.0 for k in range(9))


class Wanted(Struct, frozen=True):
    """What a file must make the machine do.

    Args:
        edges: what is cut after that, in order, the material on the left of each [in].
        marks: what is engraved, in order; then there is nothing else in the file [in].
    """

    machine: Machine
    tool: Tool
    thickness_in: float
    holes: tuple[PartHole, ...]
    edges: tuple[Loop, ...]
    marks: tuple[Mark, ...] = ()


def refuse_wrong_trace(trace: Trace, wanted: Wanted) -> None:
    """Refuse a traced file that does anything else than what is wanted: the ExportError names the line and
    what is wrong there."""
    machine, tool = wanted.machine, wanted.tool
    safe = machine.safe_height.inch
    if (trace.unit, trace.tool, trace.spindle) != (machine.units, tool.number, tool.spindle):
        refuse(0, said("trace.other_tool"))
    if not _same(trace.first_height_in, safe):
        refuse(0, said("trace.not_safe_first"))
    count = len(wanted.holes)
    holes, rest = trace.actions[:count], trace.actions[count:]
    if len(holes) != count:
        refuse(0, said("trace.holes", n=len(holes), wanted=count))
    for done, hole in zip(holes, wanted.holes, strict=True):
        _refuse_wrong_hole(done, hole, wanted)
    runs = list(_runs(rest, wanted))
    if len(runs) != len(wanted.edges) + len(wanted.marks):
        refuse(0, said("trace.runs", n=len(runs), wanted=len(wanted.edges) + len(wanted.marks)))
    for strokes, mark in zip(runs, wanted.marks, strict=False):
        _refuse_wrong_mark(strokes, mark, wanted)
    for strokes, edge in zip(runs[len(wanted.marks) :], wanted.edges, strict=True):
        _refuse_wrong_run(strokes, edge, wanted)


def _same(value: float, other: float) -> bool:
    return abs(value - other) <= ON_PATH_IN


def _bottom(wanted: Wanted) -> float:
    point = wanted.tool.diameter.inch / 2.0 / math.tan(math.radians(118.0 / 2.0))
    tip = point if isinstance(wanted.tool, Drill) else 0.0
    return -(wanted.thickness_in + wanted.machine.cut_below.inch + tip)


def _refuse_wrong_hole(done: Stroke | DrilledHole, hole: PartHole, wanted: Wanted) -> None:
    if not isinstance(done, DrilledHole):
        refuse(done.line, said("trace.hole_missing", hole=hole.name))
    if math.dist(done.at, hole.center) > 2.0 * ON_PATH_IN:
        refuse(done.line, said("trace.hole_place", hole=hole.name))
    tool, machine, bottom = wanted.tool, wanted.machine, _bottom(wanted)
    if not isinstance(tool, Drill | EndMill):
        refuse(done.line, said("trace.hole_tool", hole=hole.name))
    heights = (done.top_in, machine.safe_height.inch), (done.approach_in, machine.approach.inch)
    if not all(_same(*pair) for pair in (*heights, (done.bottom_in, bottom))):
        refuse(done.line, said("trace.hole_heights", hole=hole.name))
    peck = tool.peck.inch if isinstance(tool, Drill) else tool.pass_depth.inch
    pecked = _same(done.peck_in, peck) if done.peck_in is not None else peck >= -bottom
    if not pecked or not _same(done.feed_in, tool.plunge.inch):
        refuse(done.line, said("trace.hole_feed", hole=hole.name))


def _runs(actions: Sequence[Stroke | DrilledHole], wanted: Wanted) -> Iterator[list[Stroke]]:
    """The strokes of each edge, from the rapid down to the rapid up; what lies between must be high enough."""
    safe, approach = wanted.machine.safe_height.inch, wanted.machine.approach.inch
    run: list[Stroke] = []
    for stroke in actions:
        if isinstance(stroke, DrilledHole):
            refuse(stroke.line, said("trace.late_hole"))
        if not stroke.is_rapid:
            run.append(stroke)
            continue
        rises, is_across = stroke.end[2] - stroke.start[2], stroke.run_in > 0.0
        if is_across and (rises or not _same(stroke.start[2], safe)):
            refuse(stroke.line, said("trace.rapid_across"))
        if rises < 0.0 and (run or not _same(stroke.end[2], approach)):
            refuse(stroke.line, said("trace.rapid_down"))
        if rises > 0.0:
            if not run or not _same(stroke.end[2], safe):
                refuse(stroke.line, said("trace.rapid_up"))
            yield run
            run = []
        if is_across and run:
            refuse(stroke.line, said("trace.rapid_in_blank"))
    if run:
        refuse(run[-1].line, said("trace.not_up_at_end"))


def _refuse_wrong_run(strokes: list[Stroke], edge: Loop, wanted: Wanted) -> None:
    """The way down in the air, then everything along the edge."""
    mill, machine = wanted.tool, wanted.machine
    assert isinstance(mill, EndMill)  # a drill has no edges
    first, *cutting = strokes
    if first.run_in or not _same(first.end[2], 0.0) or not _same(first.start[2], machine.approach.inch):
        refuse(first.line, said("trace.feed_start"))
    if not _same(first.feed_in, mill.plunge.inch):
        refuse(first.line, said("trace.plunge_feed"))
    traced = TracedEdge(edge.rows.tolist())
    is_window = traced.area_sq_in < 0.0
    length = traced.length_in + (-1.0 if is_window else 1.0) * math.pi * mill.diameter.inch
    heights = _Heights(wanted, mill, length)
    along = 0.0
    for stroke in cutting:
        _refuse_off_path(stroke, traced, mill, is_window=is_window)
        if stroke.run_in == 0.0:
            if stroke.end[2] <= stroke.start[2] or not _same(stroke.feed_in, mill.plunge.inch):
                refuse(stroke.line, said("trace.straight_down"))
            continue
        if not _same(stroke.feed_in, mill.feed.inch):
            refuse(stroke.line, said("trace.feed"))
        sinks = stroke.start[2] - stroke.end[2]
        if sinks > heights.slope * stroke.run_in + _SLOPE_IN:
            refuse(stroke.line, said("trace.ramp"))
        heights.refuse_wrong(stroke, along)
        along += stroke.run_in
    if abs(along - heights.total) > _LENGTH_IN:
        ran, round_it = inch(along, fine=True), inch(heights.total, fine=True)
        refuse(strokes[-1].line, said("trace.edge_length", length=ran, wanted=round_it))


def _refuse_off_path(stroke: Stroke, edge: TracedEdge, mill: EndMill, *, is_window: bool) -> None:
    radius = mill.diameter.inch / 2.0
    for share in _SHARES:
        off = abs(edge.nearest(stroke.at(share)[:2])[0] - radius)
        if off > ON_PATH_IN:
            refuse(stroke.line, said("trace.off_path", by=missing(off)))
    middle = stroke.at(0.5)[:2]
    if edge.has_inside(middle) != is_window:
        refuse(stroke.line, said("trace.wrong_side"))
    ahead, along = stroke.at(0.501)[:2], edge.nearest(middle)[1]
    # With the material on the left of the edge, the cut runs against it.
    if stroke.run_in and along is not None:
        onward = (ahead[0] - middle[0]) * along[0] + (ahead[1] - middle[1]) * along[1]
        if onward >= 0.0:
            refuse(stroke.line, said("trace.wrong_way"))


class _Heights:
    """The height of the tool by the length that it has run along an edge of one length."""

    def __init__(self, wanted: Wanted, mill: EndMill, length: float) -> None:
        machine = wanted.machine
        deep = -_bottom(wanted)
        count = math.ceil(deep / mill.pass_depth.inch - 1e-9)
        self.slope = math.tan(machine.ramp * math.pi / 180.0)
        self._spare = _HEIGHT_IN + self.slope * _LENGTH_IN
        self._length, self._bottom = length, -deep
        self._step, self._down = deep / count, deep / count / self.slope
        self._apart = length / machine.tabs.count
        self._level = machine.tabs.width.inch + mill.diameter.inch
        self._top = machine.tabs.height.inch - wanted.thickness_in
        self.total = count * (self._down + length)

    def refuse_wrong(self, stroke: Stroke, along: float) -> None:
        """Refuse a stroke that is not as high as it should be, at its ends and between."""
        for share in _SHARES:
            here, height = along + share * stroke.run_in, stroke.at(share)[2]
            near = [self._wanted(here + off) for off in (-_LENGTH_IN, 0.0, _LENGTH_IN)]
            if not min(near) - self._spare <= height <= max(near) + self._spare:
                at, run, due = (inch(one, fine=True) for one in (height, here, near[1]))
                refuse(stroke.line, said("trace.height", height=at, along=run, wanted=due))

    def _wanted(self, along: float) -> float:
        """Down one step, once round, down the next step; over a tab never lower than it."""
        turn, within = divmod(max(along, 0.0), self._down + self._length)
        lap = -self._step * turn - min(within * self.slope, self._step)
        past = (along - 0.5 * self._apart) % self._apart if along > 0.5 * self._apart else math.inf
        tab = self._top - max(past - self._level, 0.0) * self.slope
        return max(lap, tab, self._bottom)


def _refuse_wrong_mark(strokes: list[Stroke], mark: Mark, wanted: Wanted) -> None:
    """Every mark from its beginning to its end, at one depth and no other."""
    first, *along = strokes
    tool, approach = wanted.tool, wanted.machine.approach.inch
    if not isinstance(tool, Engraver):
        refuse(first.line, said("trace.no_engraver"))
    deep = -tool.depth.inch
    if first.run_in or not _same(first.start[2], approach) or not _same(first.end[2], deep):
        refuse(first.line, said("trace.mark_depth"))
    if not _same(first.feed_in, tool.plunge.inch):
        refuse(first.line, said("trace.plunge_feed"))
    places = [first.start, *(stroke.end for stroke in along)]
    if len(places) != len(mark):
        refuse(first.line, said("trace.mark_places", n=len(places), wanted=len(mark)))
    for stroke, place, asked in zip(strokes, places, mark, strict=True):
        if math.dist(place[:2], asked) > 2.0 * ON_PATH_IN:
            refuse(stroke.line, said("trace.mark_place"))
    for stroke in along:
        if stroke.center is not None or not _same(stroke.end[2], deep):
            refuse(stroke.line, said("trace.mark_leaves"))
        if not _same(stroke.feed_in, tool.feed.inch):
            refuse(stroke.line, said("trace.feed"))
