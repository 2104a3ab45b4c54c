"""S804, S805, S815: a cover that the job lets carry load."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding
from hatchwright.ground import Ground
from hatchwright.judged import Status
from hatchwright.register import Shelf
from hatchwright.said import Numbered, said
from hatchwright.strength.checks.cover import screw_strength
from hatchwright.strength.comparison import strength_code, told
from hatchwright.strength.factors import Factors
from hatchwright.strength.fastener_load import FastenerLoad
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.opening_analysis import CaseAnalysis
from hatchwright.strength.site import Site, section_width_in
from hatchwright.strength.worked import inputs, strength_of, work_out
from hatchwright.workings import Grade, Source

_READ_OFF = Ground(Source("ELASTICITY", "finite elements, docs/theory/fem.md"), Grade.RESTATED)
_CHOSEN = Ground(Source("JOB-FILE", "loads.cover.carries"), Grade.SHOP)

S804 = strength_code("S804", "cover", theory="cover")
S805 = strength_code("S805", "cover", theory="cover")
S815 = strength_code("S815", "cover", theory="cover", shelf=Shelf.KNOW)


def carrying_cover_margins(site: Site, found: CaseAnalysis, factors: Factors) -> Iterator[Margin]:
    """Margins of a cover that carries.

    Args:
        found: one case, in one state of the cover.
    Yields:
        Margin: S804 hardest worked screw, S805 metal of the cover across its middle; none when it carries nothing.
    """
    if found.cover is None:
        return
    yield _hardest_screw(site, max(found.cover.screws, key=lambda screw: screw.greater_lbf), found, factors)
    yield _middle(site, found)


def _hardest_screw(site: Site, screw: FastenerLoad, found: CaseAnalysis, factors: Factors) -> Margin:
    grid = found.grid_error.fastener_ratio
    load = work_out(
        screw.greater_lbf * (1 + grid) * factors.screws.value,
        "P screw = max(P Huth, P Swift) (1 + grid) FF [lbf]",
        *found.case.loads,
        *screw.put_in,
        *inputs("", grid=grid),
        factors.screws,
        by=_READ_OFF,
        note=said("working.two_grids"),
    )
    hole = next(hole for hole in site.layout.holes_of("screw") if hole.number == screw.number)
    strength = screw_strength(site, [hole])
    subject = said("S804.subject", screw=Numbered("screw", (screw.number,)))
    return Margin(
        S804,
        subject,
        found.name,
        Level.ULTIMATE,
        load,
        strength.value,
        strength.why,
        (screw.number,),
        strength.enter,
    )


def _middle(site: Site, found: CaseAnalysis) -> Margin:
    """Direct load and shear across the middle, each against its own strength; the one nearer to it."""
    cover, share = site.cover, found.cover
    assert cover is not None  # asked for only where a cover carries
    assert share is not None
    widths_in = [
        section_width_in(cover.part.edges[0].loop, axis=axis, at_in=site.layout.center_in[axis])
        for axis in (0, 1)
    ]
    ftu, fsu = strength_of(cover.allowed, "Ftu"), strength_of(cover.allowed, "Fsu")
    along_x, along_y = share.direct_lbf
    loads = (
        (abs(along_x), widths_in[0], ftu),
        (abs(along_y), widths_in[1], ftu),
        (share.shear_lbf, min(widths_in), fsu),
    )
    load_lbf, width_in, strength = max(loads, key=lambda one: one[0] / one[1] / one[2].value)
    applied = work_out(
        load_lbf / width_in,
        "N cover = P screws / width [lbf/in]",
        *found.case.loads,
        *inputs("lbf", P_screws=load_lbf),
        *inputs("in", width=width_in),
        by=_READ_OFF,
        note=said("working.screws_beyond_the_middle"),
    )
    carried_lbf_in = strength.value * cover.thickness_in
    allowed = work_out(carried_lbf_in, f"N allowed = {strength.symbol} t [lbf/in]", strength, cover.t)
    return Margin(S805, said("S805.subject"), found.name, Level.ULTIMATE, applied, allowed)


def carrying_cover_finding() -> Finding:
    """What letting the cover carry asks of everybody who opens it."""
    advice = (said("S815.never_open"), said("S815.engineer"))
    return told(S815, Status.CAUTION, said("S815.subject"), _CHOSEN, *advice)
