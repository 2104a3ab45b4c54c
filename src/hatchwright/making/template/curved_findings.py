"""T7xx: templates, doublers and flat bases on a curved skin."""

from __future__ import annotations

import math
from functools import partial

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.finding import Finding, held, stated
from hatchwright.ground import computed, practice
from hatchwright.job.cutter import Cutter, Template
from hatchwright.job.mount import Mount
from hatchwright.job.parts import Doubler
from hatchwright.job.skin import Curvature
from hatchwright.judged import Judgement, Measure, Status
from hatchwright.layout.curved import CurvedSkin, curved_skin
from hatchwright.layout.layout import Layout
from hatchwright.layout.named import why
from hatchwright.making.template.rigid_template import rigid_edge_in, rigid_over_in
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Amount, Said, inch, said
from hatchwright.workings import Working

NOTICED_IN = 0.004
"""Error of a hole pattern that a fastener's clearance no longer hides [in]. Common practice, no source."""

_THEORY = "docs/theory/curved.md"
_FORM = computed(_THEORY)
_PRACTICE = practice(f"holes that must meet; {_THEORY}")

_READS = ("cutter", "parts", "skin", "template")
_entry = partial(Entry, theory=_THEORY)
T701 = enter(_entry("T701", Shelf.HOLDS, step="measure", reads=("skin",), forbids_template=True))
T702 = enter(_entry("T702", Shelf.HOLDS, step="template", reads=_READS, forbids_template=True))
T703 = enter(_entry("T703", Shelf.SETTLE, step="template", reads=("holes", "skin", "template")))
T704 = enter(_entry("T704", Shelf.SETTLE, step="doubler", reads=("doubler", "holes", "skin")))
T705 = enter(_entry("T705", Shelf.KNOW, step="doubler", reads=("doubler", "skin")))
T706 = enter(_entry("T706", Shelf.SETTLE, step="mount", reads=("mount", "skin")))
T707 = enter(_entry("T707", Shelf.SETTLE, step="template", reads=("cutter", "skin", "template")))


def curved_findings(layout: Layout) -> tuple[Finding, ...]:
    """Judge what is made flat for a curved skin."""
    curvature = layout.job.skin.curvature
    if curvature is None:
        return ()
    job = layout.job
    template, doubler, mount, cutter = job.template, job.doubler, job.mount, job.cutter
    found: list[Finding] = []
    try:
        skin = curved_skin(curvature, thickness_in=job.skin.thickness.inch, unit=job.unit)
        found.append(_radius(skin, curvature))
        if template is None or not template.flexed:
            found.append(_rigid(layout, skin))
        edge_in = rigid_edge_in(layout)
        if edge_in is not None and cutter:
            found.append(_rigid_cut(layout, skin, cutter, edge_in))
        if template and template.flexed is not False:
            found.append(_flexed(layout, skin, template))
        if doubler:
            found += [_flat_drilled(layout, skin, doubler), _rolled(skin, doubler)]
        if mount:
            found.append(_base(skin, mount))
        if template and template.flexed and cutter:
            found.append(_fan(skin, template, cutter))
    except GeometryError as error:
        return (stated("T701", Status.STOP, said("T701.refused"), _FORM, *why(error)),)
    return tuple(found)


def _noticed(symbol: str, error_in: float, *more: Working) -> Judgement:
    """Hold an error of a hole pattern to what is noticed."""
    return _PRACTICE.at_most(Measure(symbol, error_in), NOTICED_IN, *more, fails_as=Status.CAUTION)


def _along(skin: CurvedSkin) -> Said:
    return said(f"axis.{skin.along}")


def _radius(skin: CurvedSkin, curvature: Curvature) -> Finding:
    """T701: the radius of the skin, and whether it is straight along the other axis."""
    chord_in, rise_in = curvature.chord.inch, curvature.rise.inch
    told = (_FORM.lengths("R = c^2/(8 h) + h/2", R=skin.radius_in, c=chord_in, h=rise_in),)
    subject, radius_in = said("T701.radius", axis=_along(skin)), skin.radius_in
    if curvature.other_rise is not None:
        return stated("T701", Status.PASS, subject, _FORM, value=radius_in, unit="in", working=told)
    do, asked = said("T701.other_axis"), ("skin.curvature.other_rise",)
    return stated(
        "T701", Status.CAUTION, subject, _FORM, do, value=radius_in, unit="in", enter=asked, working=told
    )


