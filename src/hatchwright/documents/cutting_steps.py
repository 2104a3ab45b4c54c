"""Steps at length up to the finished opening: cutter, template, trial, cut, file, measure."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.step import PRACTICE, Line, Step, Tellers, Work, asked, line
from hatchwright.documents.stop_lines import stop_lines
from hatchwright.drawings.parts_table import sheet_said
from hatchwright.drawings.template_words import purpose_said
from hatchwright.job.frame import OPPOSITE
from hatchwright.job.job import Job
from hatchwright.job.patch import DamagePoint
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.named import kind_named, tool_named
from hatchwright.layout.sizes import Bounds, diameter_of, is_round, size_of
from hatchwright.making.cutter.cutter_fit import cutter_stop
from hatchwright.making.pins.notes import stage_lines
from hatchwright.making.pins.pin_layout import planned_pins
from hatchwright.making.pins.runs import TAB_IN
from hatchwright.making.template.flat_size import flat_cut, flat_size
from hatchwright.recipe.stops import tool_stop
from hatchwright.recipe.task import Task
from hatchwright.said import Listed, Place, Said, Value, inch, said
from hatchwright.shapes.corners import Corner


def _measure_cut(task: Task, work: Work) -> Step:
    layout, cutter = work.layout, work.layout.job.cutter
    assert cutter is not None  # the task is of the recipe only then
    width, guide = inch(cutter.cut_width.inch), inch(cutter.guide.inch)
    lines = (
        line(said("card.measure_cut.tool", tool=kind_named(cutter.kind), cut=width, guide=guide)),
        line(said("card.measure_cut.on_scrap", sheet=sheet_said(layout.parts[0]))),
        line(said("card.measure_cut.differs", cut=width)),
    )
    blanks = said("card.measure_cut.along_x", cut=width), said("card.measure_cut.along_y", cut=width)
    return Step(said("card.measure_cut.title"), lines, blanks)


def _make_template(task: Task, work: Work) -> Step:
    making = work.guided
    guide = making.chain.guide
    width_in, height_in = flat_size(making)
    is_flexed = template_stretch(making.layout) is not None
    offset, on_guide, cut = (inch(guide.offset_in, fine=True), inch(guide.guide_in), inch(guide.cut_in))
    of = "window" if making.is_window else "plug"
    flat, edge = "_flat" if is_flexed else "", said(f"card.template.{of}")
    told = [
        said(f"card.template.offset_of_{of}", offset=offset, guide=on_guide, cut=cut),
        *purpose_said(making),
        said("card.template.check_first"),
        said("card.template.end_mill", end_mill=inch(guide.end_mill_in)),
    ]
    told += [said("card.template.never_flat")] if is_flexed else []
    sizes = zip("xy", (width_in, height_in), strict=True)
    blanks = (said(f"card.template.along_{axis}{flat}", edge=edge, size=inch(size)) for axis, size in sizes)
    return Step(said("card.template.title"), tuple(map(line, told)), tuple(blanks))


def _trial(task: Task, work: Work) -> Step:
    making = work.guided
    width_in, height_in = flat_cut(making)
    is_flexed = template_stretch(making.layout) is not None
    id = "card.trial.cut_flat" if is_flexed else "card.trial.cut"
    cut = said(id, sheet=sheet_said(making.layout.parts[0]))
    gives_in, corner = (0.0, 0.0, width_in, height_in), None if is_flexed else making.chain.predicted_corner
    gives = said("card.trial.gives", size=size_of(gives_in, corner))
    lines = [line(cut, gives, *_corner(gives_in, corner))]
    if is_flexed:
        lines.append(line(said("card.trial.on_skin", size=size_of(making.chain.predicted.bounds))))
    lines.append(line(said("card.trial.differs")))
    along_x, along_y = inch(width_in), inch(height_in)
    blanks = (said("card.trial.along_x", size=along_x), said("card.trial.along_y", size=along_y))
    return Step(said("card.trial.title"), tuple(lines), blanks)


def _protect(task: Task, work: Work) -> Step:
    count_in = line(said("card.protect.count_in"), rests_on=(PRACTICE,))
    lines = line(said("card.protect.tape")), count_in
    return Step(said("card.protect.title"), lines, (said("card.protect.counted_in"),))


def _contain(task: Task, work: Work) -> Step:
    """What is caught, covered and looked at behind the skin, as soon as there is a way in."""
    entered = work.layout.job.bay.way_in
    way = said("card.contain.way_in", way=entered) if entered else said("card.contain.opening")
    lines = (
        line(way, said("card.contain.look")),
        line(said("card.contain.catch_chips"), said("card.contain.cover")),
    )
    return Step(said("card.contain.title"), lines, (said("card.contain.looked"),))


def _find_damage(task: Task, work: Work) -> Step:
    """The damage is found anew before anything is marked: a crack may have grown since it was measured."""
    patch = work.layout.job.patch
    assert patch is not None  # the task is of the recipe only then
    points = (
        said("card.find_damage.point", at=_place(one), u=inch(one.uncertainty.inch)) for one in patch.extent
    )
    lines = (
        line(said(f"card.find_damage.{patch.damage}"), said("card.find_damage.cause")),
        line(
            said("card.find_damage.entered", points=Listed(tuple(points), ";")),
            said("card.find_damage.grown"),
        ),
    )
    blanks = tuple(said("card.find_damage.at", at=_place(one)) for one in patch.extent)
    return Step(said("card.find_damage.title"), lines, blanks)


def _place(point: DamagePoint) -> Place:
    x, y = point.at
    return Place(x.inch, y.inch)


def _mark_out(task: Task, work: Work) -> Step:
    layout = work.layout
    frame, center = layout.frame, Place(*layout.center_in)
    agree = layout.limit("centre_routes_agree")
    lines = (
        line(said("card.mark_out.origin", origin=frame.origin, x=frame.x, y=frame.y)),
        line(said("card.mark_out.center", center=center)),
        line(said("card.mark_out.two_routes", limit=inch(agree.value)), rests_on=(agree,)),
        asked("mark_with_soft_pencil"),
    )
    blanks = tuple(said(f"card.mark_out.{which}_route", center=center) for which in ("first", "second"))
    return Step(said("card.mark_out.title"), lines, blanks)


def _by_hand(job: Job) -> str:
    """How a hand tool makes the opening: along its line, or a round hole in one."""
    return "round_hole" if job.hand_tool and job.hand_tool.what.round_holes else "by_hand"


def _cut_out(task: Task, work: Work) -> Step:
    layout, making = work.layout, work.making
    bounds = (layout.rough_cut or layout.wanted).bounds
    pins = planned_pins(making) if making else None
    stages = stage_lines(making, pins) if making and pins else ()
    is_loose = pins is not None and pins.plan is None
    tab = () if stages else (said("card.cut_out.tab", tab=inch(TAB_IN)),)
    last = () if stages else (said("card.cut_out.tab_last"),)
    tool = layout.job.tool
    of = "size" if layout.job.cutter else _by_hand(layout.job) if tool else "by_tool"
    is_circle = is_round(
        layout.wanted.bounds, layout.wanted_corner
    )  # then what is cut before filing is one too
    size = diameter_of(bounds) if is_circle else size_of(bounds)
    named = {"tool": tool_named(tool)} if tool else {}
    lines = [line(said(f"card.cut_out.{of}", size=size, **named))]
    lines += [line(said("card.cut_out.not_held"))] if is_loose else []
    lines += [line(said("card.cut_out.stage", words=one)) for stage in stages for one in stage]
    if tool:
        lines += stop_lines(cutter_stop(layout), "cutter")
    else:
        lines += stop_lines(tool_stop(layout), "tool")
    of = "hold" if making is None or making.is_window else "hold_by_plug"
    lines.append(line(*tab, said(f"card.cut_out.{of}"), *last, rests_on=(PRACTICE,)))
    cut = (said("card.cut_out.stage_cut", number=number) for number, _ in enumerate(stages, start=1))
    blanks = (*cut, said("card.cut_out.kept"))
    return Step(said("card.cut_out.title"), tuple(lines), blanks)


def _file(task: Task, work: Work) -> Step:
    layout, cutter = work.layout, work.layout.job.cutter
    least, most = layout.limit("edge_break_min"), layout.limit("edge_break_max")
    left = (said("card.file.left", left=inch(cutter.filing_allowance.inch)),) if cutter else ()
    wanted, corner = layout.wanted.bounds, layout.wanted_corner
    to = said("card.file.to", size=size_of(wanted, corner))
    filed = line(*left, to, *_corner(wanted, corner))
    broken = said("card.file.break_edges", least=inch(least.value), most=inch(most.value))
    lines = [filed, asked("edge_finish"), line(broken, rests_on=(least, most))]
    is_patch = layout.job.patch is not None
    lines += [line(said("card.file.no_damage_left"))] if is_patch else []
    blanks = (said("card.file.penetrant"),) if is_patch else ()
    return Step(said("card.file.title"), tuple(lines), blanks)


def _corner(bounds: Bounds, corner: Corner | None) -> Iterator[Said]:
    if corner and not is_round(bounds, corner):
        yield said("card.corner", radius=inch(corner.radius_in, fine=True))


def _measure_opening(task: Task, work: Work) -> Step:
    layout = work.layout
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    corner, made, frame = layout.wanted_corner, layout.job.as_made, layout.frame
    blanks: list[Value] = [
        said("card.opening.x_min", way=OPPOSITE[frame.x], at=inch(x_min)),
        said("card.opening.x_max", way=frame.x, at=inch(x_max)),
        said("card.opening.y_min", way=OPPOSITE[frame.y], at=inch(y_min)),
        said("card.opening.y_max", way=frame.y, at=inch(y_max)),
    ]
    if corner:
        across_in = 2.0 * corner.radius_in + FLOAT_NOISE
        is_end = across_in >= min(x_max - x_min, y_max - y_min)
        of = "round" if is_round(layout.wanted.bounds, corner) else "end" if is_end else "corner"
        radius, across = inch(corner.radius_in, fine=True), inch(x_max - x_min)
        blanks.append(said(f"card.opening.{of}", radius=radius, across=across))
    lines: list[Line] = [line(said("card.opening.measure"), said("card.opening.then"))]
    if made and made.opening:
        size, u = size_of(layout.opening.bounds), inch(made.edge_u_in(made.opening))
        lines.append(line(said("card.opening.entered", size=size, u=u)))
    return Step(said("card.opening.title"), tuple(lines), tuple(blanks))


CUTTING: Tellers = {
    "measure_cut": _measure_cut,
    "make_template": _make_template,
    "trial": _trial,
    "protect": _protect,
    "contain": _contain,
    "find_damage": _find_damage,
    "mark_out": _mark_out,
    "cut_out": _cut_out,
    "file": _file,
    "measure_opening": _measure_opening,
}
