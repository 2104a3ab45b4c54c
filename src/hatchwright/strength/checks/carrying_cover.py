"""S804, S805, S815: a cover that the job lets carry load."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, stated
from hatchwright.judged import Status
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Numbered, said
from hatchwright.strength.checks.cover import screw_strength
from hatchwright.strength.factors import Factors
from hatchwright.strength.fastener_load import FastenerLoad
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.opening_analysis import CaseAnalysis
from hatchwright.strength.site import Site, section_width_in
from hatchwright.strength.worked import LOWER_DIRECTION, work_out
from hatchwright.workings import Grade, Quantity, Source

_ELEMENTS = Source("ELASTICITY", "finite elements, docs/theory/fem.md")
_THEORY = "docs/theory/cover.md"

S804 = enter(Entry("S804", Shelf.HOLDS, reads=("loads", "cover"), theory=_THEORY))
S805 = enter(Entry("S805", Shelf.HOLDS, reads=("loads", "cover"), theory=_THEORY))
S815 = enter(Entry("S815", Shelf.KNOW, reads=("loads", "cover"), theory=_THEORY))


def carrying_cover_margins(site: Site, found: CaseAnalysis, factors: Factors) -> Iterator[Margin]:
    """Margins of a cover that carries.

    Args:
        site: with the cover.
        found: one case, in one state of the cover.
    Yields:
        Margin: S804 hardest worked screw, S805 metal of the cover across its middle; none when it carries nothing.
    """
    if found.cover is None:
        return
    yield _hardest_screw(site, max(found.cover.screws, key=lambda screw: screw.greater_lbf), found, factors)
    yield _middle(site, found)


def _hardest_screw(site: Site, screw: FastenerLoad, found: CaseAnalysis, factors: Factors) -> Margin:
    load = work_out(
        screw.greater_lbf * (1 + found.grid_error.fastener_ratio) * factors.screws.value,
        "lbf",
        "P screw",
        "max(P Huth, P Swift) (1 + grid) FF",
        found.case.nx,
        found.case.ny,
        found.case.q,
        Quantity("P Huth", screw.huth_lbf, "lbf"),
        Quantity("P Swift", screw.swift_lbf, "lbf"),
        Quantity("grid", found.grid_error.fastener_ratio, ""),
        factors.screws,
        source=_ELEMENTS,
        grade=Grade.RESTATED,
        note=said("working.two_grids"),
    )
    hole = next(hole for hole in site.layout.holes_of("screw") if hole.number == screw.number)
    strength = screw_strength(site, [hole])
    return Margin(
        S804.code,
        said("S804.subject", screw=Numbered("screw", (screw.number,))),
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
    loads = [
        (abs(load_lbf), width_in, "Ftu", cover.allowed.ftu_psi)
        for load_lbf, width_in in zip(share.direct_lbf, widths_in, strict=True)
    ]
    loads.append((share.shear_lbf, min(widths_in), "Fsu", cover.allowed.fsu_psi))
    load_lbf, width_in, symbol, allowed_psi = max(loads, key=lambda one: one[0] / one[1] / one[3])
    applied = work_out(
        load_lbf / width_in, "lbf/in", "N cover", "P screws / width",
        found.case.nx, found.case.ny, found.case.q, Quantity("P screws", load_lbf, "lbf"),
        Quantity("width", width_in, "in"),
        source=_ELEMENTS, grade=Grade.RESTATED, note=said("working.screws_beyond_the_middle"),
    )  # fmt: skip
    strength = work_out(
        allowed_psi,
        "psi",
        symbol,
        symbol,
        source=cover.allowed.source,
        grade=cover.allowed.grade,
        note=LOWER_DIRECTION,
    )
    allowed = work_out(
        strength.value * cover.thickness_in, "lbf/in", "N allowed", f"{symbol} t", strength,
        Quantity("t", cover.thickness_in, "in"),
    )  # fmt: skip
    return Margin(S805.code, said("S805.subject"), found.name, Level.ULTIMATE, applied, allowed)


def carrying_cover_finding() -> Finding:
    """What letting the cover carry asks of everybody who opens it.

    Returns:
        Finding: S815, always a caution.
    """
    return stated(
        S815.code,
        Status.CAUTION,
        said("S815.subject"),
        source=Source("JOB-FILE", "loads.cover.carries"),
        grade=Grade.SHOP,
        advice=(said("S815.never_open"), said("S815.engineer")),
    )
