"""R422, R423: countersinks as measured, and dimples that were found cracked."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, radians, tan

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.job.hole_readings import MadeCountersink
from hatchwright.judged import Bound, Judgement, Measure, Status, bound, lengths
from hatchwright.layout.layout import Hole, Part
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated
from hatchwright.rules.flush_heads import FlushRow, flush_rows
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.spoilt_holes import usual_hole_in
from hatchwright.rules.wording import numbered, part_named
from hatchwright.said import Value, inch, said
from hatchwright.tables.countersink import COUNTERSINK_DIAMETERS, countersink_diameter
from hatchwright.tables.instructions import instruction
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.screws import clearance_drill

_SLOPE = tan(radians(50.0))
"""Of the side of a cone of 100 degrees [-]."""


@rule("R422", Shelf.HOLDS, reads=("cover", "holes", "parts", "rows"), marks_holes=True)
@judged_by(COUNTERSINK_DIAMETERS, limits=("machine_countersink_land_min", "machine_countersink_depth_max"))
@mended_by(Change.NEXT_RIVET, Change.NEXT_REDUCED_HEAD)
def countersinks(survey: Survey) -> Iterator[Finding]:
    """R422: countersinks as measured: the land under each, its depth, and how wide it is."""
    made = survey.layout.job.as_made
    if made is None or not made.countersinks:
        return
    holes = {hole.number: hole for hole in survey.layout.holes}
    rows = {row.name: row for row in flush_rows(survey)}
    for one in made.countersinks:
        hole, u_in = holes[one.number], made.u_in(one)
        part = _sheet(survey, hole, rows.get(hole.row))
        yield from _land(survey, hole, part, one, u_in)
        if one.diameter is not None and hole.kind == "rivet":
            yield from _across(survey, hole, rows.get(hole.row), one.diameter.inch, u_in)


def _sheet(survey: Survey, hole: Hole, row: FlushRow | None) -> Part:
    """The sheet that is countersunk: the outermost that the job has so, else the thinnest under the hole."""
    parts = [part for part in survey.layout.parts if part.name in hole.stack]
    sunk = {name for name, _ in row.takes("countersink")} if row else set()
    by_stack = sorted(
        (part for part in parts if part.name in sunk), key=lambda part: hole.stack.index(part.name)
    )
    return by_stack[0] if by_stack else min(parts, key=_thickness_in)


def _thickness_in(part: Part) -> float:
    """As measured where it was, else nominal [in]."""
    return part.thickness_in if part.measured_in is None else part.measured_in


def _hole_in(survey: Survey, hole: Hole) -> float:
    """Diameter of the hole under the cone, as measured or as its usual drill leaves it [in]."""
    if hole.hole_in is not None:
        return hole.hole_in
    if hole.kind == "rivet":
        return usual_hole_in(hole.diameter_in, survey.shop)
    try:
        return clearance_drill(hole.fastener, shop=survey.shop).diameter_in
    except TableError:
        return hole.diameter_in


def _land(survey: Survey, hole: Hole, part: Part, one: MadeCountersink, u_in: float) -> Iterator[Finding]:
    """The sheet left under the cone, and its depth; by the diameter at the surface where no depth was measured."""
    least, most = survey.limit("machine_countersink_land_min"), survey.limit("machine_countersink_depth_max")
    thickness_in, hole_in = _thickness_in(part), _hole_in(survey, hole)
    if one.depth is not None:
        depth_in, u_depth_in, from_ = one.depth.inch, u_in, lengths(t=thickness_in)
    else:
        assert one.diameter is not None  # the entry asks for one of the two
        depth_in = max(one.diameter.inch - hole_in, 0.0) / 2.0 / _SLOPE
        u_depth_in = u_in / 2.0 / _SLOPE
        from_ = lengths(t=thickness_in, across=one.diameter.inch, hole=hole_in)
    told: dict[str, Value] = {
        "hole": numbered(hole),
        "part": part_named(part),
        "depth": inch(depth_in),
        "thickness": inch(thickness_in),
    }
    u_land_in = hypot(u_depth_in, part.measured_u_in)
    land = Measure("land", thickness_in - depth_in, u_land_in, with_=from_)
    judged = Judgement(land, (bound(least),))
    at, place = (hole.number,), hole.place
    depth = Measure("depth", depth_in, u_depth_in, with_=from_)
    deep = Judgement(depth, (bound(most, thickness_in, "t"),), at_least=False, fails_as=Status.CAUTION)
    if judged.status is not Status.PASS:
        subject = said("R422.through" if depth_in >= thickness_in else "R422.land", **told)
        yield held(judged, subject, said("R422.weak"), ASK, holes=at, place=place)
    elif deep.shortfall > 0.0:  # a figure from memory: what keeps to it is told by the land alone
        yield held(deep, said("R422.land", **told), said("R422.deep"), holes=at, place=place)
    else:
        yield held(judged, said("R422.land", **told), holes=at, place=place)


def _across(
    survey: Survey, hole: Hole, row: FlushRow | None, across_in: float, u_in: float
) -> Iterator[Finding]:
    """The diameter at the surface of a bare rivet head, where a table lists it."""
    if row is None or row.preparation != "countersink":
        return
    try:
        found = countersink_diameter(parse_rivet(hole.fastener), survey.shop)
    except TableError:
        return
    across = Measure("across", across_in, u_in)
    wide = Judgement(across, (Bound(found.greatest_in, found.source, found.grade),), at_least=False)
    narrow = Judgement(across, (Bound(found.least_in, found.source, found.grade),), fails_as=Status.CAUTION)
    subject = said(
        "R422.across", hole=numbered(hole), least=inch(found.least_in), most=inch(found.greatest_in)
    )
    at, place = (hole.number,), hole.place
    if wide.status is Status.PASS and narrow.status is not Status.PASS:
        yield held(narrow, subject, said("R422.proud"), holes=at, place=place)
    else:
        yield held(wide, subject, said("R422.sunk"), ASK, holes=at, place=place)


@rule("R423", Shelf.HOLDS, reads=("holes",), marks_holes=True)
@judged_by("dimple_cracks")
def cracked_dimples(survey: Survey) -> Iterator[Finding]:
    """R423: cracked dimples; no crack is let pass, however short it was read."""
    made = survey.layout.job.as_made
    if made is None:
        return
    holes = {hole.number: hole for hole in survey.layout.holes}
    for crack in made.cracked_dimples:
        hole = holes[crack.number]
        yield stated(
            Status.STOP,
            said("R423.crack", hole=numbered(hole), length=inch(crack.length.inch)),
            instruction("dimple_cracks"),
            said("R423.hold"),
            ASK,
            value=crack.length.inch,
            unit="in",
            uncertainty=made.u_in(crack),
            holes=(hole.number,),
            place=hole.place,
        )