def _farthest_in(layout: Layout, skin: CurvedSkin) -> float:
    """From the center of the opening along the curve to the farthest edge of what is put on the skin."""
    edges = (edge.loop.bounds for part in layout.parts if part.name != "cover" for edge in part.edges)
    axis, middle = skin.axis, layout.center_in[skin.axis]
    return max(max(middle - bounds[axis], bounds[axis + 2] - middle) for bounds in edges)


def _rigid(layout: Layout, skin: CurvedSkin) -> Finding:
    """T702: a rigid flat template puts marks where they should be."""
    arc_in = _farthest_in(layout, skin)
    error_in, off_in = skin.rigid_error_in(arc_in), skin.stand_off_in(arc_in)
    working = [
        _FORM.lengths("s - R sin(s/R)", error=error_in, s=arc_in, R=skin.radius_in),
        _FORM.lengths("R (1 - cos(s/R))", **{"stand-off": off_in}, s=arc_in, R=skin.radius_in),
    ]
    drilled = said("T702.misses_the_skin")
    if arc_in < skin.radius_in:
        beyond_in = skin.radius_in * math.asin(arc_in / skin.radius_in) - arc_in
        drilled = said("T702.drilled", by=inch(beyond_in, fine=True))
        working.append(_FORM.lengths("R asin(s/R) - s", drilled=beyond_in, s=arc_in, R=skin.radius_in))
    marks = said("T702.marks", by=inch(error_in, fine=True), arc=inch(arc_in), off=inch(off_in))
    return held("T702", _noticed("error", error_in, *working), marks, drilled, said("T702.bend_or_mark"))


def _rigid_cut(layout: Layout, skin: CurvedSkin, cutter: Cutter, edge_in: float) -> Finding:
    """T702: what a rigid flat template cuts beyond the rough line is less than is left to file."""
    over_in, left_in = rigid_over_in(layout), cutter.filing_allowance.inch
    working = _FORM.lengths("R asin(e/R) - e", beyond=over_in, e=edge_in, R=skin.radius_in)
    judged = _FORM.at_most(Measure("beyond", over_in), left_in, working)
    subject = said("T702.cut", by=inch(over_in, fine=True), edge=inch(edge_in), axis=_along(skin))
    return held("T702", judged, subject, said("T702.left", left=inch(left_in, fine=True)), said("T702.bend"))


def _pattern_in(layout: Layout, skin: CurvedSkin) -> float:
    """Length of the hole pattern through the skin along the curve, else of the opening [in]."""
    along = [(hole.x_in, hole.y_in)[skin.axis] for hole in layout.holes if "skin" in hole.stack]
    if along:
        return float(np.ptp(along))
    bounds = layout.wanted.bounds
    return bounds[skin.axis + 2] - bounds[skin.axis]


def _flexed(layout: Layout, skin: CurvedSkin, template: Template) -> Finding:
    """T703: a flexed template's pattern is stretched for its thickness."""
    length_in, thick_in = _pattern_in(layout, skin), template.thickness.inch
    shrink_in = skin.flexed_shrink_in(length_in, template_in=thick_in)
    ratio = skin.flexed_pattern_ratio(template_in=thick_in)
    times, sizes = Amount(ratio, "times"), {"L": length_in, "T": thick_in, "R": skin.radius_in}
    if template.flexed:
        flat_in = length_in * ratio
        flat, length = inch(flat_in, fine=True), inch(length_in, fine=True)
        subject = said("T703.drawn_flat", ratio=times, axis=_along(skin), flat=flat, length=length)
        working = _FORM.lengths("L (R + T/2) / R", flat=flat_in, **sizes)
        return stated("T703", Status.PASS, subject, _FORM, value=flat_in, unit="in", working=(working,))
    judged = _noticed("shrink", shrink_in, _FORM.lengths("L T / (2 R + T)", shrink=shrink_in, **sizes))
    subject = said("T703.shrink", length=inch(length_in), thickness=inch(thick_in))
    do = said("T703.bent_or_flat", ratio=times, axis=_along(skin))
    asked = () if judged.status is Status.PASS else ("template.flexed",)
    return held("T703", judged, subject, do, enter=asked)


