"""The load that a doubler takes past the opening: that of the metal cut away, or what its stiffness draws where that
is more."""

from __future__ import annotations

import math
from collections.abc import Mapping
from enum import Enum
from typing import TypeAlias

from hatchwright.said import said
from hatchwright.strength.load_case import Case
from hatchwright.strength.site import Site
from hatchwright.strength.worked import READ_OFF, Worked, inputs, work_out
from hatchwright.workings import Quantity

PickUps: TypeAlias = Mapping[tuple[Case, int], tuple[float, float]]
"""Direct and shear load of the doubler across the middle of the opening by the finite elements, with the error of the
grid, by case and axis [lbf]."""

NOT_RUN: PickUps = {}
"""Without the finite elements."""


class Load(Enum):
    """Which running load is drawn; the value is how a working writes it."""

    DIRECT = "|N|"
    SHEAR = "|q|"
    BOTH = "sqrt(N^2 + q^2)"


def drawn_load(
    site: Site,
    axis: int,
    case: Case,
    of: Load,
    *,
    cut_in: float,
    picked_up: PickUps = NOT_RUN,
    special: Worked | None = None,
    leg: int | None = None,
) -> Worked:
    """Ultimate load that the doubler takes past the opening, or one of its legs beside it [lbf].

    Args:
        site: with a doubler.
        axis: the load runs along it, 0 for X, 1 for Y.
        cut_in: metal cut away, square to the axis [in].
        picked_up: by the finite elements, which raise the load where they find more and never lower it.
        special: factor by which the load is raised.
        leg: 0 for the leg below the middle of the opening, 1 for the one above, None for both together.
    Method: docs/theory/net_section.md, eq. 7 to 9.
    """
    direct, shear = case.along(axis), case.q
    flows = {Load.DIRECT: (direct,), Load.SHEAR: (shear,), Load.BOTH: (direct, shear)}[of]
    flow_lbf_in = math.hypot(*(one.value for one in flows))
    width = _width(site, axis, case, cut_in, leg)
    factors, raised = ((special,), " FF") if special else ((), "")
    times = special.value if special else 1.0
    hand_lbf = flow_lbf_in * width.value * times
    direct_lbf, shear_lbf = picked_up.get((case, axis), (0.0, 0.0))
    found_lbf = {
        Load.DIRECT: direct_lbf,
        Load.SHEAR: shear_lbf,
        Load.BOTH: math.hypot(direct_lbf, shear_lbf),
    }[of]
    part = 1.0 if leg is None else leg_share(site, axis, case, cut_in, leg)
    raised_lbf = found_lbf * part * times
    symbol = "P hand" if raised_lbf > hand_lbf else "P"
    by_hand = work_out(hand_lbf, f"{symbol} = {of.value} w load{raised} [lbf]", *flows, width, *factors)
    if raised_lbf <= hand_lbf:
        return by_hand
    found = work_out(found_lbf, "P elements [lbf]", *flows, by=READ_OFF, note=said("working.picked_up"))
    its_part = () if leg is None else (Quantity("part", part, ""),)
    equation = f"P = max(P hand, P elements{' part' if its_part else ''}{raised}) [lbf]"
    return work_out(raised_lbf, equation, by_hand, found, *its_part, *factors, by=READ_OFF)


def leg_share(site: Site, axis: int, case: Case, cut_in: float, leg: int) -> float:
    """Part of the doubler's load that one of its legs takes [-]."""
    own, other = (_width(site, axis, case, cut_in, one).value for one in (leg, 1 - leg))
    return own / (own + other)


def _width(site: Site, axis: int, case: Case, cut_in: float, leg: int | None) -> Worked:
    """Width of skin whose load the doubler takes, or one of its legs [in].

    Half of the cut goes past each side of the opening. A doubler laid on loaded skin stretches as that does and draws
    by its stiffness, as far across the load as it reaches. On the restore basis, where the skin is at its full
    strength, nothing is drawn.
    """
    half = leg is not None
    cut, name = inputs("in", cut=cut_in), "cut / 2" if half else "cut"
    least_in = cut_in / 2 if half else cut_in
    if case.is_restored:
        return work_out(least_in, f"w load = {name} [in]", *cut)
    skin, doubler = site.skin, site.doubler
    assert doubler is not None  # asked for only with a doubler
    taken_lbf_in = doubler.allowed.e_psi * doubler.thickness_in
    ratio = taken_lbf_in / (taken_lbf_in + skin.allowed.e_psi * skin.thickness_in)
    reach_in = _reach(site, axis, leg)
    return work_out(
        max(least_in, reach_in * ratio),
        f"w load = max({name}, W Ed td / (Ed td + Es ts)) [in]",
        *cut,
        *inputs("in", W=reach_in, td=doubler.thickness_in, ts=skin.thickness_in),
        *inputs("psi", Ed=doubler.allowed.e_psi, Es=skin.allowed.e_psi),
    )


def _reach(site: Site, axis: int, leg: int | None) -> float:
    """How far the doubler reaches across the load, from edge to edge or from the middle of the opening [in]."""
    assert site.doubler is not None
    bounds, other = site.doubler.part.edges[0].loop.bounds, 1 - axis
    low_in, high_in = bounds[other], bounds[other + 2]
    if leg is None:
        return high_in - low_in
    middle_in = middle_of_cut(site, axis)
    return high_in - middle_in if leg else middle_in - low_in


def middle_of_cut(site: Site, axis: int) -> float:
    """Middle of the opening across the load [in]."""
    bounds, other = site.layout.opening.bounds, 1 - axis
    return (bounds[other] + bounds[other + 2]) / 2.0
