"""S4xx and S5xx: buckling between rivets and of the skin beside the opening, and the sheared bay."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from hatchwright.finding import Finding, held
from hatchwright.judged import Status
from hatchwright.register import Shelf
from hatchwright.remedy import ASK
from hatchwright.said import Amount, Said, inch, said
from hatchwright.strength.comparison import screened, strength_code, told
from hatchwright.strength.factors import Factors
from hatchwright.strength.family import Family
from hatchwright.strength.load_case import Case
from hatchwright.strength.margin import Level, Margin
from hatchwright.strength.panel_buckling import (
    compression_buckling,
    inter_rivet_stress,
    interaction,
    shear_buckling,
)
from hatchwright.strength.shear_bay import BayCells, cell_flows, edge_rivet_load, tension_factor
from hatchwright.strength.site import Site
from hatchwright.strength.worked import Worked, inputs, strength_of, work_out
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.strength_values import strength_value

S401 = strength_code("S401", "rows", theory="stability")
S402 = strength_code("S402", "bay", "opening", "skin", theory="stability")
S501 = strength_code("S501", "bay", "opening", "skin", theory="shear_bay")
S502 = strength_code("S502", "bay", "opening", "skin", theory="shear_bay")
S503 = strength_code("S503", "bay", "opening", theory="shear_bay")
S504 = strength_code("S504", "bay", "opening", theory="diagonal_tension", shelf=Shelf.KNOW)
S505 = strength_code("S505", "bay", "skin", theory="stability", shelf=Shelf.KNOW)


def stability_margins(site: Site, cases: tuple[Case, ...], factors: Factors) -> Iterator[Family[Margin]]:
    """Margins against buckling for loads that really act; the restore basis names none.

    Yields:
        Family: S401 between rivets, S402 skin beside the opening, S501 and S502 cells of the sheared bay.
    Method: docs/theory/stability.md; docs/theory/shear_bay.md.
    """
    for case in cases:
        if case.is_restored:
            continue
        for axis in (0, 1):
            if case.along(axis).value < 0:
                yield Family("between_rivets", partial(_between_rivets, site, axis, case))
        if site.cells:
            yield Family("bay", partial(_beside, site, site.cells, case))
            if case.q.value:
                yield Family("bay", partial(_sheared, site, site.cells, case, factors))


def crowded(site: Site, axis: int, load: Worked) -> Worked:
    """A running load away from the opening, crowded into the skin beside it, the doubler not counted [lbf/in].

    The skin left of the bay carries the load of all of it; where there is no bay the load stays as it is.
    Method: docs/theory/stability.md, eq. 6.
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


def _shear_critical(site: Site, width_in: float, length_in: float) -> Worked:
    sides_in = (width_in, length_in)
    return shear_buckling(site.skin.allowed, thickness_in=site.skin.thickness_in, sides_in=sides_in)


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


def _beside(site: Site, cells: BayCells, case: Case) -> Iterator[Margin]:
    """The skin strip on each side of the opening, from its edge to the row, as long as the bay, in compression."""
    for axis, letter in enumerate("XY"):
        direct = case.along(axis)
        if direct.value >= 0:
            continue
        strips, length_in = (cells.columns_in, cells.height_in) if axis else (cells.rows_in, cells.width_in)
        stress = _stress(site, crowded(site, axis, direct), "f")
        shear = cell_flows(cells, shear_lbf_in=abs(case.q.value))
        flow = shear.beside if axis else shear.over
        for width_in in {strips[0], strips[2]}:
            critical = compression_buckling(
                site.skin.allowed, thickness_in=site.skin.thickness_in, length_in=length_in, width_in=width_in
            )
            subject = said("S402.subject", width=inch(width_in), axis=letter)
            allowed = critical
            if case.q.value:
                shear_stress = _stress(site, flow, "fs")
                shear_critical = _shear_critical(site, width_in, length_in)
                growth = interaction(
                    compression_ratio=stress.value / critical.value,
                    shear_ratio=shear_stress.value / shear_critical.value,
                )
                allowed = work_out(
                    growth.value * stress.value, "f with shear = growth f [psi]", growth, stress, critical,
                    shear_stress, shear_critical, by=growth,
                )  # fmt: skip
            advice = (said("S402.doubler_not_counted"),) if allowed.value < stress.value else ()
            yield Margin(S402, subject, case.name, Level.ULTIMATE, stress, allowed, advice)


def _sheared(site: Site, cells: BayCells, case: Case, factors: Factors) -> Iterator[Margin]:
    flows = cell_flows(cells, shear_lbf_in=abs(case.q.value))
    left, over, right = cells.columns_in
    below, beside, above = cells.rows_in
    for code, id, flow, widths_in, length_in in (
        (S501, "S501.subject", flows.beside, {left, right}, beside),
        (S502, "S502.subject", flows.over, {below, above}, over),
    ):
        stress = _stress(site, flow, "tau")
        for width_in in widths_in:
            allowed, advice = _web_allowable(site, stress, _shear_critical(site, width_in, length_in))
            subject = said(id, width=inch(width_in))
            yield Margin(code, subject, case.name, Level.ULTIMATE, stress, allowed, advice)


def _web_allowable(site: Site, stress: Worked, critical: Worked) -> tuple[Worked, tuple[Said, ...]]:
    allowed = site.skin.allowed
    if stress.value <= critical.value:
        fsu = strength_of(allowed, "Fsu")
        flat = said("working.web_does_not_buckle")
        return work_out(fsu.value, "F web = Fsu [psi]", fsu, critical, note=flat), ()
    part = strength_value("buckled_web_allowable", site.shop)
    ftu = strength_of(allowed, "Ftu")
    factor = tension_factor(stress_psi=stress.value, critical_psi=critical.value)
    web = work_out(
        part.value * ftu.value, f"F web = {part.value:g} Ftu [psi]", ftu, critical, factor,
        by=part, note=said("working.web_buckles"),
    )  # fmt: skip
    return web, (said("S501.buckles"), said("S501.members"))


def stability_findings(site: Site, cases: tuple[Case, ...]) -> Iterator[Finding]:
    """What the sheared bay asks of members and rows that the job does not describe.

    Yields:
        Finding: S503 end loads of framing members, S504 running load on the rows of the bay, S505 the bay as it was.
    """
    for case in cases:
        if case.is_restored or not case.q.value or site.cells is None:
            continue
        cells = site.cells
        flows = cell_flows(cells, shear_lbf_in=abs(case.q.value))
        worst = max(flows.beside, flows.over, key=lambda flow: flow.value)
        stress = _stress(site, worst, "tau")
        critical = _shear_critical(site, cells.width_in, cells.height_in)
        factor = tension_factor(stress_psi=stress.value, critical_psi=critical.value)
        unframed = Status.UNKNOWN if factor.value > 0 else Status.CAUTION
        for member, along in ((flows.frame_x, "X"), (flows.frame_y, "Y")):
            subject = said("S503.subject", case=case.name, axis=along, load=Amount(member.value, "lbf"))
            yield told(S503, unframed, subject, member, said("S503.members"), said("S503.engineer"))
        rivets = edge_rivet_load(shear_lbf_in=worst.value, factor=factor, shop=site.shop)
        subject = said("S504.subject", case=case.name, load=Amount(rivets.value, "lbf/in"))
        yield told(S504, Status.CAUTION, subject, rivets, said("S504.compare"))
        before = _stress(site, case.q, "tau before")
        judged = screened(before, critical.value, critical, critical.working)
        subject = said("S505.subject", case=case.name)
        yield held(S505, judged, subject, said("S505.buckled_before"))
