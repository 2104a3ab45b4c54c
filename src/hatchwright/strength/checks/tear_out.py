"""S304: the metal between a hole and its nearest edge, under the load of that hole."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from hatchwright.errors import HatchwrightError
from hatchwright.judged import Status
from hatchwright.layout.cut_side import CutSide
from hatchwright.layout.layout import Hole
from hatchwright.said import Numbered, said
from hatchwright.strength.bearing import tear_out_strength
from hatchwright.strength.checks.rivets import sharing_alike, side_load, worst_sharing
from hatchwright.strength.checks.sheets import shown
from hatchwright.strength.comparison import strength_code
from hatchwright.strength.drawn_load import NOT_RUN, PickUps
from hatchwright.strength.factors import Factors
from hatchwright.strength.family import Family
from hatchwright.strength.fastener_load import FastenerLoad
from hatchwright.strength.load_case import Case
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.opening_analysis import CaseAnalysis, OpeningAnalysis
from hatchwright.strength.rivet_load import rivet_load
from hatchwright.strength.site import Site, finished_hole_in
from hatchwright.strength.worked import Worked, work_out

S304 = strength_code("S304", "edges", theory="bearing")


def tear_out_margins(
    site: Site,
    cases: tuple[Case, ...],
    factors: Factors,
    picked_up: PickUps = NOT_RUN,
    analysis: OpeningAnalysis | None = None,
) -> Iterator[Family[Margin]]:
    """Margins of the metal between holes and edges.

    Args:
        picked_up: what the doubler carries by the finite elements.
        analysis: the finite elements, None where there are none.
    Yields:
        Family: S304 for each side and case.
    Method: docs/theory/bearing.md, eq. 3 to 5.
    """
    for case in cases:
        by_elements = _by_elements(case, analysis, factors)
        for side in site.sides:
            if side.rivets and (case.along(side.axis).value or case.q.value):
                yield Family(
                    "tear_out", partial(_tear_out, site, side, case, factors, picked_up, by_elements)
                )


def _by_elements(
    case: Case, analysis: OpeningAnalysis | None, factors: Factors
) -> dict[int, tuple[CaseAnalysis, FastenerLoad]]:
    """The load of each rivet under a load that really acts, the greater of both states of a cover that carries."""
    found: dict[int, tuple[CaseAnalysis, FastenerLoad]] = {}
    for one in analysis.cases if analysis and not case.is_restored else ():
        for rivet in one.rivets if one.case == case else ():
            before = found.get(rivet.number)
            if before is None or rivet.greater_lbf > before[1].greater_lbf:
                found[rivet.number] = one, rivet
    return found


def _tear_out(
    site: Site,
    side: CutSide,
    case: Case,
    factors: Factors,
    picked_up: PickUps,
    by_elements: Mapping[int, tuple[CaseAnalysis, FastenerLoad]],
) -> Iterator[Margin]:
    """The hole whose own load comes nearest to what the metal beside it carries."""
    by_hand = _by_hand(site, side, side_load(site, side, case, factors, picked_up), bool(by_elements))
    worst: tuple[Worked, Worked, Hole] | None = None
    missing: HatchwrightError | None = None
    for hole in side.rivets:
        load = _own(by_hand, by_elements.get(hole.number), factors)
        for name in hole.stack:
            sheet = site.sheets[name]
            try:
                strength = tear_out_strength(
                    sheet.allowed,
                    sheet=name,
                    thickness_in=sheet.thickness_in,
                    hole_in=finished_hole_in(site, hole),
                    edge_in=site.edge_in[name, hole.number],
                )
            except HatchwrightError as error:
                missing = error
                continue
            if worst is None or load.value * worst[1].value > worst[0].value * strength.value:
                worst = load, strength, hole
    if worst:
        load, strength, hole = worst
        subject = said("S304.subject", side=side.name, rivet=Numbered("rivet", (hole.number,)))
        margin = Margin(S304, subject, case.name, Level.ULTIMATE, load, strength, (), (hole.number,))
        if missing is None or margin.status is Status.STOP:
            yield shown(margin, missing)
    if missing is not None:
        raise missing


def _by_hand(site: Site, side: CutSide, load: Worked, with_elements: bool) -> Worked:
    """What a hole carries by hand: alike where the elements tell each hole's own, else as much as the hardest."""
    alike = sharing_alike(side, [hole.number for hole in side.rivets])
    if with_elements or alike.value <= 0.0:
        n = work_out(float(len(side.rivets)), "n")
        return work_out(load.value / n.value, "P each = P / n [lbf]", load, n)
    peak = worst_sharing(site, side)
    each_lbf = load.value / alike.value * peak.value
    return work_out(each_lbf, "P each = P / n peak [lbf]", load, alike, peak)


def _own(by_hand: Worked, by_elements: tuple[CaseAnalysis, FastenerLoad] | None, factors: Factors) -> Worked:
    """The elements' load of a hole where they find more than sharing alike: they never lower it."""
    if by_elements is None or by_elements[1].greater_lbf * factors.joint.value <= by_hand.value:
        return by_hand
    return rivet_load(*by_elements, factors)
