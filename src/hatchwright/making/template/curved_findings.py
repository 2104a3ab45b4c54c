"""T7xx: templates, doublers and flat bases on a curved skin."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from hatchwright.errors import GeometryError
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.curved import CurvedSkin, curved_skin
from hatchwright.layout.layout import Layout
from hatchwright.making.answer import answer
from hatchwright.making.template.rigid_template import rigid_edge_in, rigid_over_in
from hatchwright.units import length_words
from hatchwright.workings import Grade, Quantity, Source, Working

NOTICED_IN = 0.004
"""Error of a hole pattern that a fastener's clearance no longer hides [in]. Common practice, no source."""

_FORM = Source("GEOMETRY", "docs/theory/curved.md")
_PRACTICE = Source("PRACTICE", "holes that must meet; docs/theory/curved.md")


def curved_findings(layout: Layout) -> tuple[Finding, ...]:
    """Judge what is made flat for a curved skin.

    Returns:
        tuple: findings in the order of their code; empty for a flat skin.
    """
    curvature = layout.job.skin.curvature
    if curvature is None:
        return ()
    try:
        skin = curved_skin(curvature, thickness_in=layout.job.skin.thickness.inch, unit=layout.job.unit)
        found = (
            _radius(layout, skin),
            *_rigid(layout, skin),
            *_rigid_cut(layout, skin),
            *_flexed(layout, skin),
            *_flat_drilled(layout, skin),
            *_rolled(layout, skin),
            *_base(layout, skin),
            *_fan(layout, skin),
        )
    except GeometryError as error:
        return (
            answer("T701", Status.STOP, error.where, source=_FORM, advice=f"{error.what}. {error.remedy}."),
        )
    return found


def _working(formula: str, result: str, value: float, **values: float) -> Working:
    put_in = tuple(Quantity(symbol, number, "in") for symbol, number in values.items())
    return Working(formula, put_in, Quantity(result, value, "in"), _FORM, Grade.COMPUTED)


def _radius(layout: Layout, skin: CurvedSkin) -> Finding:
    """T701: the radius of the skin, and whether it is straight along the other axis."""
    curvature = layout.job.skin.curvature
    assert curvature is not None
    chord_in, rise_in = curvature.chord.inch, curvature.rise.inch
    return answer(
        "T701",
        Status.PASS if curvature.other_rise is not None else Status.CAUTION,
        f"radius of the skin along {skin.along.upper()}",
        value=skin.radius_in,
        source=_FORM,
        advice="Lay the straightedge along the other axis too (skin.curvature.other_rise): nothing here holds for a "
        "skin that is curved both ways.",
        working=(_working("R = c^2/(8 h) + h/2", "R", skin.radius_in, c=chord_in, h=rise_in),),
    )


def _farthest_in(layout: Layout, skin: CurvedSkin) -> float:
    """From the center of the opening along the curve to the farthest edge of what is put on the skin."""
    edges = [edge.loop for part in layout.parts if part.name != "cover" for edge in part.edges]
    low, high = skin.axis, skin.axis + 2
    middle = layout.center_in[skin.axis]
    return max(max(middle - loop.bounds[low], loop.bounds[high] - middle) for loop in edges)


def _rigid(layout: Layout, skin: CurvedSkin) -> Iterator[Finding]:
    """T702: a rigid flat template puts marks where they should be."""
    template = layout.job.template
    if template and template.flexed:
        return
    arc_in, unit = _farthest_in(layout, skin), layout.job.unit
    error_in, off_in = skin.rigid_error_in(arc_in), skin.stand_off_in(arc_in)
    working = [
        _working("s - R sin(s/R)", "error", error_in, s=arc_in, R=skin.radius_in),
        _working("R (1 - cos(s/R))", "stand-off", off_in, s=arc_in, R=skin.radius_in),
    ]
    drilled = "does not reach the skin"
    if arc_in < skin.radius_in:
        beyond_in = skin.radius_in * math.asin(arc_in / skin.radius_in) - arc_in
        drilled = f"lands {length_words(beyond_in, unit, fine=True)} too far along the skin"
        working.append(_working("R asin(s/R) - s", "drilled", beyond_in, s=arc_in, R=skin.radius_in))
    yield answer(
        "T702",
        Status.PASS if error_in <= NOTICED_IN else Status.CAUTION,
        f"a rigid flat template is off by {length_words(error_in, unit, fine=True)} where it is "
        f"{length_words(arc_in, unit)} along the arc from its middle, standing off {length_words(off_in, unit)}",
        value=error_in,
        limit=NOTICED_IN,
        source=_PRACTICE,
        grade=Grade.PRACTICE,
        advice=f"A hole drilled through it there, square to it, {drilled}. Use a thin template that is flexed onto the "
        "skin (template.flexed: its pattern is then drawn stretched), or mark on the skin itself.",
        working=tuple(working),
    )


