"""S7xx: screens for fatigue; they caution, and they are no life."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from hatchwright.errors import TableError
from hatchwright.finding import Finding, held, held_as
from hatchwright.ground import Ground
from hatchwright.judged import Judgement, Measure, Status, bound, lengths
from hatchwright.remedy import ASK
from hatchwright.said import Amount, inch, said
from hatchwright.strength.checks.elements import edge_at_limit
from hatchwright.strength.checks.stability import crowded
from hatchwright.strength.comparison import edge_screened, screened, strength_code, told
from hatchwright.strength.factors import Factors
from hatchwright.strength.family import Family, told_of
from hatchwright.strength.first_row import asked_nothing
from hatchwright.strength.load_case import Case
from hatchwright.strength.net_section import rigid_bending_ratio
from hatchwright.strength.opening_analysis import OpeningAnalysis
from hatchwright.strength.shear_bay import cell_flows
from hatchwright.strength.site import Site
from hatchwright.strength.stress_concentration import RoundedBox, peak_edge_load, rounded_box
from hatchwright.strength.worked import Worked, work_out
from hatchwright.tables.strength_values import strength_value

S701 = strength_code("S701", "opening", "skin", "bay", theory="stress_concentration")
S702 = strength_code("S702", "skin", "doubler", "rows", theory="first_row")
S703 = strength_code("S703", "skin", "doubler", theory="one_sided")


def fatigue_findings(
    site: Site, cases: tuple[Case, ...], factors: Factors, analysis: OpeningAnalysis | None
) -> Iterator[Family[Finding]]:
    """Peak stress at the bare edge, bending at the first row, and how one-sided the doubler is.

    Args:
        analysis: which judges the edges with the doubler on, None where it was not carried through.
    Yields:
        Family: S701 peak at the edge, S702 first row, S703 thickness of a one-sided doubler.
    Method: docs/theory/stress_concentration.md; docs/theory/one_sided.md;
        docs/theory/first_row.md.
    """
    for case in cases:
        if not case.is_restored:
            yield Family("fatigue", partial(_edge, site, case, factors, analysis))
            yield Family("fatigue", partial(_first_row, site, cases, case, factors))
    yield Family("fatigue", partial(_one_sided, site))


def _edge(site: Site, case: Case, factors: Factors, analysis: OpeningAnalysis | None) -> Iterator[Finding]:
    cap = strength_value("fatigue_screen_cap", site.shop)
    subject = said("S701.subject", case=case.name)
    frames = (said("S701.bends_like_a_frame"),) if case.q.value and site.cells is not None else ()
    try:
        stress = _at_limit(site, _peak(site, rounded_box(site.layout.opening), case), factors)
    except TableError as error:
        found = next((one for one in analysis.cases if one.case is case), None) if analysis else None
        if found is None:
            limit_psi = cap.value * site.skin.allowed.fty_psi
            yield told(S701, Status.UNKNOWN, subject, cap, *told_of(error), limit=limit_psi, unit="psi")
            return
        stress = edge_at_limit(found.before, "bare", found, found.grid_error.edge_ratio, factors)
        subject, frames = said("S701.by_elements", case=case.name), ()
    judged = edge_screened(stress, cap, site.skin.allowed)
    if frames and judged.status is Status.PASS:
        yield held_as(S701, judged, Status.CAUTION, subject, *frames)
        return
    if judged.status is Status.STOP and site.doubler is not None:
        # The doubler lowers it: the elements judge by how much, and without them that isn't shown.
        status, by = (
            (Status.CAUTION, "S701.elements_judge") if analysis else (Status.UNKNOWN, "S701.over_yield")
        )
        yield held_as(S701, judged, status, subject, said("S701.without_doubler"), *frames, said(by), ASK)
        return
    without = (said("S701.without_doubler"),) if site.doubler else ()
    yield held(S701, judged, subject, *without, *frames, ASK)


def _at_limit(site: Site, peak: Worked, factors: Factors) -> Worked:
    skin, safety = site.skin, factors.of_safety
    stress_psi = peak.value / skin.thickness_in / safety.value
    return work_out(stress_psi, "f peak = N peak / t / f [psi]", peak, skin.t, safety)


def _peak(site: Site, box: RoundedBox, case: Case) -> Worked:
    """The charts are of a wide sheet; in a bay the loads are first crowded into the skin beside the opening."""
    nx, ny, q = crowded(site, 0, case.nx), crowded(site, 1, case.ny), case.q
    if site.cells and q.value:
        flows = cell_flows(site.cells, shear_lbf_in=abs(q.value))
        q = max(flows.beside, flows.over, key=lambda flow: flow.value)
    peak = peak_edge_load(box, nx_lbf_in=nx.value, ny_lbf_in=ny.value, q_lbf_in=q.value)
    steps = dict.fromkeys((*nx.working, *ny.working, *q.working, *peak.working))
    return Worked(peak.value, peak.unit, tuple(steps))


def _first_row(site: Site, cases: tuple[Case, ...], case: Case, factors: Factors) -> Iterator[Finding]:
    """Membrane tension at limit load against what the screen asks nothing of; without a curve it cautions."""
    skin, safety = site.skin, factors.of_safety
    low, high = _principal(case)
    if site.doubler is None or high <= 0.0:
        return
    reach = min(min(_principal(one)[0] for one in cases), low)
    ratio = min(0.0, reach / high)
    subject = said("S702.subject", case=case.name)
    stress_psi = high / skin.thickness_in / safety.value
    stress = work_out(stress_psi, "f = N principal / t / f [psi]", *case.loads, skin.t, safety)
    allowed = asked_nothing(site, load_ratio=ratio)
    if allowed is None:
        yield told(S702, Status.CAUTION, subject, stress, said("S702.no_curve"), ASK, unit="psi")
        return
    by = Ground(allowed.source, allowed.grade)
    judged = screened(stress, allowed.value, by, allowed.working)
    more = said("S702.more", stress=Amount(allowed.value, "psi", toward="down"))
    yield held(S702, judged, subject, more, ASK)


def _principal(case: Case) -> tuple[float, float]:
    """The least and the greatest principal load of a case [lbf/in]."""
    nx, ny, q = case.load_lbf_in.tolist()
    middle, radius = (nx + ny) / 2.0, math.hypot((nx - ny) / 2.0, q)
    return middle - radius, middle + radius


def _one_sided(site: Site) -> Iterator[Finding]:
    if site.doubler is None:
        return
    most = strength_value("doubler_over_skin_max", site.shop)
    skin_in, doubler_in = site.skin.thickness_in, site.doubler.thickness_in
    bending = rigid_bending_ratio(skin_in=skin_in, doubler_in=doubler_in)
    ratio = Measure(
        "t doubler / t skin",
        doubler_in / skin_in,
        unit="t",
        with_=lengths(t_doubler=doubler_in, t_skin=skin_in),
    )
    judged = Judgement(ratio, (bound(most),), at_least=False, fails_as=Status.CAUTION, more=bending.working)
    yield held(S703, judged, said("S703.subject", doubler=inch(doubler_in), skin=inch(skin_in)), ASK)