def _flat_drilled(layout: Layout, skin: CurvedSkin, doubler: Doubler) -> Finding:
    """T704: a doubler that is drilled flat meets the skin's holes once it is rolled."""
    length_in, sheet_in = _pattern_in(layout, skin), doubler.thickness.inch
    growth_in = skin.flat_drilled_growth_in(length_in, sheet_in=sheet_in, face=doubler.face)
    both_in = skin.both_flat_growth_in(length_in, sheet_in=sheet_in, face=doubler.face)
    inside = doubler.face == "inside"
    outer_in = skin.radius_in - skin.thickness_in if inside else skin.radius_in + sheet_in
    middle_in = outer_in - sheet_in / 2.0
    ratio = skin.flat_place_ratio(sheet_in=sheet_in, face=doubler.face)
    sizes = {"L": length_in, "t_s": skin.thickness_in, "t_d": sheet_in, "R": skin.radius_in}
    formula = f"{'' if inside else '-'}L (t_s + t_d) / 2 / (R - t_s / 2)"
    both_flat = _FORM.lengths(formula, **{"off, both drilled flat": both_in}, **sizes)
    one_flat = _FORM.lengths("L R / R_m - L", off=growth_in, L=length_in, R=skin.radius_in, R_m=middle_in)
    subject = said(f"T704.{doubler.face}", length=inch(length_in), both=inch(abs(both_in), fine=True))
    do = said("T704.do", axis=_along(skin), ratio=Amount(ratio, "times"))
    return held("T704", _noticed("off", abs(growth_in), one_flat, both_flat), subject, do)


def _rolled(skin: CurvedSkin, doubler: Doubler) -> Finding:
    """T705: the radius that the doubler is rolled to."""
    outer_in, inner_in = skin.roll_radii_in(sheet_in=doubler.thickness.inch, face=doubler.face)
    sizes = {"R": skin.radius_in, "t_s": skin.thickness_in, "t_d": doubler.thickness.inch}
    working = _FORM.lengths("R - t_s inside, R + t_d outside", **{"outer face": outer_in}, **sizes)
    subject = said("T705.subject", outer=inch(outer_in), inner=inch(inner_in))
    return stated("T705", Status.PASS, subject, _FORM, value=outer_in, unit="in", working=(working,))


def _base(skin: CurvedSkin, mount: Mount) -> Finding:
    """T706: a flat base lies on the skin."""
    half_in = mount.base[skin.axis].inch / 2.0
    gap_in = skin.gap_under_flat_in(half_in)
    screws, named = mount.screw_pattern, said(f"making.mount.{mount.kind}")
    subject = said("T706.subject", mount=named)
    if screws:
        at_screws_in = skin.gap_under_flat_in(screws[skin.axis].inch / 2.0)
        subject = said("T706.with_screws", mount=named, at_screws=inch(at_screws_in))
    working = _FORM.lengths("R - sqrt(R^2 - a^2)", gap=gap_in, R=skin.radius_in, a=half_in)
    return held("T706", _noticed("gap", gap_in, working), subject, said("T706.do"))


def _fan(skin: CurvedSkin, template: Template, cutter: Cutter) -> Finding:
    """T707: the edge of a flexed template stands open like a fan, the guide and the cut are straight."""
    guide_in, cut_in, thick_in = cutter.guide.inch, cutter.cut_width.inch, template.thickness.inch
    beyond_in = skin.fan_in(guide_in=guide_in, cut_in=cut_in, template_in=thick_in, kind=cutter.template)
    sizes = {"guide": guide_in, "cut": cut_in, "T": thick_in}
    formula = "R asin(guide/2/R) + R asin(cut/2/R) - (guide + cut)/2"
    if cutter.template == "female":
        formula = "(guide - cut)/2 - R asin(guide/2/(R + T)) + R asin(cut/2/R)"
    working = _FORM.lengths(formula, beyond=beyond_in, **sizes, R=skin.radius_in)
    allowed_in = cutter.filing_allowance.inch
    judged = _FORM.at_most(Measure("beyond", beyond_in), allowed_in, working, fails_as=Status.CAUTION)
    return held("T707", judged, said("T707.subject"), said("T707.do"))
