"""S8xx: margins and comparisons from the finite elements."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from hatchwright.errors import SolveError
from hatchwright.fem.buckling import State
from hatchwright.fem.running import row_loads
from hatchwright.finding import Finding, stated
from hatchwright.judged import Status
from hatchwright.strength.checks.carrying_cover import carrying_cover_finding, carrying_cover_margins
from hatchwright.strength.checks.rivets import Joints
from hatchwright.strength.factors import Factors
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.opening_analysis import CaseAnalysis, EdgePeak, OpeningAnalysis
from hatchwright.strength.site import Site
from hatchwright.strength.worked import Worked, work_out
from hatchwright.tables.strength_values import strength_value
from hatchwright.workings import Grade, Quantity, Source

ELEMENTS = Source("ELASTICITY", "finite elements, docs/theory/fem.md")


def element_margins(
    site: Site, joints: Joints, analysis: OpeningAnalysis, factors: Factors
) -> Iterator[Margin]:
    """Margins from the finite elements.

    Args:
        site: with sheets and edge distances.
        joints: what each rivet may carry, by its number.
    Yields:
        Margin: S801 hardest worked rivet at limit load, S802 skin between the rivets of a row, S803 buckling of the
            reinforced panel; where the cover carries, S804 its hardest worked screw and S805 its metal.
    """
    for found in analysis.cases:
        if not found.case.is_restored:
            yield _hardest(found, joints, factors)
            yield from _rows(site, found)
            yield from _buckling(found)
            yield from carrying_cover_margins(site, found, factors)


def _hardest(found: CaseAnalysis, joints: Joints, factors: Factors) -> Margin:
    """The rivet whose load comes nearest to what it may carry at limit load."""
    case = found.name
    known = [
        (rivet, strength) for rivet in found.rivets if (strength := joints[rivet.number].at_yield) is not None
    ]
    if not known:
        refusal = next(iter(joints.values())).refusal if joints else "there is no rivet"
        return Margin("S801", "hardest worked rivet, elastic", case, Level.LIMIT, None, None, f"{refusal}.")
    rivet, strength = max(known, key=lambda pair: pair[0].greater_lbf / pair[1].value)
    peak = work_out(
        rivet.greater_lbf * (1 + found.grid_error.fastener_ratio),
        "lbf",
        "P rivet",
        "greater of Huth and Swift, raised by the difference of two grids",
        *_loads(found),
        Quantity("P Huth", rivet.huth_lbf, "lbf"),
        Quantity("P Swift", rivet.swift_lbf, "lbf"),
        Quantity("grid", found.grid_error.fastener_ratio, ""),
        source=ELEMENTS,
        grade=Grade.RESTATED,
    )
    at_limit = work_out(
        peak.value * factors.joint.value / factors.of_safety.value,
        "lbf",
        "P limit",
        "P rivet x FF / f",
        peak,
        factors.joint,
        factors.of_safety,
    )
    subject = f"hardest worked rivet, elastic: {rivet.number}"
    return Margin("S801", subject, case, Level.LIMIT, at_limit, strength, "", (rivet.number,))


def _hardest_at_full_strength(margin: Margin) -> Finding:
    """With the whole skin at its own strength metal yields and rivets even out, so the elastic load only
    cautions.
    """
    return stated(
        code="S814",
        status=Status.PASS if margin.ratio is not None and margin.ratio >= 0 else Status.CAUTION,
        subject=f"{margin.case}: {margin.subject}, limit load",
        value=margin.applied.value if margin.applied else None,
        limit=margin.allowable.value if margin.allowable else None,
        unit="lbf",
        source=margin.source,
        grade=margin.grade,
        working=margin.working,
        advice="Elastic, the whole skin loaded to its own strength, where metal yields and rivets even out: it "
        "compares rivets with each other and is no margin.",
        holes=margin.holes,
    )


def _loads(found: CaseAnalysis) -> tuple[Worked, ...]:
    return found.case.nx, found.case.ny, found.case.q


def _rows(site: Site, found: CaseAnalysis) -> Iterator[Margin]:
    """The row whose net section the skin meets hardest in tension."""
    at = {rivet.number: place for place, rivet in enumerate(found.rivets)}
    worst: tuple[float, str, int] | None = None
    for name, holes in site.layout.rows().items():
        row = [at[hole.number] for hole in holes if hole.number in at]
        if len(row) < 2:
            continue
        net = row_loads(found.response, "skin", row).net_lbf_in
        place = int(np.argmax(net))
        if worst is None or net[place] > worst[0]:
            worst = float(net[place]), name, found.rivets[row[place]].number
    if worst is None or worst[0] <= 0:
        return
    load, name, number = worst
    allowed = site.skin.allowed
    applied = work_out(
        load, "lbf/in", "N net", "mean over the bay of one rivet, over the metal between holes", *_loads(found),
        source=ELEMENTS, grade=Grade.RESTATED,
    )  # fmt: skip
    ftu = work_out(
        allowed.ftu_psi, "psi", "Ftu", "lower of L and LT", source=allowed.source, grade=allowed.grade
    )
    strength = work_out(
        ftu.value * site.skin.thickness_in, "lbf/in", "N allowed", "Ftu t", ftu,
        Quantity("t", site.skin.thickness_in, "in"),
    )  # fmt: skip
    subject = f"skin between the rivets of row '{name}', at rivet {number}"
    yield Margin("S802", subject, found.name, Level.ULTIMATE, applied, strength, "", (number,))


def _buckling(found: CaseAnalysis) -> Iterator[Margin]:
    apart = found.buckling_factor(State.SHEETS_APART)
    together = found.buckling_factor(State.SHEETS_TOGETHER)
    applied = work_out(1.0, "", "load", "the case at ultimate load", *_loads(found))
    subject = "buckling of the reinforced panel"
    if apart is None or together is None:
        if found.not_buckled:
            yield Margin("S803", subject, found.case.name, Level.ULTIMATE, applied, None, found.not_buckled)
        return
    if not math.isfinite(apart.factor):
        return
    factor = work_out(
        apart.lowered,
        "",
        "factor",
        "lower bound, each sheet bending by itself, lowered by the last step of the grid",
        Quantity("sheets apart", apart.factor, ""),
        Quantity("sheets together", together.factor, ""),
        Quantity("grid", apart.grid_error_ratio, ""),
        source=ELEMENTS,
        grade=Grade.COMPUTED,
    )
    advice = (
        "A buckled skin is not a broken one, but its edges and rivets then carry more: refer to an engineer."
    )
    yield Margin(
        "S803",
        f"{subject}; {together.factor:.2f} if the sheets bent as one",
        found.case.name,
        Level.ULTIMATE,
        applied,
        factor,
        advice if factor.value < 1 else "",
    )


def element_findings(
    site: Site, joints: Joints, analysis: OpeningAnalysis, factors: Factors
) -> Iterator[Finding]:
    """Comparisons from the finite elements.

    Args:
        site: with sheets.
        joints: what each rivet may carry, by its number.
    Yields:
        Finding: S811 stress at the edge with the doubler, S812 buckling before and after, S813 what makes it less
            sure, S814 the hardest worked rivet on the restore basis, S815 that the cover carries.
    """
    cap = strength_value("fatigue_screen_cap", site.shop)
    limit_psi = cap.value * site.skin.allowed.fty_psi
    for found in analysis.cases:
        if not found.case.is_restored:
            yield _edge(found, limit_psi, cap.source, cap.grade, factors)
        else:
            yield _hardest_at_full_strength(_hardest(found, joints, factors))
        yield from _before_and_after(found)
    if analysis.covered:
        yield carrying_cover_finding()
    for caution in analysis.cautions:
        yield stated(
            code="S813", status=Status.CAUTION, subject=caution, value=None, limit=None, unit="",
            source=ELEMENTS, grade=Grade.COMPUTED,
        )  # fmt: skip


def refused_finding(error: SolveError) -> Finding:
    """Why there are no finite elements.

    Args:
        error: what stopped them.
    Returns:
        Finding: S816, unknown: what hand methods cannot see stays open.
    """
    return stated(
        code="S816",
        status=Status.UNKNOWN,
        subject=f"the finite elements could not be carried through: {error.where}: {error.what}",
        value=None,
        limit=None,
        unit="",
        source=ELEMENTS,
        grade=Grade.COMPUTED,
        advice=f"{error.remedy}. Until then the load of each rivet, the stress at the edge and buckling are not known.",
    )


def _edge(found: CaseAnalysis, limit_psi: float, source: Source, grade: Grade, factors: Factors) -> Finding:
    before, after = (
        _at_limit(peak, name, found, factors)
        for peak, name in ((found.before, "bare"), (found.after, "ringed"))
    )
    over = after.value > limit_psi
    x, y = found.after.place_in
    return stated(
        code="S811",
        status=Status.CAUTION if over else Status.PASS,
        subject=f"{found.name}: stress at the edge with the doubler, limit load; {before.value:.0f} psi without",
        value=after.value,
        limit=limit_psi,
        unit="psi",
        source=source,
        grade=grade,
        working=(*before.working, after.working[-1]),
        advice=f"Highest at X {x:.3f}, Y {y:.3f}."
        + (" A larger radius there, or a doubler that reaches nearer." if over else ""),
        place=found.after.place_in,
        shortfall=max(0.0, after.value - limit_psi),
    )


def _at_limit(peak: EdgePeak, name: str, found: CaseAnalysis, factors: Factors) -> Worked:
    ultimate = work_out(
        abs(peak.stress_psi) * (1 + found.grid_error.edge_ratio), "psi", f"f {name}",
        "greatest stress along the edge, raised by the difference of two grids", *_loads(found),
        Quantity("grid", found.grid_error.edge_ratio, ""), source=ELEMENTS, grade=Grade.RESTATED,
    )  # fmt: skip
    return work_out(
        ultimate.value / factors.of_safety.value,
        "psi",
        f"f {name} limit",
        "f / f safety",
        ultimate,
        factors.of_safety,
    )


def _before_and_after(found: CaseAnalysis) -> Iterator[Finding]:
    states = (State.AS_IT_WAS, State.CUT, State.SHEETS_APART, State.SHEETS_TOGETHER)
    factors = [found.buckling_factor(state) for state in states]
    if found.not_buckled:
        yield _not_compared(found)
    if any(one is None or not math.isfinite(one.factor) for one in factors):
        return
    was, _, apart, together = (one.factor for one in factors if one)
    if apart >= was:
        status, advice = Status.PASS, ""
    elif together < was:
        status = Status.STOP if found.case.is_restored else Status.CAUTION
        advice = "Less stable than before: a stiffer doubler, or members along the opening."
    else:
        status = Status.UNKNOWN if found.case.is_restored else Status.CAUTION
        advice = "As stable as before only if the sheets bent as one, which rivets alone do not warrant."
    ratio = work_out(
        apart / was, "", "after / before", "buckling load reinforced, sheets apart / as it was",
        *(Quantity(one.state.name.lower().replace("_", " "), one.factor, "") for one in factors if one),
        source=ELEMENTS, grade=Grade.COMPUTED,
    )  # fmt: skip
    yield stated(
        code="S812",
        status=status,
        subject=_compared(found),
        value=ratio.value,
        limit=1.0,
        unit="of what it was",
        source=ELEMENTS,
        grade=Grade.COMPUTED,
        working=ratio.working,
        advice=advice,
        shortfall=max(0.0, 1.0 - ratio.value),
    )


def _compared(found: CaseAnalysis) -> str:
    turned = ", in compression" if found.case.is_restored and not found.case.q.value else ""
    return f"{found.case.name}{turned}: buckling load of the panel after against before"


def _not_compared(found: CaseAnalysis) -> Finding:
    """Without a margin beside it, as on the restore basis, what could not be compared cannot be told."""
    return stated(
        code="S812", status=Status.UNKNOWN if found.case.is_restored else Status.CAUTION, subject=_compared(found),
        value=None, limit=1.0, unit="of what it was", source=ELEMENTS, grade=Grade.COMPUTED,
        advice=found.not_buckled,
    )  # fmt: skip
