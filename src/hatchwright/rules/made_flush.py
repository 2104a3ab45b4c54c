"""R422, R423: countersinks as measured, and dimples that were found cracked."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from msgspec import Struct

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.job.hole_readings import MadeCountersink
from hatchwright.judged import Bound, Judgement, Measure, Numbers, Status, bound, lengths
from hatchwright.layout.layout import Hole, Part
from hatchwright.layout.survey import Survey
from hatchwright.register import Shelf
from hatchwright.remedy import ASK, Change
from hatchwright.rules.answer import held, stated
from hatchwright.rules.flush_heads import FlushRow, flush_rows
from hatchwright.rules.rule import judged_by, mended_by, rule
from hatchwright.rules.spoilt_holes import usual_hole_in
from hatchwright.rules.wording import numbered, part_named
from hatchwright.said import Said, Value, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.countersink import COUNTERSINK_DIAMETERS, FLUSH_SLOPE, countersink_diameter
from hatchwright.tables.instructions import instruction
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.screws import clearance_drill
from hatchwright.workings import Grade, Source

_CONE = Cited(0.0, "in", Source("GEOMETRY", "depth of a cone of 100 degrees by its diameter"), Grade.COMPUTED)


@rule("R422", Shelf.HOLDS, reads=("cover", "holes", "parts", "rows"), marks_holes=True)
@judged_by(
    COUNTERSINK_DIAMETERS, _CONE, limits=("machine_countersink_land_min", "machine_countersink_depth_max")
)
@mended_by(Change.NEXT_RIVET, Change.NEXT_REDUCED_HEAD)
def countersinks(survey: Survey) -> Iterator[Finding]:
    """R422: countersinks as measured: the land under each, its depth, and how wide it is."""
    made = survey.layout.job.as_made
    if made is None or not made.countersinks:
        return
    holes = {hole.number: hole for hole in survey.layout.holes}
    rows = {row.name: row for row in flush_rows(survey)}
    for one in made.countersinks:
        if one.number not in holes:
            continue  # its fastener is not listed, and what has no size is told as not shown
        hole, u_in = holes[one.number], made.u_in(one)
        part = _sheet(survey, hole, rows.get(hole.row))
        yield _land(survey, hole, part, one, u_in)
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


def _land(survey: Survey, hole: Hole, part: Part, one: MadeCountersink, u_in: float) -> Finding:
    """The sheet left under the cone, and its depth: by the depth, by the diameter at the surface, or by the worse of
    both, which must agree."""
    depths = tuple(_depths(survey, hole, one, u_in))
    at, place = (hole.number,), hole.place
    judged, subject, advice = max(
        (_under(survey, hole, part, depth) for depth in depths),
        key=lambda found: (found[0].status.rank, found[0].shortfall),
    )
    if len(depths) == 2 and not judged.status.holds_back:
        read, reckoned = depths
        u_off_in = hypot(read.u_in, reckoned.u_in)
        off = Measure("off", abs(read.depth_in - reckoned.depth_in), with_=reckoned.from_)
        agree = Bound(u_off_in, _CONE.source, _CONE.grade, "u of both")
        differ = Judgement(off, (agree,), at_least=False, fails_as=Status.UNKNOWN)
        if differ.status is not Status.PASS:
            told = said(
                "R422.differ",
                hole=numbered(hole),
                depth=inch(read.depth_in),
                reckoned=inch(reckoned.depth_in),
            )
            return held(differ, told, said("R422.again"), ASK, holes=at, place=place)
    return held(judged, subject, *advice, holes=at, place=place)


class _Depth(Struct, frozen=True):
    """How deep a countersink is, with its u, and the lengths that it comes from."""

    depth_in: float
    u_in: float
    from_: tuple[tuple[str, Numbers, str], ...] = ()


def _depths(survey: Survey, hole: Hole, one: MadeCountersink, u_in: float) -> Iterator[_Depth]:
    """As read, and by the diameter at the surface: each that was measured, in this order."""
    if one.depth is not None:
        yield _Depth(one.depth.inch, u_in)
    if one.diameter is not None:
        across_in, hole_in = one.diameter.inch, _hole_in(survey, hole)
        u_depth_in = hypot(u_in, hole.size_uncertainty_in) / 2.0 / FLUSH_SLOPE
        from_ = lengths(across=across_in, hole=hole_in)
        yield _Depth(max(across_in - hole_in, 0.0) / 2.0 / FLUSH_SLOPE, u_depth_in, from_)


def _under(survey: Survey, hole: Hole, part: Part, at: _Depth) -> tuple[Judgement, Said, tuple[Said, ...]]:
    """What is left under a countersink of one depth: the judgement to tell, its subject and what to do."""
    least, most = survey.limit("machine_countersink_land_min"), survey.limit("machine_countersink_depth_max")
    thickness_in = _thickness_in(part)
    from_ = (*lengths(t=thickness_in), *at.from_)
    told: dict[str, Value] = {
        "hole": numbered(hole),
        "part": part_named(part),
        "depth": inch(at.depth_in),
        "thickness": inch(thickness_in),
    }
    u_land_in = hypot(at.u_in, part.measured_u_in)
    land = Judgement(Measure("land", thickness_in - at.depth_in, u_land_in, with_=from_), (bound(least),))
    depth = Measure("depth", at.depth_in, at.u_in, with_=from_)
    deep = Judgement(depth, (bound(most, thickness_in, "t"),), at_least=False, fails_as=Status.CAUTION)
    if land.status is not Status.PASS:
        through = said("R422.through" if at.depth_in >= thickness_in else "R422.land", **told)
        return land, through, (said("R422.weak"), ASK)
    if deep.shortfall > 0.0:  # a figure from memory: what keeps to it is told by the land alone
        return deep, said("R422.land", **told), (said("R422.deep"),)
    return land, said("R422.land", **told), ()


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
