"""S804, S805, S815: a cover that the job lets carry load."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, stated
from hatchwright.judged import Status
from hatchwright.strength.checks.cover import screw_strength
from hatchwright.strength.factors import Factors
from hatchwright.strength.fastener_load import FastenerLoad
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.opening_analysis import CaseAnalysis
from hatchwright.strength.site import Site, section_width_in
from hatchwright.strength.worked import work_out
from hatchwright.workings import Grade, Quantity, Source

_ELEMENTS = Source("ELASTICITY", "finite elements, docs/theory/fem.md")


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
        "greater of Huth and Swift, raised by the difference of two grids, x FF",
        found.case.nx,
        found.case.ny,
        found.case.q,
        Quantity("P Huth", screw.huth_lbf, "lbf"),
        Quantity("P Swift", screw.swift_lbf, "lbf"),
        Quantity("grid", found.grid_error.fastener_ratio, ""),
        factors.screws,
        source=_ELEMENTS,
        grade=Grade.RESTATED,
    )
    hole = next(hole for hole in site.layout.holes_of("screw") if hole.number == screw.number)
    allowed, advice = screw_strength(site, [hole])
    subject = f"hardest worked cover screw, elastic: {screw.number}"
    return Margin("S804", subject, found.name, Level.ULTIMATE, load, allowed, advice, (screw.number,))


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
        (abs(load_lbf) / width_in, width_in, "Ftu", cover.allowed.ftu_psi)
        for load_lbf, width_in in zip(share.direct_lbf, widths_in, strict=True)
    ]
    loads.append((share.shear_lbf / min(widths_in), min(widths_in), "Fsu", cover.allowed.fsu_psi))
    load_lbf_in, width_in, symbol, allowed_psi = max(loads, key=lambda one: one[0] / one[3])
    applied = work_out(
        load_lbf_in, "lbf/in", "N cover", "load of the screws beyond the middle, over the width there",
        found.case.nx, found.case.ny, found.case.q, Quantity("width", width_in, "in"),
        source=_ELEMENTS, grade=Grade.RESTATED,
    )  # fmt: skip
    strength = work_out(
        allowed_psi,
        "psi",
        symbol,
        "lower of L and LT",
        source=cover.allowed.source,
        grade=cover.allowed.grade,
    )
    allowed = work_out(
        strength.value * cover.thickness_in, "lbf/in", "N allowed", f"{symbol} t", strength,
        Quantity("t", cover.thickness_in, "in"),
    )  # fmt: skip
    return Margin("S805", "cover across its middle", found.name, Level.ULTIMATE, applied, allowed, "")


def carrying_cover_finding() -> Finding:
    """What letting the cover carry asks of everybody who opens it.

    Returns:
        Finding: S815, always a caution.
    """
    return stated(
        code="S815",
        status=Status.CAUTION,
        subject="the cover carries load, as chosen",
        value=None,
        limit=None,
        unit="",
        source=Source("JOB-FILE", "loads.cover.carries"),
        grade=Grade.SHOP,
        advice="The opening may then never be loaded without its cover and every screw of it: an engineer must say how "
        "that is seen to.",
    )
