"""The webs of a sheared bay, which are its cells round the opening: each with its own stress and its own buckling."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from hatchwright.said import Said, inch, said
from hatchwright.strength.comparison import strength_code
from hatchwright.strength.edge_member import Member, members_of
from hatchwright.strength.load_case import Case
from hatchwright.strength.panel_buckling import shear_buckling
from hatchwright.strength.shear_bay import (
    BayCells,
    cell_flows,
    flange_bending,
    flange_stress_factor,
    tension_factor,
)
from hatchwright.strength.site import Site
from hatchwright.strength.worked import Worked, work_out

S501 = strength_code("S501", "bay", "opening", "skin", theory="shear_bay")
S502 = strength_code("S502", "bay", "opening", "skin", theory="shear_bay")


class Web(Struct, frozen=True):
    """One cell beside the opening, or over it.

    Args:
        code: S501 beside the opening, S502 above and below.
        axis: along which the members run that end it at the opening: 1 for Y beside the opening, 0 for X over it.
        width_in: from the opening to the row [in].
        length_in: along the opening [in].
        thickness_in: of the skin [in].
        flow: its shear flow [lbf/in].
        stress: its shear stress [psi].
        critical: at which it buckles by itself, on simple supports [psi].
        factor: k, 0 where it does not buckle [-].
        members: along its edge at the opening, none where the job names none.
    """

    code: str
    subject: Said
    axis: int
    width_in: float
    length_in: float
    thickness_in: float
    flow: Worked
    stress: Worked
    critical: Worked
    factor: Worked
    members: tuple[Member, ...]


def webs_of(site: Site, cells: BayCells, case: Case) -> Iterator[Web]:
    """Every cell beside and over the opening; of two that are alike and framed alike only one."""
    flows = cell_flows(cells, shear_lbf_in=abs(case.q.value))
    skin, named = site.skin, members_of(site)
    left, over, right = cells.columns_in
    below, beside, above = cells.rows_in
    for code, id, axis, flow, widths_in, length_in, edges in (
        (S501, "S501.subject", 1, flows.beside, (left, right), beside, ("X-", "X+")),
        (S502, "S502.subject", 0, flows.over, (below, above), over, ("Y-", "Y+")),
    ):
        seen = set()
        for width_in, edge in zip(widths_in, edges, strict=True):
            members = tuple(one for one in named if one.edge == edge)
            if (width_in, members) in seen:
                continue
            seen.add((width_in, members))
            stress = work_out(
                flow.value / skin.thickness_in, f"tau = |{flow.symbol}| / t [psi]", flow, skin.t
            )
            critical = shear_buckling(
                skin.allowed, thickness_in=skin.thickness_in, sides_in=(width_in, length_in)
            )
            factor = tension_factor(stress_psi=stress.value, critical_psi=critical.value)
            subject = said(id, width=inch(width_in))
            yield Web(
                code,
                subject,
                axis,
                width_in,
                length_in,
                skin.thickness_in,
                flow,
                stress,
                critical,
                factor,
                members,
            )


def peak_web_stress(web: Web, members: tuple[Member, ...]) -> Worked:
    """Shear stress where a buckled web hangs on the ends of the member at the opening, which bends between them [psi].

    Method: docs/theory/diagonal_tension.md, eq. 3 to 5.
    """
    least_in4 = min(one.across_in4 for one in members)
    bends = flange_stress_factor(
        flange_bending(
            length_in=web.length_in, thickness_in=web.thickness_in, depth_in=web.width_in, bends_in4=least_in4
        )
    )
    return work_out(
        web.stress.value * (1 + web.factor.value * bends.value),
        "tau peak = tau (1 + k C2) [psi]",
        web.stress,
        web.factor,
        bends,
    )


def bay_factor(site: Site, cells: BayCells, case: Case) -> Worked:
    """How far the whole bay, before it was cut, had gone to diagonal tension: k, 0 where it did not buckle [-]."""
    before, critical = bay_before(site, cells, case)
    return tension_factor(stress_psi=before.value, critical_psi=critical.value)


def bay_before(site: Site, cells: BayCells, case: Case) -> tuple[Worked, Worked]:
    """Shear stress of the bay before it was cut, and that at which it buckled [psi]."""
    skin = site.skin
    before = work_out(abs(case.q.value) / skin.thickness_in, "tau before = |q| / t [psi]", case.q, skin.t)
    critical = shear_buckling(
        skin.allowed, thickness_in=skin.thickness_in, sides_in=(cells.width_in, cells.height_in)
    )
    return before, critical
