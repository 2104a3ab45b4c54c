"""S8xx: margins and comparisons from the finite elements."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from hatchwright.errors import SolveError
from hatchwright.fem.buckling import State
from hatchwright.fem.running import row_loads
from hatchwright.finding import Finding, held, stated
from hatchwright.judged import RANKED, Bound, Judgement, Measure, Status, judge
from hatchwright.register import Entry, Shelf, enter
from hatchwright.said import Amount, Numbered, Place, Said, said
from hatchwright.strength.checks.carrying_cover import carrying_cover_finding, carrying_cover_margins
from hatchwright.strength.checks.rivets import Joints
from hatchwright.strength.factors import Factors
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.opening_analysis import NO_SUPPORTS, CaseAnalysis, EdgePeak, OpeningAnalysis
from hatchwright.strength.site import Site
from hatchwright.strength.two_paths import HARDEST_RIVET
from hatchwright.strength.worked import LOWER_DIRECTION, Worked, work_out
from hatchwright.tables.strength_values import strength_value
from hatchwright.workings import Grade, Quantity, Source

ELEMENTS = Source("ELASTICITY", "finite elements, docs/theory/fem.md")
_THEORY = "docs/theory/fem.md"
_READS = ("loads", "bay", "opening", "rows", "skin", "doubler")

_ASK = said("ask.disposition")

NOT_A_MARGIN = said("S814.no_margin")
"""Beside an elastic load of the restore basis."""

S801 = enter(Entry("S801", Shelf.HOLDS, reads=_READS, theory=_THEORY))
S802 = enter(Entry("S802", Shelf.HOLDS, reads=_READS, theory=_THEORY))
S803 = enter(Entry("S803", Shelf.HOLDS, reads=_READS, theory=_THEORY))
S811 = enter(Entry("S811", Shelf.HOLDS, reads=_READS, theory=_THEORY))
S812 = enter(Entry("S812", Shelf.HOLDS, reads=_READS, theory=_THEORY))
S813 = enter(Entry("S813", Shelf.KNOW, reads=_READS, theory=_THEORY))
S814 = enter(Entry("S814", Shelf.KNOW, cause=HARDEST_RIVET, reads=_READS, theory=_THEORY))
S816 = enter(Entry("S816", Shelf.HOLDS, reads=_READS, theory=_THEORY))


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
            yield hardest_rivet(found, joints, factors)
            yield from _rows(site, found)
            yield from _buckling(found)
            yield from carrying_cover_margins(site, found, factors)


def hardest_rivet(found: CaseAnalysis, joints: Joints, factors: Factors) -> Margin:
    """The rivet whose load comes nearest to what it may carry at limit load.

    Args:
        joints: what each rivet may carry, by its number.
    Returns:
        Margin: S801; on the restore basis it is only compared.
    """
    case = found.name
    known = [
        (rivet, strength) for rivet in found.rivets if (strength := joints[rivet.number].at_yield) is not None
    ]
    if not known:
        refusal = next(iter(joints.values())).refusal if joints else (said("S801.no_rivet"),)
        return Margin(S801.code, said("S801.unknown"), case, Level.LIMIT, None, None, refusal)
    rivet, strength = max(known, key=lambda pair: pair[0].greater_lbf / pair[1].value)
    peak = work_out(
        rivet.greater_lbf * (1 + found.grid_error.fastener_ratio),
        "lbf",
        "P rivet",
        "max(P Huth, P Swift) (1 + grid)",
        *_loads(found),
        Quantity("P Huth", rivet.huth_lbf, "lbf"),
        Quantity("P Swift", rivet.swift_lbf, "lbf"),
        Quantity("grid", found.grid_error.fastener_ratio, ""),
        source=ELEMENTS,
        grade=Grade.RESTATED,
        note=said("working.two_grids"),
    )
    at_limit = work_out(
        peak.value * factors.joint.value / factors.of_safety.value,
        "lbf",
        "P limit",
        "P rivet FF / f",
        peak,
        factors.joint,
        factors.of_safety,
    )
    subject = said("S801.subject", rivet=Numbered("rivet", (rivet.number,)))
    return Margin(S801.code, subject, case, Level.LIMIT, at_limit, strength, (), (rivet.number,))


def _hardest_at_full_strength(margin: Margin) -> Finding:
    """With the whole skin at its own strength metal yields and rivets even out, so the elastic load only
    cautions.
    """
    subject = said("S814.subject", case=margin.case, subject=margin.subject)
    if isinstance(margin.judged, Judgement):
        judged = replace(margin.judged, fails_as=Status.CAUTION, doubtful_as=Status.CAUTION)
        return held(S814.code, judged, subject, NOT_A_MARGIN, holes=margin.holes)
    return stated(
        S814.code,
        Status.CAUTION,
        subject,
        source=margin.source,
        grade=margin.grade,
        working=margin.working,
        advice=margin.advice,
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
        load, "lbf/in", "N net", "N net", *_loads(found),
        source=ELEMENTS, grade=Grade.RESTATED, note=said("working.net_at_a_rivet"),
    )  # fmt: skip
    ftu = work_out(
        allowed.ftu_psi, "psi", "Ftu", "Ftu", source=allowed.source, grade=allowed.grade, note=LOWER_DIRECTION
    )
    strength = work_out(
        ftu.value * site.skin.thickness_in, "lbf/in", "N allowed", "Ftu t", ftu,
        Quantity("t", site.skin.thickness_in, "in"),
    )  # fmt: skip
    subject = said("S802.subject", row=name, rivet=Numbered("rivet", (number,)))
    yield Margin(S802.code, subject, found.name, Level.ULTIMATE, applied, strength, (), (number,))


def _buckling(found: CaseAnalysis) -> Iterator[Margin]:
    apart = found.buckling_factor(State.SHEETS_APART)
    together = found.buckling_factor(State.SHEETS_TOGETHER)
    applied = work_out(1.0, "", "load", "load", *_loads(found), note=said("working.case_at_ultimate"))
    if apart is None or together is None:
        if found.not_buckled:
            yield Margin(
                S803.code,
                said("S803.unknown"),
                found.case.name,
                Level.ULTIMATE,
                applied,
                None,
                (found.not_buckled,),
                enter=_enter(found),
            )
        return
    if not math.isfinite(apart.factor):
        return
    factor = work_out(
        apart.lowered,
        "",
        "factor",
        "sheets apart (1 - grid)",
        Quantity("sheets apart", apart.factor, ""),
        Quantity("sheets together", together.factor, ""),
        Quantity("grid", apart.grid_error_ratio, ""),
        source=ELEMENTS,
        grade=Grade.COMPUTED,
        note=said("working.lower_bound_of_buckling"),
    )
    yield Margin(
        S803.code,
        said("S803.subject", together=Amount(together.factor, "", toward="down")),
        found.case.name,
        Level.ULTIMATE,
        applied,
        factor,
        (said("S803.buckles"), said("S803.engineer")) if factor.value < 1 else (),
    )


def _enter(found: CaseAnalysis) -> tuple[str, ...]:
    """What to enter so that buckling can be looked for."""
    return ("bay.rows",) if found.not_buckled == NO_SUPPORTS else ()


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
            yield _hardest_at_full_strength(hardest_rivet(found, joints, factors))
        yield from _before_and_after(found)
    if analysis.covered:
        yield carrying_cover_finding()
    for caution in analysis.cautions:
        yield stated(S813.code, Status.CAUTION, caution, source=ELEMENTS, grade=Grade.COMPUTED)


def refused_finding(error: SolveError) -> Finding:
    """Why there are no finite elements.

    Args:
        error: what stopped them.
    Returns:
        Finding: S816, unknown: what hand methods cannot see stays open.
    """
    return stated(
        S816.code,
        Status.UNKNOWN,
        said("S816.subject", where=error.where, why=error.what),
        source=ELEMENTS,
        grade=Grade.COMPUTED,
        advice=(
            *((said("S816.remedy", remedy=error.remedy),) if error.remedy else ()),
            said("S816.not_known"),
        ),
    )


def _edge(found: CaseAnalysis, limit_psi: float, source: Source, grade: Grade, factors: Factors) -> Finding:
    before, after = (
        _at_limit(peak, name, found, factors)
        for peak, name in ((found.before, "bare"), (found.after, "ringed"))
    )
    return held(
        S811.code,
        Judgement(
            Measure(after.symbol, after.value, unit="psi"),
            (Bound(limit_psi, source, grade),),
            at_least=False,
            fails_as=Status.CAUTION,
            more=(*before.working, after.working[-1]),
        ),
        said(
            "S811.subject",
            case=found.name,
            place=Place(*found.after.place_in),
            bare=Amount(before.value, "psi"),
        ),
        said("ask.disposition"),
        place=found.after.place_in,
    )


def _at_limit(peak: EdgePeak, name: str, found: CaseAnalysis, factors: Factors) -> Worked:
    ultimate = work_out(
        abs(peak.stress_psi) * (1 + found.grid_error.edge_ratio), "psi", f"f {name}",
        "|f edge| (1 + grid)", *_loads(found), Quantity("f edge", peak.stress_psi, "psi"),
        Quantity("grid", found.grid_error.edge_ratio, ""), source=ELEMENTS, grade=Grade.RESTATED,
        note=said("working.two_grids"),
    )  # fmt: skip
    return work_out(
        ultimate.value / factors.of_safety.value,
        "psi",
        f"f {name} limit",
        f"f {name} / f",
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
    # The sheets bend neither quite apart nor quite as one, so that what the panel stands lies between the two.
    fails_as = Status.STOP if found.case.is_restored else Status.CAUTION
    status = RANKED[int(judge(was, apart, together, at_least=False, fails_as=fails_as))]
    ratio = work_out(
        apart / was, "", "after / before", "sheets apart / as it was",
        *(Quantity(one.state.name.lower().replace("_", " "), one.factor, "") for one in factors if one),
        source=ELEMENTS, grade=Grade.COMPUTED,
    )  # fmt: skip
    advice = () if status is Status.PASS else (said("S812.less" if together < was else "S812.between"), _ASK)
    yield stated(
        S812.code,
        status,
        _compared(found),
        source=ELEMENTS,
        grade=Grade.COMPUTED,
        value=ratio.value,
        limit=1.0,
        working=ratio.working,
        advice=advice,
        shortfall=max(0.0, 1.0 - ratio.value),
    )


def _compared(found: CaseAnalysis) -> Said:
    is_turned = found.case.is_restored and not found.case.q.value
    return said("S812.subject_in_compression" if is_turned else "S812.subject", case=found.case.name)


def _not_compared(found: CaseAnalysis) -> Finding:
    """Without a margin beside it, as on the restore basis, what could not be compared is not shown."""
    return stated(
        S812.code,
        Status.UNKNOWN if found.case.is_restored else Status.CAUTION,
        _compared(found),
        source=ELEMENTS,
        grade=Grade.COMPUTED,
        limit=1.0,
        advice=(found.not_buckled,) if found.not_buckled else (),
        enter=_enter(found),
    )