def _rigid_cut(layout: Layout, skin: CurvedSkin) -> Iterator[Finding]:
    """T702: what a rigid flat template cuts beyond the rough line is less than is left to file."""
    edge_in, cutter, unit = rigid_edge_in(layout), layout.job.cutter, layout.job.unit
    if edge_in is None or cutter is None:
        return
    over_in, left_in = rigid_over_in(layout), cutter.filing_allowance.inch
    yield answer(
        "T702",
        Status.PASS if over_in <= left_in else Status.STOP,
        f"the cut along a rigid flat template goes {length_words(over_in, unit, fine=True)} beyond the rough line, "
        f"{length_words(edge_in, unit)} from its middle along {skin.along.upper()}",
        value=over_in,
        limit=left_in,
        source=_FORM,
        advice=f"Only {length_words(left_in, unit, fine=True)} is left to file, and what is cut beyond the finished "
        "line cannot be filed back. A thin template that is bent onto the skin is drawn for it "
        "(template.flexed = true).",
        working=(_working("R asin(e/R) - e", "beyond", over_in, e=edge_in, R=skin.radius_in),),
    )


def _pattern_in(layout: Layout, skin: CurvedSkin) -> float:
    """Length of the hole pattern through the skin along the curve, else of the opening [in]."""
    along = [(hole.x_in, hole.y_in)[skin.axis] for hole in layout.holes if "skin" in hole.stack]
    if along:
        return float(np.ptp(along))
    bounds = layout.wanted.bounds
    return bounds[skin.axis + 2] - bounds[skin.axis]


def _flexed(layout: Layout, skin: CurvedSkin) -> Iterator[Finding]:
    """T703: a flexed template's pattern is stretched for its thickness."""
    template = layout.job.template
    if template is None or template.flexed is False:
        return
    length_in, thick_in, unit = _pattern_in(layout, skin), template.thickness.inch, layout.job.unit
    shrink_in = skin.flexed_shrink_in(length_in, template_in=thick_in)
    ratio = skin.flexed_pattern_ratio(template_in=thick_in)
    if template.flexed:
        flat_in = length_in * ratio
        yield answer(
            "T703",
            Status.PASS,
            f"flexed template, drawn flat {ratio:.5f} times as long along {skin.along.upper()}: "
            f"{length_words(flat_in, unit, fine=True)} flat for {length_words(length_in, unit, fine=True)} on the "
            "outer face",
            value=flat_in,
            source=_FORM,
            working=(
                _working("L (R + T/2) / R", "flat", flat_in, L=length_in, T=thick_in, R=skin.radius_in),
            ),
        )
        return
    yield answer(
        "T703",
        Status.PASS if shrink_in <= NOTICED_IN else Status.CAUTION,
        f"shrink of a pattern of {length_words(length_in, unit)} on a template {length_words(thick_in, unit)} thick, "
        "flexed over the outer face",
        value=shrink_in,
        limit=NOTICED_IN,
        source=_PRACTICE,
        grade=Grade.PRACTICE,
        advice=f"Say template.flexed = true, and its files are drawn {ratio:.5f} times as long along "
        f"{skin.along.upper()}; false when it stays flat. As it is, they are drawn for neither.",
        working=(
            _working("L T / (2 R + T)", "shrink", shrink_in, L=length_in, T=thick_in, R=skin.radius_in),
        ),
    )


