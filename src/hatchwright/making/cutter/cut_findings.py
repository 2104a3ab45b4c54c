"""T4xx: the cut as it will be: places left or over-cut, metal to file, ridges, and what an eccentric cutter may do."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.errors import GeometryError
from hatchwright.finding import Finding, held, stated
from hatchwright.ground import CLOSED_FORM, computed
from hatchwright.judged import Measure, Status
from hatchwright.layout.named import why
from hatchwright.making.cutter.filing import Filing, filing
from hatchwright.making.cutter.misplacement import trailing_error_in, yaw_error_in
from hatchwright.making.cutter.remnants import Remnant, remnants
from hatchwright.making.cutter.scallop import advance_for_scallop_in
from hatchwright.making.making import Making
from hatchwright.making.template.rigid_template import rigid_over_in
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Amount, Listed, Place, inch, said

_SAME_IN = 1e-6
_WANDER_DEG = 10.0
_SCALLOP = computed("docs/theory/scallop.md")
_ECCENTRIC = computed("docs/theory/misplacement.md")

_THEORY = "docs/theory/guide_template.md"
_READS = ("cutter", "template", "wanted")

T401 = enter(Entry("T401", Shelf.HOLDS, step="cut", reads=_READS, theory=_THEORY))
T402 = enter(Entry("T402", Shelf.HOLDS, step="cut", reads=(*_READS, "skin"), theory=_THEORY))
T403 = enter(Entry("T403", Shelf.SETTLE, step="cut", reads=_READS, theory="docs/theory/scallop.md"))
T404 = enter(Entry("T404", Shelf.SETTLE, step="cut", reads=_READS, theory="docs/theory/misplacement.md"))


def cut_findings(making: Making) -> tuple[Finding, ...]:
    """Judge the predicted cut of a job."""
    advance = making.cutter.advance
    try:
        left = filing(making.chain, making.layout.wanted, advance_in=advance.inch if advance else None)
        over_in = rigid_over_in(making.layout)
    except GeometryError as error:
        return (stated("T402", Status.STOP, said("T402.no_cut"), CLOSED_FORM, *why(error)),)
    return (
        *(_place(one) for one in remnants(making.chain) if one.name != "corner"),
        _metal(left, over_in),
        *_ridges(making, left),
        *_eccentric(making),
    )


def _place(one: Remnant) -> Finding:
    """T401: no place is over-cut, and none but the corners is left standing."""
    judged = CLOSED_FORM.at_most(Measure("depth", one.depth_in), 0.0)
    subject = said(f"T401.{one.name.replace(' ', '_').replace('-', '_')}", place=Place(*one.place))
    deep = said("T401.deep", depth=inch(one.depth_in, fine=True), area=Amount(one.area_sq_in, "in^2"))
    do = said("T401.over_cut" if one.is_over else "T401.left")
    return held("T401", judged, subject, deep, do, place=one.place)


def _metal(left: Filing, over_in: float) -> Finding:
    """T402: metal is left outside the cut everywhere, to be filed to the finished line."""
    most_in = left.most.depth_in + (left.ridges[0].height_in if left.ridges else 0.0)
    least_in = left.least_in - over_in
    judged = CLOSED_FORM.at_least(Measure("least", 0.0 if -_SAME_IN <= least_in < 0.0 else least_in), 0.0)
    least, most = inch(least_in, fine=True), inch(most_in, fine=True)
    what = "rigid" if over_in else "metal"
    subject = said(f"T402.{what}", least=least, most=most)
    if left.most.place is not None:
        subject = said(f"T402.{what}_at", least=least, most=most, place=Place(*left.most.place))
    return held("T402", judged, subject, said("T402.do"))


def _ridges(making: Making, left: Filing) -> Iterator[Finding]:
    """T403: the ridges between bites are no higher than the metal left to file; corners that need bites by hand."""
    cutter, cut_in = making.cutter, making.chain.guide.cut_in
    if not left.ridges or cutter.advance is None:
        return
    highest, allowance_in = left.ridges[0], cutter.filing_allowance.inch
    gentle_in = advance_for_scallop_in(cut_in=cut_in, height_in=allowance_in)
    formula = "h = c - sqrt(c^2 - (p/2)^2) on a straight side, higher on an inside corner"
    working = _SCALLOP.lengths(formula, h=highest.height_in, **{"2 c": cut_in}, p=cutter.advance.inch)
    judged = _SCALLOP.at_most(Measure("h", highest.height_in), allowance_in, working, fails_as=Status.CAUTION)
    subject = said(f"T403.{highest.where.replace(' ', '_').replace('-', '_')}")
    at = None if judged.status is Status.PASS else highest.place
    yield held("T403", judged, subject, said("T403.advance", advance=inch(gentle_in)), place=at)
    if short := [ridge.place for ridge in left.ridges if ridge.is_short]:
        places, count = Listed(tuple(Place(*place) for place in short), ";"), float(len(short))
        what, do = said("T403.short", n=len(short), places=places), said("T403.by_hand")
        yield stated("T403", Status.CAUTION, what, _SCALLOP, do, value=count, unit="corners", place=short[0])


def _eccentric(making: Making) -> Iterator[Finding]:
    """T404: an eccentric cut whose heading is not kept stays inside the metal left to file."""
    cutter = making.cutter
    if cutter.eccentricity is None:
        return
    off_in, corner = cutter.eccentricity.inch, making.chain.reached_corner
    turned_in = trailing_error_in(path_radius_in=corner.radius_in if corner else 0.0, trail_in=off_in)
    wandering_in = yaw_error_in(towards_edge_in=0.0, along_feed_in=off_in, yaw_deg=_WANDER_DEG)
    judged = _ECCENTRIC.at_most(Measure("e", off_in), cutter.filing_allowance.inch, fails_as=Status.UNKNOWN)
    turned, wandering = inch(turned_in, fine=True), inch(wandering_in, fine=True)
    told = said("T404.turned", turned=turned, wandering=wandering, angle=Amount(_WANDER_DEG, "deg"))
    yield held("T404", judged, said("T404.subject"), said("T404.either_way"), told, said("T404.do"))
