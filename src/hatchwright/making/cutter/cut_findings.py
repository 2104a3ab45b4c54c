"""T4xx: the predicted cut place by place, what is left to file, and what an eccentric cutter may do."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.errors import GeometryError
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.layout.layout import Layout
from hatchwright.making.answer import answer, place_words
from hatchwright.making.cutter.filing import Filing, filing
from hatchwright.making.cutter.misplacement import trailing_error_in, yaw_error_in
from hatchwright.making.cutter.remnants import Remnant, remnants
from hatchwright.making.cutter.scallop import advance_for_scallop_in
from hatchwright.making.template.guide_template import GuideChain
from hatchwright.making.template.rigid_template import rigid_over_in
from hatchwright.units import MM_PER_IN, Unit, length_words
from hatchwright.workings import Grade, Quantity, Source, Working

_SAME_IN = 1e-6
_WANDER_DEG = 10.0
_SCALLOP = Source("GEOMETRY", "docs/theory/scallop.md")
_ECCENTRIC = Source("GEOMETRY", "docs/theory/misplacement.md")

_SAID = {
    "slot": "a slot narrower than the cut is not reached",
    "neck": "a neck narrower than the cut is not cut through",
    "re-entrant corner": "a corner of skin that points into the opening is cut off",
    "tongue": "a tongue of skin is cut off",
    "wall": "a wall of skin between two parts of the opening is cut through",
}


def cut_findings(layout: Layout, chain: GuideChain) -> tuple[Finding, ...]:
    """Judge the predicted cut of a job.

    Returns:
        tuple: findings in the order of their code.
    """
    cutter = layout.job.cutter
    advance_in = cutter.advance.inch if cutter and cutter.advance else None
    try:
        left = filing(chain, layout.wanted, advance_in=advance_in)
        over_in = rigid_over_in(layout)
    except GeometryError as error:
        return (answer("T402", Status.STOP, error.where, advice=f"{error}."),)
    return (
        *_places(layout, chain),
        _metal(layout, left, over_in),
        *_ridges(layout, chain, left),
        *_eccentric(layout, chain),
    )


def _places(layout: Layout, chain: GuideChain) -> Iterator[Finding]:
    """T401: no place is over-cut, and none but the corners is left standing."""
    for one in remnants(chain):
        if one.name != "corner":
            yield _place(one, layout.job.unit)


def _place(one: Remnant, unit: Unit) -> Finding:
    return answer(
        "T401",
        Status.STOP,
        f"{_SAID[one.name]} at {place_words(one.place, unit)}",
        value=one.depth_in,
        limit=0.0,
        advice=(
            "Metal that is gone cannot be put back: a smaller guide, or cut that place by hand."
            if one.is_over
            else "A smaller cutter, or cut that place by hand."
        )
        + f" {length_words(one.depth_in, unit, fine=True)} deep, {_area_words(one.area_sq_in, unit)}.",
        place=one.place,
    )


def _area_words(area_sq_in: float, unit: Unit) -> str:
    return f"{area_sq_in:.4f} sq in" if unit == "in" else f"{area_sq_in * MM_PER_IN**2:.2f} sq mm"


def _metal(layout: Layout, left: Filing, over_in: float) -> Finding:
    """T402: metal is left outside the cut everywhere, to be filed to the finished line."""
    most_in = left.most.depth_in + (left.ridges[0].height_in if left.ridges else 0.0)
    unit, least_in = layout.job.unit, left.least_in - over_in
    curved = " with a rigid flat template on the curved skin" if over_in else ""
    at = f" at {place_words(left.most.place, unit)}" if left.most.place else ""
    return answer(
        "T402",
        Status.STOP if least_in < -_SAME_IN else Status.PASS,
        f"metal to file{curved}: {length_words(least_in, unit, fine=True)} at least, up to "
        f"{length_words(most_in, unit, fine=True)}{at}",
        value=least_in,
        limit=0.0,
        advice="The cut goes beyond the finished line, which cannot be filed back.",
    )


def _ridges(layout: Layout, chain: GuideChain, left: Filing) -> Iterator[Finding]:
    """T403: the ridges between bites are no higher than the metal left to file; corners that need bites by hand."""
    cutter = layout.job.cutter
    if not left.ridges or cutter is None or cutter.advance is None:
        return
    highest, allowance_in = left.ridges[0], cutter.filing_allowance.inch
    gentle_in = advance_for_scallop_in(cut_in=chain.guide.cut_in, height_in=allowance_in)
    yield answer(
        "T403",
        Status.PASS if highest.height_in <= allowance_in else Status.CAUTION,
        f"highest ridge between bites, {highest.where}",
        value=highest.height_in,
        limit=allowance_in,
        source=_SCALLOP,
        advice="The ridges stand higher than the metal that was meant to be filed. On straight sides an advance of "
        f"{length_words(gentle_in, layout.job.unit)} keeps them within it; in corners advance less.",
        place=highest.place,
        working=(
            Working(
                "h = c - sqrt(c^2 - (p/2)^2) on a straight side, higher on an inside corner",
                (Quantity("2 c", chain.guide.cut_in, "in"), Quantity("p", cutter.advance.inch, "in")),
                Quantity("h", highest.height_in, "in"),
                _SCALLOP,
                Grade.COMPUTED,
            ),
        ),
    )
    short = [ridge for ridge in left.ridges if ridge.is_short]
    if short:
        places = "; ".join(place_words(ridge.place, layout.job.unit) for ridge in short)
        yield answer(
            "T403",
            Status.CAUTION,
            f"corners shorter than one advance at {places}",
            value=float(len(short)),
            unit="corners",
            source=_SCALLOP,
            advice="Place a bite by hand at each end of each of these corners, or much more is left there.",
            place=short[0].place,
        )


def _eccentric(layout: Layout, chain: GuideChain) -> Iterator[Finding]:
    """T404: an eccentric cut whose heading is not kept stays inside the metal left to file."""
    cutter = layout.job.cutter
    if cutter is None or cutter.eccentricity is None:
        return
    off_in, allowance_in = cutter.eccentricity.inch, cutter.filing_allowance.inch
    unit = layout.job.unit
    corner = chain.reached_corner
    turned_in = trailing_error_in(path_radius_in=corner.radius_in if corner else 0.0, trail_in=off_in)
    wandering_in = yaw_error_in(towards_edge_in=0.0, along_feed_in=off_in, yaw_deg=_WANDER_DEG)
    yield answer(
        "T404",
        Status.PASS if off_in <= allowance_in else Status.UNKNOWN,
        "eccentricity of the cut against the metal left to file",
        value=off_in,
        limit=allowance_in,
        source=_ECCENTRIC,
        advice="Unless the tool keeps its heading, the edge lies anywhere within the eccentricity either way, beyond "
        f"the finished line too. Turned with the feed it is off by {length_words(turned_in, unit, fine=True)} at most, "
        f"in the sharpest corner, and by {length_words(wandering_in, unit, fine=True)} more when it wanders by "
        f"{_WANDER_DEG:g} degrees. Leave more to file, or prove on scrap how the tool must be held.",
    )
