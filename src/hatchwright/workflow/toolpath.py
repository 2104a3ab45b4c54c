"""The toolpath files of a job's template, each traced back and given room on the machine before it is offered."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from msgspec import Struct

from hatchwright.drawings.flexed_template import bending_said
from hatchwright.drawings.made_file import MadeFile, MadeKind
from hatchwright.drawings.page_frame import aircraft_words, side_word
from hatchwright.drawings.template_words import template_engraving
from hatchwright.errors import JobError
from hatchwright.job.machine import Engraver, Machine
from hatchwright.layout.named import size
from hatchwright.making.template.blank import Blank
from hatchwright.making.toolpath.ngc import ngc_of
from hatchwright.making.toolpath.retrace import DrilledHole, Trace, retrace
from hatchwright.making.toolpath.retrace_check import Wanted, refuse_wrong_trace
from hatchwright.making.toolpath.room import room_faults
from hatchwright.making.toolpath.toolpath import Toolpath, ToolRun, toolpath
from hatchwright.said import Listed, inch, said
from hatchwright.words.tell import tell
from hatchwright.words.verdict import stop_text
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.paper_set import PaperSet, sets_of
from hatchwright.workflow.report import plain, verdicts_values
from hatchwright.workflow.template_files import sound_making, template_stops

SCHEMA = 1
"""Number of the toolpath report's own schema."""


class ToolpathFile(Struct, frozen=True):
    """One file of one tool, its blank with the template on it, and what the file was seen to do."""

    made: MadeFile
    run: ToolRun
    blank: Blank
    trace: Trace


def machine_files(
    examination: Examination, used: Machine, *, stamp: datetime, stem: str = "", name: str = "machine"
) -> tuple[ToolpathFile, ...]:
    """Make the toolpath files of an examined job in the order of the work, the other side's too when both get
    the opening; faults of the machine's file are told under its `name`.

    Raises:
        JobError: the machine lacks what the template needs, or the path has no room on it.
        GeometryError: an edge cannot be followed with that end mill, or its tabs do not fit.
        ExportError: no template is offered, or a file did not trace back as it was planned.
    """
    made: list[ToolpathFile] = []
    for one in sets_of(examination, stamp=stamp, stem=stem):
        making = sound_making(one.examination)
        marks = template_engraving(making, date=one.date) if used.engraver else ()
        path = toolpath(making, used, marks)
        made += (_file(one, path, number, used) for number in range(len(path.runs)))
    faults = dict.fromkeys(
        fault
        for file in made
        for fault in room_faults(
            file.trace, tool_in=file.run.tool.diameter.inch, blank=file.blank, machine=used
        )
    )
    if faults:
        raise JobError(tuple(faults), where=name)
    return tuple(made)


def toolpath_values(
    machine: Machine, files: tuple[ToolpathFile, ...], examination: Examination
) -> dict[str, Any]:
    """Turn toolpath files into plain values for programs, documented in docs/making-json.md."""
    return {
        "schema": SCHEMA,
        "verdicts": verdicts_values(*examination.sides),
        "stops": plain(template_stops(examination), machine.units),
        "units": machine.units,
        "is_engraved": machine.engraver is not None,
        "files": [
            {
                "name": file.made.name,
                "side": file.made.side.upper(),
                "tool": file.run.tool.number,
                "kind": file.run.tool.kind,
                "diameter_in": file.run.tool.diameter.inch,
                "holes": len(file.run.holes),
                "edges": len(file.run.edges),
                "marks": len(file.run.marks),
                "blank_in": [*file.blank.size_in, file.blank.thickness_in],
                "is_turned": file.blank.is_turned,
                "deepest_in": deepest_in(file.trace),
                "feed_minutes": feed_minutes(file.trace),
            }
            for file in files
        ],
    }


def deepest_in(trace: Trace) -> float:
    """How far a traced file goes below the top of the blank [in]."""
    lows = (a.bottom_in if isinstance(a, DrilledHole) else min(a.start[2], a.end[2]) for a in trace.actions)
    return -min(lows)


def feed_minutes(trace: Trace) -> float:
    """How long a traced file feeds; rapids and pecks come on top [min]."""
    minutes = 0.0
    for action in trace.actions:
        if isinstance(action, DrilledHole):
            minutes += (action.approach_in - action.bottom_in) / action.feed_in
        elif not action.is_rapid:
            minutes += max(action.run_in, abs(action.end[2] - action.start[2])) / action.feed_in
    return minutes


def _file(one: PaperSet, path: Toolpath, number: int, machine: Machine) -> ToolpathFile:
    """Write one file and trace it back."""
    run, blank = path.runs[number], path.blank
    counted = tell(said("ngc.head", number=number + 1, all=len(path.runs)))
    safe_in, remarks = machine.safe_height.inch, (counted, *_remarks(one, run, blank, machine))
    text = ngc_of(run, unit=machine.units, safe_in=safe_in, remarks=remarks)
    trace = retrace(text)
    refuse_wrong_trace(trace, Wanted(machine, run.tool, blank.thickness_in, run.holes, run.edges, run.marks))
    kind = run.tool.kind.upper().replace(" ", "_")
    ending = f"_{number + 1}_{kind}_T{run.tool.number}_{machine.units.upper()}.ngc"
    made = one.file(MadeKind.TOOLPATH, ending, text.encode("ascii"), true_size=True)
    return ToolpathFile(made, run, blank, trace)


def _remarks(one: PaperSet, run: ToolRun, blank: Blank, machine: Machine) -> tuple[str, ...]:
    """What stands at the top of a file for the person at the machine."""
    job, tool = one.examination.job, run.tool
    template = job.template
    assert template is not None  # a toolpath comes from a template
    unit, windows = machine.units, sum(edge.area_sq_in < 0.0 for edge in run.edges)
    work = [said("ngc.holes", n=len(run.holes))] if run.holes else []
    if isinstance(tool, Engraver):
        work.append(said("ngc.marks", n=len(run.marks), deep=inch(tool.depth.inch, fine=True)))
    if run.edges:
        work.append(said("ngc.edges", n=windows))
    stop, bent = stop_text(one.examination.verdict), bending_said(one.examination.layout)
    size_said, width = size(blank.size_in), inch(tool.diameter.inch, fine=True)
    remarks = (
        said("ngc.job", title=job.title),
        said("ngc.aircraft", aircraft=aircraft_words(job), side=side_word(job)),
        said("ngc.revision", revision=job.revision, issued=one.date),
        *((bent,) if bent else ()),
        said(f"ngc.tool.{tool.kind.replace(' ', '_')}", number=tool.number, width=width),
        said("ngc.blank", material=template.material, size=size_said, thick=inch(blank.thickness_in)),
        said("ngc.zero"),
        said("ngc.turned" if blank.is_turned else "ngc.side_up"),
        Listed(tuple(work), ","),
        *(() if machine.engraver else (said("ngc.not_engraved"),)),
    )
    return (*((stop,) if stop else ()), *(tell(remark, unit) for remark in remarks))