def _flat_drilled(layout: Layout, skin: CurvedSkin) -> Iterator[Finding]:
    """T704: a doubler that is drilled flat meets the skin's holes once it is rolled."""
    doubler = layout.job.doubler
    if doubler is None:
        return
    length_in, sheet_in, unit = _pattern_in(layout, skin), doubler.thickness.inch, layout.job.unit
    growth_in = skin.flat_drilled_growth_in(length_in, sheet_in=sheet_in, face=doubler.face)
    both_in = skin.both_flat_growth_in(length_in, sheet_in=sheet_in, face=doubler.face)
    inside = doubler.face == "inside"
    middle_in = (skin.radius_in - skin.thickness_in if inside else skin.radius_in + sheet_in) - (
        sheet_in / 2.0
    )
    ratio = skin.flat_place_ratio(sheet_in=sheet_in, face=doubler.face)
    yield answer(
        "T704",
        Status.PASS if abs(growth_in) <= NOTICED_IN else Status.CAUTION,
        f"pattern of {length_words(length_in, unit)} along the outer face, in a doubler drilled flat, {doubler.face}; "
        f"{length_words(abs(both_in), unit, fine=True)} if skin and doubler were both drilled flat",
        value=abs(growth_in),
        limit=NOTICED_IN,
        source=_PRACTICE,
        grade=Grade.PRACTICE,
        advice=f"Drill it in place through the skin's pilot holes, or drill it flat from its own flat pattern, "
        f"places along {skin.along.upper()} times {ratio:.5f}.",
        working=(
            _working("L R / R_m - L", "off", growth_in, L=length_in, R=skin.radius_in, R_m=middle_in),
            _working(
                f"{'' if inside else '-'}L (t_s + t_d) / 2 / (R - t_s / 2)",
                "off, both drilled flat",
                both_in,
                L=length_in,
                t_s=skin.thickness_in,
                t_d=sheet_in,
                R=skin.radius_in,
            ),
        ),
    )


def _rolled(layout: Layout, skin: CurvedSkin) -> Iterator[Finding]:
    """T705: the radius that the doubler is rolled to."""
    doubler = layout.job.doubler
    if doubler is None:
        return
    unit = layout.job.unit
    outer_in, inner_in = skin.roll_radii_in(sheet_in=doubler.thickness.inch, face=doubler.face)
    yield answer(
        "T705",
        Status.PASS,
        f"roll the doubler to a radius of {length_words(outer_in, unit)} at its outer face, "
        f"{length_words(inner_in, unit)} at its inner face",
        value=outer_in,
        source=_FORM,
        working=(
            _working(
                "R - t_s inside, R + t_d outside",
                "outer face",
                outer_in,
                R=skin.radius_in,
                t_s=skin.thickness_in,
                t_d=doubler.thickness.inch,
            ),
        ),
    )


def _base(layout: Layout, skin: CurvedSkin) -> Iterator[Finding]:
    """T706: a flat base lies on the skin."""
    mount = layout.job.mount
    if mount is None:
        return
    half_in = mount.base[skin.axis].inch / 2.0
    gap_in = skin.gap_under_flat_in(half_in)
    screws = mount.screw_pattern
    at_screws = (
        f", {length_words(skin.gap_under_flat_in(screws[skin.axis].inch / 2.0), layout.job.unit)} at its screws"
        if screws
        else ""
    )
    yield answer(
        "T706",
        Status.PASS if gap_in <= NOTICED_IN else Status.CAUTION,
        f"gap under the edges of the {mount.kind}'s flat base{at_screws}",
        value=gap_in,
        limit=NOTICED_IN,
        source=_PRACTICE,
        grade=Grade.PRACTICE,
        advice="Fit a gasket or a saddle cut to the radius; screws alone would pull the skin flat.",
        working=(_working("R - sqrt(R^2 - a^2)", "gap", gap_in, R=skin.radius_in, a=half_in),),
    )


def _fan(layout: Layout, skin: CurvedSkin) -> Iterator[Finding]:
    """T707: the edge of a flexed template stands open like a fan, the guide and the cut are straight."""
    template, cutter = layout.job.template, layout.job.cutter
    if template is None or cutter is None or not template.flexed:
        return
    sizes = {"guide": cutter.guide.inch, "cut": cutter.cut_width.inch, "T": template.thickness.inch}
    beyond_in = skin.fan_in(
        guide_in=sizes["guide"], cut_in=sizes["cut"], template_in=sizes["T"], kind=cutter.template
    )
    left_in = cutter.filing_allowance.inch
    formula = (
        "(guide - cut)/2 - R asin(guide/2/(R + T)) + R asin(cut/2/R)"
        if cutter.template == "female"
        else "R asin(guide/2/R) + R asin(cut/2/R) - (guide + cut)/2"
    )
    yield answer(
        "T707",
        Status.PASS if beyond_in <= left_in else Status.CAUTION,
        "farthest that the cut goes beyond the rough line where the guide touches the flexed template's edge at the "
        "wrong height",
        value=beyond_in,
        limit=left_in,
        source=_FORM,
        advice="Let the guide reach down to the skin, where the edge is true; use a thinner template, or leave more to "
        "file.",
        working=(_working(formula, "beyond", beyond_in, **sizes, R=skin.radius_in),),
    )
