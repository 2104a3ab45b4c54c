"""S8xx: margins and comparisons from the finite elements."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from msgspec.structs import replace

from hatchwright.errors import HatchwrightError, SolveError
from hatchwright.fem.buckling import Buckling, State
from hatchwright.fem.running import net_loads
from hatchwright.fem.solution import Peak
from hatchwright.finding import Finding, Stated, held
from hatchwright.judged import RANKED, Judgement, Status, judge
from hatchwright.layout.layout import Layout
from hatchwright.layout.stray import StrayIn
from hatchwright.layout.stray_edges import open_in
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.said import Amount, Numbered, Place, Said, inch, said
from hatchwright.strength.checks.carrying_cover import carrying_cover_finding, carrying_cover_margins
from hatchwright.strength.checks.rivets import Joints
from hatchwright.strength.checks.yielding import rivets_at_ultimate
from hatchwright.strength.comparison import edge_screened, strength_code, told
from hatchwright.strength.edge_member import is_framed
from hatchwright.strength.factors import Factors
from hatchwright.strength.family import not_shown
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.opening_analysis import NO_SUPPORTS, STATES, CaseAnalysis, OpeningAnalysis
from hatchwright.strength.rivet_load import rivet_load
from hatchwright.strength.site import Site
from hatchwright.strength.worked import ELEMENTS, READ_OFF, Worked, inputs, looked_up, strength_of, work_out
from hatchwright.tables.cited import Cited
from hatchwright.tables.strength_values import strength_value
from hatchwright.workings import Quantity

_ANALYZED = ("bay", "opening", "rows", "skin", "doubler")

NOT_A_MARGIN = said("S814.no_margin")
"""Beside an elastic load of the restore basis."""

S801 = strength_code("S801", *_ANALYZED, theory="fem")
S802 = strength_code("S802", *_ANALYZED, theory="fem")
S803 = strength_code("S803", *_ANALYZED, theory="fem")
S811 = strength_code("S811", *_ANALYZED, theory="fem")
S812 = strength_code("S812", *_ANALYZED, theory="fem")
S813 = strength_code("S813", *_ANALYZED, theory="fem", shelf=Shelf.KNOW)
S814 = strength_code("S814", *_ANALYZED, theory="fem", shelf=Shelf.KNOW, cause="hardest_rivet")
S816 = strength_code("S816", *_ANALYZED, theory="fem")
S817 = strength_code("S817", "strays", "opening", "skin", "doubler", theory="fem")


def element_margins(
    site: Site, joints: Joints, analysis: OpeningAnalysis, factors: Factors
) -> Iterator[Margin]:
    """Margins from the finite elements.

    Yields:
        Margin: S801 hardest worked rivet at limit load, S802 skin between the rivets of a row, S803 buckling of the
            reinforced panel; where the cover carries, S804 its hardest worked screw and S805 its metal; S806 the rivets
            at ultimate load.
    """
    for found in analysis.cases:
        if not found.case.is_restored:
            yield hardest_rivet(found, joints, factors)
            yield rivets_at_ultimate(site, found, joints, factors)
            yield from _rows(site, found)
            yield from _buckling(site, found)
            yield from carrying_cover_margins(site, found, factors)


def hardest_rivet(found: CaseAnalysis, joints: Joints, factors: Factors) -> Margin:
    """S801: the rivet whose load comes nearest to what it may carry at limit load; only compared on "restore"."""
    case = found.name
    known = [
        (rivet, strength) for rivet in found.rivets if (strength := joints[rivet.number].at_yield) is not None
    ]
    if not known:
        refusal = next(iter(joints.values())).refusal if joints else (said("S801.no_rivet"),)
        return Margin(S801, said("S801.unknown"), case, Level.LIMIT, None, None, refusal)
    rivet, strength = max(known, key=lambda pair: pair[0].greater_lbf / pair[1].value)
    peak, safety = rivet_load(found, rivet, factors), factors.of_safety
    at_limit = work_out(peak.value / safety.value, "P limit = P rivet / f [lbf]", peak, safety)
    subject = said("S801.subject", rivet=Numbered("rivet", (rivet.number,)))
    return Margin(S801, subject, case, Level.LIMIT, at_limit, strength, (), (rivet.number,))


def _hardest_at_full_strength(margin: Margin) -> Finding:
    """With the whole skin at its own strength metal yields and rivets even out: the elastic load only cautions."""
    subject = said("S814.subject", case=margin.case, subject=margin.subject)
    if isinstance(margin.judged, Judgement):
        judged = replace(margin.judged, fails_as=Status.CAUTION, doubtful_as=Status.CAUTION)
        return held(S814, judged, subject, NOT_A_MARGIN, holes=margin.holes)
    return Finding(S814, replace(margin.judged, status=Status.CAUTION), subject, margin.advice, margin.holes)


def _rows(site: Site, found: CaseAnalysis) -> Iterator[Margin]:
    """The row whose net section the skin meets hardest in tension."""
    at = {rivet.number: place for place, rivet in enumerate(found.rivets)}
    worst: tuple[float, str, int] | None = None
    for name, holes in site.layout.rows().items():
        row = [at[hole.number] for hole in holes if hole.number in at]
        if len(row) < 2:
            continue
        net = net_loads(found.response, "skin", row)
        place = int(np.argmax(net))
        if worst is None or net[place] > worst[0]:
            worst = float(net[place]), name, found.rivets[row[place]].number
    if worst is None or worst[0] <= 0:
        return
    load, name, number = worst
    note = said("working.net_at_a_rivet")
    applied = work_out(load, "N net [lbf/in]", *found.case.loads, by=READ_OFF, note=note)
    skin, ftu = site.skin, strength_of(site.skin.allowed, "Ftu")
    strength = work_out(ftu.value * skin.thickness_in, "N allowed = Ftu t [lbf/in]", ftu, skin.t)
    subject = said("S802.subject", row=name, rivet=Numbered("rivet", (number,)))
    yield Margin(S802, subject, found.name, Level.ULTIMATE, applied, strength, (), (number,))


def _buckling(site: Site, found: CaseAnalysis) -> Iterator[Margin]:
    apart = found.buckling.get(State.SHEETS_APART)
    together = found.buckling.get(State.SHEETS_TOGETHER)
    applied = work_out(1.0, "load", *found.case.loads, note=said("working.case_at_ultimate"))
    if apart is None or together is None:
        if found.not_buckled:
            why, subject = (found.not_buckled,), said("S803.unknown")
            yield Margin(
                S803, subject, found.case.name, Level.ULTIMATE, applied, None, why, enter=_enter(found)
            )
        return
    if not math.isfinite(apart.factor) or _is_left_to_members(site, found):
        return
    was = found.buckling.get(State.AS_IT_WAS)
    if was and apart.lowered < 1.0 and found.is_no_worse:
        factor = _lowered(apart, together)
        before = work_out(
            was.factor,
            "factor before = as it was",
            *found.case.loads,
            by=ELEMENTS,
            note=said("working.never_too_low"),
        )
        subject = said(
            "S803.no_worse",
            after=Amount(factor.value, "", toward="down"),
            before=Amount(was.factor, "", toward="up"),
        )
        yield Margin(S803, subject, found.case.name, Level.ULTIMATE, before, factor)
        return
    factor = _held(found, apart, together)
    subject = said("S803.subject", together=Amount(together.factor, "", toward="down"))
    advice = (said("S803.buckles"), said("S803.engineer")) if factor.value < 1 else ()
    yield Margin(S803, subject, found.case.name, Level.ULTIMATE, applied, factor, advice)


def _lowered(apart: Buckling, together: Buckling) -> Worked:
    """The factor of sheets of one shape, as it is compared with what the panel was."""
    return work_out(
        apart.lowered,
        "factor = sheets apart (1 - grid)",
        *inputs("", sheets_apart=apart.factor, sheets_together=together.factor, grid=apart.grid_error_ratio),
        by=ELEMENTS,
        note=said("working.lower_bound_of_buckling"),
    )


def _held(found: CaseAnalysis, apart: Buckling, together: Buckling) -> Worked:
    """What a load is held to; at its better end the sheets keep one shape between their rivets."""
    best = _lowered(apart, together)
    parting = looked_up(strength_value("sheets_between_rivets"), "", "parting")
    worked = work_out(found.held, "factor held = factor (1 - parting)", best, parting, by=ELEMENTS)
    return replace(worked, best=best)


def _is_left_to_members(site: Site, found: CaseAnalysis) -> bool:
    """Whether a panel that is sheared and not pressed buckles sooner than before, but has members along its opening.

    They part it into cells, which the elements do not know of; S501 to S504 judge what it carries once it has buckled.
    """
    is_pressed = min(found.case.nx.value, found.case.ny.value) < 0.0
    return is_framed(site) and not is_pressed and not found.is_as_stable


def _between_members(site: Site, found: CaseAnalysis) -> Iterator[Finding]:
    apart, together = (found.buckling.get(state) for state in (State.SHEETS_APART, State.SHEETS_TOGETHER))
    if apart and together and _is_left_to_members(site, found):
        subject = said("S803.framed", case=found.case.name)
        factor = _held(found, apart, together)
        yield told(S803, Status.CAUTION, subject, factor, said("S803.members_judge"), limit=1.0)


def _enter(found: CaseAnalysis) -> tuple[str, ...]:
    """What to enter so that buckling can be looked for."""
    return ("bay.rows",) if found.not_buckled == NO_SUPPORTS else ()


def element_findings(
    site: Site, joints: Joints, analysis: OpeningAnalysis, factors: Factors
) -> Iterator[Finding]:
    """Comparisons from the finite elements.

    Yields:
        Finding: S803 where members part the panel, S811 stress at every free edge with the doubler, S812 buckling
            before and after, S813 what makes it less sure, S814 the hardest worked rivet on the restore basis, S815
            that the cover carries, S817 stray holes that the model has not got.
    """
    cap = strength_value("fatigue_screen_cap", site.shop)
    for found in analysis.cases:
        if not found.case.is_restored:
            yield from _edges(site, found, cap, factors)
            yield from _between_members(site, found)
        else:
            yield _hardest_at_full_strength(hardest_rivet(found, joints, factors))
        yield from _before_and_after(found)
    yield from _strays(site)
    if analysis.covered:
        yield carrying_cover_finding()
    for caution in analysis.cautions:
        yield told(S813, Status.CAUTION, caution, ELEMENTS)


def _strays(site: Site) -> Iterator[Finding]:
    """S817: stray holes that are open in a sheet of the model, which has none of them."""
    of_sheets = {stray.number: stray for part in _SHEETS for stray in open_in(site.layout, part)}
    for stray in of_sheets.values():
        subject = said("S817.subject", number=stray.number, size=inch(stray.hole_in))
        yield told(S817, Status.UNKNOWN, subject, ELEMENTS, said("S817.by_hand"), ASK)


_SHEETS: tuple[StrayIn, ...] = ("skin", "doubler")


def refused_finding(layout: Layout, error: HatchwrightError) -> Finding:
    """Why there are no finite elements.

    Returns:
        Finding: S816, unknown: what hand methods cannot see stays open; S100 where a table lacks a value.
    """
    if not isinstance(error, SolveError):
        return not_shown(layout, "elements", error)
    remedy = (error.remedy,) if error.remedy else ()
    subject = said("S816.subject", where=error.where, why=error.what)
    return told(S816, Status.UNKNOWN, subject, ELEMENTS, *remedy, said("S816.not_known"))


def _edges(site: Site, found: CaseAnalysis, cap: Cited, factors: Factors) -> Iterator[Finding]:
    """Each free edge by itself; beside that of the opening stands what it bears without the doubler."""
    before = edge_at_limit(found.before, "bare", found, found.grid_error.edge_ratio, factors)
    for edge in found.edges:
        is_opening = edge.part == "skin"
        stress = edge_at_limit(
            edge.peak, "ringed" if is_opening else "doubler", found, edge.grid_ratio, factors
        )
        place = Place(*edge.peak.place_in)
        subject = (
            said("S811.subject", case=found.name, place=place, bare=Amount(before.value, "psi"))
            if is_opening
            else said("S811.doubler_subject", edge=edge.named, case=found.name, place=place)
        )
        judged = edge_screened(
            stress, cap, site.sheets[edge.part].allowed, before.working if is_opening else ()
        )
        yields = (said("S811.yields"),) if judged.status is Status.STOP else ()
        yield held(S811, judged, subject, *yields, ASK, place=edge.peak.place_in)


def edge_at_limit(peak: Peak, name: str, found: CaseAnalysis, grid: float, factors: Factors) -> Worked:
    """Stress at a peak along an edge, raised by the difference of two grids and by rivet holes near it, at limit load
    [psi].

    Args:
        name: "bare", "ringed" or "doubler".
        grid: difference of the two grids over the greatest stress of that edge [-].
    """
    holes = 0.0 if name == "bare" else strength_value("open_holes_at_an_edge").value
    ultimate = work_out(
        abs(peak.stress_psi) * (1 + grid + holes),
        f"f {name} = |f edge| (1 + grid + holes) [psi]",
        *found.case.loads,
        *inputs("psi", f_edge=peak.stress_psi),
        *inputs("", grid=grid, holes=holes),
        by=READ_OFF,
        note=said("working.two_grids"),
    )
    equation = f"f {name} limit = f {name} / f [psi]"
    return work_out(ultimate.value / factors.of_safety.value, equation, ultimate, factors.of_safety)


def _before_and_after(found: CaseAnalysis) -> Iterator[Finding]:
    if found.not_buckled:
        # Without a margin beside it, as on the restore basis, what could not be compared is not shown.
        open_ = Status.UNKNOWN if found.case.is_restored else Status.CAUTION
        why, enter_ = found.not_buckled, _enter(found)
        yield told(S812, open_, _compared(found), ELEMENTS, why, limit=1.0, enter=enter_)
    factors = {state: found.buckling[state].factor for state in STATES if state in found.buckling}
    if len(factors) < len(STATES) or not all(map(math.isfinite, factors.values())):
        return
    was, apart, together = factors.values()
    # The sheets bend neither quite apart nor quite as one, so that what the panel stands lies between the two.
    fails_as = Status.STOP if found.case.is_restored else Status.CAUTION
    status = RANKED[int(judge(was, apart, together, at_least=False, fails_as=fails_as))]
    named = (Quantity(state.value.replace("_", " "), factor, "") for state, factor in factors.items())
    ratio = work_out(apart / was, "after / before = sheets apart / as it was", *named, by=ELEMENTS)
    advice = () if status is Status.PASS else (said("S812.less" if together < was else "S812.between"), ASK)
    answer = Stated(
        status, ratio.source, ratio.grade, ratio.value, 1.0, "", ratio.working, max(0.0, 1.0 - ratio.value)
    )
    yield Finding(S812, answer, _compared(found), advice)


def _compared(found: CaseAnalysis) -> Said:
    is_turned = found.case.is_restored and not found.case.q.value
    return said("S812.subject_in_compression" if is_turned else "S812.subject", case=found.case.name)
