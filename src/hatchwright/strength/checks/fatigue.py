"""S7xx: screens for fatigue; they caution, and they are no life."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.errors import TableError
from hatchwright.finding import Finding, stated
from hatchwright.judged import Status
from hatchwright.strength.checks.stability import crowded
from hatchwright.strength.factors import Factors
from hatchwright.strength.load_case import Case
from hatchwright.strength.one_sided import first_row_stress, rigid_bending_ratio
from hatchwright.strength.shear_bay import cell_flows
from hatchwright.strength.site import Site
from hatchwright.strength.stress_concentration import RoundedBox, peak_edge_load, rounded_box
from hatchwright.strength.worked import Worked, work_out
from hatchwright.tables.strength_values import strength_value
from hatchwright.workings import Quantity, Source


def fatigue_findings(site: Site, cases: tuple[Case, ...], factors: Factors) -> Iterator[Finding]:
    """Peak stress at the bare edge, bending at the first row, and how one-sided the doubler is.

    Args:
        site: with skin and doubler.
    Yields:
        Finding: S701 peak at the edge, S702 first row, S703 thickness of a one-sided doubler.
    Method: docs/theory/stress_concentration.md; docs/theory/one_sided.md.
    """
    try:
        box: RoundedBox | None = rounded_box(site.layout.opening)
        why = ""
    except TableError as error:
        box, why = None, str(error)
    for case in cases:
        if not case.is_restored:
            yield _edge(site, box, why, case, factors)
            yield from _first_row(site, case, factors)
    yield from _one_sided(site)


def _edge(site: Site, box: RoundedBox | None, why: str, case: Case, factors: Factors) -> Finding:
    cap = strength_value("fatigue_screen_cap", site.shop)
    limit_psi = cap.value * site.skin.allowed.fty_psi
    subject = f"{case.name}: peak stress at the edge of the bare opening, limit load"
    if box is not None:
        try:
            peak = _peak(site, box, case)
        except TableError as error:
            box, why = None, str(error)
    if box is None:
        return stated(
            code="S701", status=Status.UNKNOWN, subject=subject, value=None, limit=limit_psi, unit="psi",
            source=cap.source, grade=cap.grade, advice=f"{why}.",
        )  # fmt: skip
    stress = work_out(
        peak.value / site.skin.thickness_in / factors.of_safety.value, "psi", "f peak", "N peak / t / f", peak,
        Quantity("t", site.skin.thickness_in, "in"), factors.of_safety,
    )  # fmt: skip
    over = stress.value > limit_psi
    frames = bool(case.q.value) and site.cells is not None
    said = []
    if over:
        said.append("Without the doubler, which lowers it. A larger corner radius, a smooth edge.")
    if frames:
        said.append(
            "In a sheared bay the opening bends like a frame and the chart may be too low: see the finite elements."
        )
    return stated(
        code="S701",
        status=Status.CAUTION if over or frames else Status.PASS,
        subject=subject,
        value=stress.value,
        limit=limit_psi,
        unit="psi",
        source=cap.source,
        grade=cap.grade,
        working=stress.working,
        advice=" ".join(said),
        shortfall=max(0.0, stress.value - limit_psi),
    )


def _peak(site: Site, box: RoundedBox, case: Case) -> Worked:
    """The charts are of a wide sheet; in a bay the loads are first crowded into the skin beside the opening."""
    nx, ny, q = crowded(site, 0, case.nx), crowded(site, 1, case.ny), case.q
    if site.cells and q.value:
        flows = cell_flows(site.cells, shear_lbf_in=abs(q.value))
        q = max(flows.beside, flows.over, key=lambda flow: flow.value)
    peak = peak_edge_load(box, nx_lbf_in=nx.value, ny_lbf_in=ny.value, q_lbf_in=q.value)
    steps = dict.fromkeys((*nx.working, *ny.working, *q.working, *peak.working))
    return Worked(peak.value, peak.unit, tuple(steps))


def _first_row(site: Site, case: Case, factors: Factors) -> Iterator[Finding]:
    cap = strength_value("fatigue_screen_cap", site.shop)
    limit_psi = cap.value * site.skin.allowed.fty_psi
    for axis, letter in ((0, "X"), (1, "Y")):
        direct = case.along(axis)
        if direct.value <= 0 or site.doubler is None:
            continue
        stress = work_out(
            direct.value / site.skin.thickness_in / factors.of_safety.value, "psi", "f", "N / t / f", direct,
            Quantity("t", site.skin.thickness_in, "in"), factors.of_safety,
        )  # fmt: skip
        raised = first_row_stress(stress, site.shop)
        yield stated(
            code="S702",
            status=Status.CAUTION if raised.value > limit_psi else Status.PASS,
            subject=f"{case.name}: skin at its first row with bending, load along {letter}, limit load",
            value=raised.value,
            limit=limit_psi,
            unit="psi",
            source=cap.source,
            grade=cap.grade,
            working=raised.working,
            advice="Taper or stagger the ends of the doubler." if raised.value > limit_psi else "",
            shortfall=max(0.0, raised.value - limit_psi),
        )


def _one_sided(site: Site) -> Iterator[Finding]:
    if site.doubler is None:
        return
    most = strength_value("doubler_over_skin_max", site.shop)
    skin_in, doubler_in = site.skin.thickness_in, site.doubler.thickness_in
    ratio = doubler_in / skin_in
    over = ratio > most.value + 1e-9
    bending = rigid_bending_ratio(skin_in=skin_in, doubler_in=doubler_in)
    yield stated(
        code="S703",
        status=Status.CAUTION if over else Status.PASS,
        subject=f"one-sided doubler of {doubler_in:g} in on skin of {skin_in:g} in",
        value=ratio,
        limit=most.value,
        unit="of the skin",
        source=Source(most.source.key, most.source.place),
        grade=most.grade,
        working=bending.working,
        advice="Taper its edge, or take a thinner doubler." if over else "",
        shortfall=max(0.0, ratio - most.value),
    )
