"""Carried steps of the bench: cutter, template and trial, the parts, what is drilled on them there, the coupon."""

from __future__ import annotations

from hatchwright.documents.carry_lines import by_hand, carried, drilled_told, too_large
from hatchwright.documents.hole_steps import flush_kinds, is_found_on_coupon
from hatchwright.documents.step import Carried, Carriers, Check, Work
from hatchwright.drawings.parts_table import sheet_of, sheet_said
from hatchwright.layout.flat_pattern import template_stretch
from hatchwright.layout.layout import Layout, Part
from hatchwright.layout.sizes import size_of
from hatchwright.making.template.flat_size import flat_cut, flat_size
from hatchwright.recipe.hole_drills import drill_named
from hatchwright.recipe.task import Task
from hatchwright.said import Listed, Said, inch, said


def _measure_cut(task: Task, work: Work) -> Carried:
    cutter = work.layout.job.cutter
    assert cutter is not None  # the task is of the recipe only then
    cut = inch(cutter.cut_width.inch)
    slot = said("carry.measure_cut.slot")
    read = Check("reading", said("carry.measure_cut.read"), cut)
    return carried(said("carry.measure_cut"), (slot,), checks=(read,))


def _make_template(task: Task, work: Work) -> Carried:
    making = work.guided
    told = [said("carry.template.flat")] if template_stretch(making.layout) is not None else []
    edge = said("card.template.window" if making.is_window else "card.template.plug")
    return carried(said("carry.template"), told, checks=(_across(edge, flat_size(making), making.layout),))


def _trial(task: Task, work: Work) -> Carried:
    told = said("carry.trial.differs")
    return carried(
        said("carry.trial"),
        (told,),
        checks=(_across(said("carry.trial.cut"), flat_cut(work.guided), work.layout),),
    )


def _across(what: Said, sizes_in: tuple[float, float], layout: Layout) -> Check:
    """The two sizes of one thing, along X by along Y."""
    width_in, height_in = (by_hand(one, layout) for one in sizes_in)
    return Check("reading", what, size_of((0.0, 0.0, width_in, height_in)))


def _make_parts(task: Task, work: Work) -> Carried:
    job, parts = work.layout.job, [part for part in work.layout.parts if part.name != "skin"]
    what = said("carry.make", parts=Listed(tuple(said(f"part.{part.name}") for part in parts)))
    told = [_part(part) for part in parts]
    if job.cover and job.cover.screws and (strap := job.cover.screws.strap):
        sheet = sheet_of(strap.alloy, strap.temper, strap.thickness.inch, clad=strap.clad)
        told.append(said("carry.make.strap", sheet=sheet))
    if job.patch or (job.cover and job.cover.fit == "flush"):
        told.append(said("carry.make.waits", part=said("part.plug" if job.patch else "part.cover")))
    told += [said("carry.make.form")] if job.skin.curvature else []
    return carried(what, told, checks=(_sizes(part, work.layout) for part in parts))


def _part(part: Part) -> Said:
    """Its sheet; its outline stands on the sheet that it is cut from."""
    return said("carry.make.part", part=said(f"part.{part.name}"), sheet=sheet_said(part))


def _sizes(part: Part, layout: Layout) -> Check:
    x_min, y_min, x_max, y_max = part.edges[0].loop.bounds
    return _across(said(f"part.{part.name}"), (x_max - x_min, y_max - y_min), layout)


def _drill_doubler(task: Task, work: Work) -> Carried:
    done = Check("tick", said("carry.edges_checked"))
    return carried(said("carry.drill_doubler"), drilled_told(task, work.layout), checks=(done,))


def _cover_blank(task: Task, work: Work) -> Carried:
    told = (said("carry.cover_blank.how"), *too_large(task, work.guided), *drilled_told(task, work.layout))
    return carried(
        said("carry.cover_blank"), told, checks=(Check("tick", said("carry.cover_blank.same_face")),)
    )


def _strap(task: Task, work: Work) -> Carried:
    layout = work.layout
    part = said(f"part.{layout.holes_of('screw')[0].stack[-1]}")
    told = (said("carry.strap.how"), *drilled_told(task, layout))
    return carried(
        said("card.strap.title", part=part), told, checks=(Check("tick", said("carry.strap.deburred")),)
    )


def _coupon(task: Task, work: Work) -> Carried:
    """What the coupon must show, and the drill that it alone can give."""
    flush = flush_kinds(work)
    checks = [Check("tick", said("carry.coupon.heads_level"))] if flush else []
    for kind in flush:
        if kind.is_dimpled and is_found_on_coupon(kind):
            checks.append(Check("reading", said("carry.coupon.drill", kind=kind.name)))
        elif kind.is_dimpled:
            drills = dict.fromkeys(
                drill_named(layer.before_dimple) for layer in kind.layers if layer.before_dimple
            )
            before = said("carry.coupon.before_dimple", kind=kind.name)
            checks.append(Check("tick", before, Listed(tuple(drills), ",")))
    if work.layout.holes_of("rivet"):
        checks.append(Check("tick", said("carry.coupon.rivets")))
    told = [said("carry.coupon.same_sheets")]
    told += [said("carry.coupon.find_hole")] if any(map(is_found_on_coupon, flush)) else []
    told += [
        said("card.prepare.not_shown", kind=kind.name, lack=lack) for kind in flush for lack in kind.unknown
    ]
    return carried(
        said("card.coupon.title" if flush or work.layout.holes_of("rivet") else "card.coupon.title_drills"),
        told,
        checks=checks or [Check("tick", said("carry.coupon.drills"))],
    )


CARRIED_BENCH: Carriers = {
    "measure_cut": _measure_cut,
    "make_template": _make_template,
    "trial": _trial,
    "make_parts": _make_parts,
    "drill_doubler": _drill_doubler,
    "cover_blank": _cover_blank,
    "strap": _strap,
    "coupon": _coupon,
}
