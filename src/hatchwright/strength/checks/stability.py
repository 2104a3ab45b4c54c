"""S4xx and S5xx: buckling between rivets and of the skin beside the opening, and the webs of the sheared bay."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from hatchwright.finding import Finding, held
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.said import Value, inch, said
from hatchwright.strength.comparison import screened, strength_code
from hatchwright.strength.family import Family
from hatchwright.strength.load_case import Case
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.opening_analysis import CaseAnalysis, OpeningAnalysis, buckled
from hatchwright.strength.panel_buckling import free_edge_buckling, inter_rivet_stress
from hatchwright.strength.shear_bay import BayCells, cell_flows
from hatchwright.strength.site import Site
from hatchwright.strength.web import bay_before, peak_web_stress, webs_of
from hatchwright.strength.worked import Worked, inputs, strength_of, work_out
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.strength_values import strength_value

S401 = strength_code("S401", "rows", theory="stability")
S402 = strength_code("S402", "bay", "opening", "skin", theory="stability")
S505 = strength_code("S505", "bay", "skin", theory="stability", shelf=Shelf.KNOW)


def stability_margins(
    site: Site, cases: tuple[Case, ...], analysis: OpeningAnalysis | None
) -> Iterator[Family[Margin]]:
    """Margins against buckling for loads that really act; the restore basis names none.

    Yields:
        Family: S401 between rivets, S402 skin beside the opening where no finite elements judge it, S501 and S502 cells
            of the sheared bay.
    Method: docs/theory/stability.md; docs/theory/shear_bay.md.
    """
    for case in cases:
        if case.is_restored:
            continue
        for axis in (0, 1):
            if case.along(axis).value < 0:
                yield Family("between_rivets", partial(_between_rivets, site, axis, case))
        if site.cells:
            after = buckled(analysis, case)
            if after is None:
                yield Family("bay", partial(_beside, site, site.cells, case))
            if case.q.value:
                yield Family("bay", partial(_sheared, site, site.cells, case, after))


def crowded(site: Site, axis: int, load: Worked) -> Worked:
    """A running load away from the opening, crowded into the skin beside it, the doubler not counted [lbf/in].

    The skin left of the bay carries the load of all of it; where there is no bay the load stays as it is.
    Method: docs/theory/stability.md, eq. 4.
    """
    if site.cells is None:
        return load
    width_in = site.cells.width_in if axis else site.cells.height_in
    cut_in = site.opening_in[1 - axis]
    equation = f"{load.symbol} beside = {load.symbol} w / (w - cut) [lbf/in]"
    beside = load.value * width_in / (width_in - cut_in)
    return work_out(beside, equation, load, *inputs("in", w=width_in, cut=cut_in))


def _stress(site: Site, load: Worked, symbol: str) -> Worked:
    skin = site.skin
    return work_out(
        abs(load.value) / skin.thickness_in, f"{symbol} = |{load.symbol}| / t [psi]", load, skin.t
    )


def _between_rivets(site: Site, axis: int, case: Case) -> Iterator[Margin]:
    """Rows that run along the load lie on the sides across it."""
    stress = _stress(site, crowded(site, axis, case.along(axis)), "f")
    for side in site.sides:
        if side.axis == axis:
            continue
        for row in side.rows:
            if row.longest_in is None:
                continue
            names = row.holes[0].stack
            thinnest = min((site.sheets[name] for name in names), key=lambda sheet: sheet.thickness_in)
            allowed = inter_rivet_stress(
                thinnest.allowed,
                thickness_in=thinnest.thickness_in,
                pitch_in=row.longest_in,
                is_flush=parse_rivet(row.holes[0].fastener).is_flush,
                shop=site.shop,
            )
            subject = said("S401.subject", row=row.name)
            advice = (ASK,) if allowed.value < stress.value else ()
            yield Margin(S401, subject, case.name, Level.ULTIMATE, stress, allowed, advice)


def _strips(site: Site, cells: BayCells, case: Case) -> Iterator[tuple[dict[str, Value], Worked, Worked]]:
    """The skin strip on each side of the opening, from its edge to the row, as long as the bay, in compression: its
    stress, and that at which it buckles together with its shear. Its edge at the opening is free.
    """
    for axis, letter in enumerate("XY"):
        direct = case.along(axis)
        if direct.value >= 0:
            continue
        strips, length_in = (cells.columns_in, cells.height_in) if axis else (cells.rows_in, cells.width_in)
        load = crowded(site, axis, direct)
        stress = _stress(site, load, "f")
        flows = cell_flows(cells, shear_lbf_in=abs(case.q.value))
        flow = flows.beside if axis else flows.over
        for width_in in {strips[0], strips[2]}:
            allowed = free_edge_buckling(
                site.skin.allowed,
                thickness_in=site.skin.thickness_in,
                length_in=length_in,
                width_in=width_in,
                shear_ratio=flow.value / abs(load.value),
            )
            yield {"width": inch(width_in), "axis": letter}, stress, allowed


def _beside(site: Site, cells: BayCells, case: Case) -> Iterator[Margin]:
    for strip, stress, allowed in _strips(site, cells, case):
        advice = (said("S402.doubler_not_counted"),) if allowed.value < stress.value else ()
        subject = said("S402.subject", **strip)
        yield Margin(S402, subject, case.name, Level.ULTIMATE, stress, allowed, advice)


def _beside_screened(site: Site, cells: BayCells, case: Case) -> Iterator[Finding]:
    """The same where the finite elements judge the panel with its doubler: it only cautions."""
    for strip, stress, allowed in _strips(site, cells, case):
        judged = screened(stress, allowed.value, allowed, allowed.working)
        subject = said("S402.screened", **strip, case=case.name)
        yield held(S402, judged, subject, said("S402.elements_judge"))


def _sheared(site: Site, cells: BayCells, case: Case, after: CaseAnalysis | None) -> Iterator[Margin]:
    for web in webs_of(site, cells, case):
        stress, allowed = web.stress, site.skin.allowed
        fsu = strength_of(allowed, "Fsu")
        if not web.factor.value:
            flat = said("working.web_does_not_buckle")
            web_strength = work_out(fsu.value, "F web = Fsu [psi]", fsu, web.critical, note=flat)
            yield Margin(web.code, web.subject, case.name, Level.ULTIMATE, stress, web_strength)
            continue
        part = strength_value("buckled_web_allowable", site.shop)
        ftu = strength_of(allowed, "Ftu")
        web_strength = work_out(
            part.value * ftu.value, f"F web = {part.value:g} Ftu [psi]", ftu, web.critical, web.factor,
            by=part, note=said("working.web_buckles"),
        )  # fmt: skip
        framed = web.members
        stress = peak_web_stress(web, framed) if framed else stress
        as_before = framed or (after is not None and after.is_as_stable)
        advice = (said("S501.buckles"), *(() if as_before else (said("S501.members"),)))
        yield Margin(web.code, web.subject, case.name, Level.ULTIMATE, stress, web_strength, advice)


def stability_findings(
    site: Site, cases: tuple[Case, ...], analysis: OpeningAnalysis | None
) -> Iterator[Finding]:
    """What is compared and screened beside the margins against buckling.

    Yields:
        Finding: S402 where the finite elements judge the panel, S505 the bay as it was.
    """
    for case in cases:
        if case.is_restored or site.cells is None:
            continue
        cells = site.cells
        if buckled(analysis, case):
            yield from _beside_screened(site, cells, case)
        if case.q.value:
            before, critical = bay_before(site, cells, case)
            judged = screened(before, critical.value, critical, critical.working)
            subject = said("S505.subject", case=case.name)
            yield held(S505, judged, subject, said("S505.buckled_before"))
