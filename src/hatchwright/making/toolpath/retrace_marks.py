"""Judges what a traced file engraves: every mark from its beginning to its end, at one depth and no other."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hatchwright.job.machine import Engraver, Machine, Tool
from hatchwright.making.template.stroke_letters import Mark
from hatchwright.making.toolpath.retrace import Stroke, refuse
from hatchwright.said import said

_OFF_IN = 1e-5


def refuse_wrong_mark(strokes: Sequence[Stroke], mark: Mark, tool: Tool, machine: Machine) -> None:
    """Refuse the strokes of one mark when they do anything else than follow it.

    Args:
        strokes: fed moves between two rapids.
    Raises:
        ExportError: names the line and what is wrong there.
    """
    first, *along = strokes
    if not isinstance(tool, Engraver):
        refuse(first.line, said("trace.no_engraver"))
    heights = (first.start[2], machine.approach.inch), (first.end[2], -tool.depth.inch)
    if first.run_in or any(abs(is_at - wanted) > _OFF_IN for is_at, wanted in heights):
        refuse(first.line, said("trace.mark_depth"))
    if abs(first.feed_in - tool.plunge.inch) > _OFF_IN:
        refuse(first.line, said("trace.plunge_feed"))
    places = [first.start, *(stroke.end for stroke in along)]
    if len(places) != len(mark):
        refuse(first.line, said("trace.mark_places", n=len(places), wanted=len(mark)))
    for stroke, place, wanted in zip((first, *along), places, mark, strict=True):
        if math.dist(place[:2], wanted) > 2.0 * _OFF_IN:
            refuse(stroke.line, said("trace.mark_place"))
    for stroke in along:
        if stroke.center is not None or abs(stroke.end[2] + tool.depth.inch) > _OFF_IN:
            refuse(stroke.line, said("trace.mark_leaves"))
        if abs(stroke.feed_in - tool.feed.inch) > _OFF_IN:
            refuse(stroke.line, said("trace.feed"))
