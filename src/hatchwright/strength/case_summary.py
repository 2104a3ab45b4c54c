"""What the finite elements found in one case, in words and figures for everybody who reads the report."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hatchwright.fem.buckling import State
from hatchwright.strength.cover_share import CoverShare
from hatchwright.strength.fastener_load import FastenerLoad
from hatchwright.strength.opening_analysis import BucklingFactor, CaseAnalysis
from hatchwright.strength.side_share import SideShare

_SHORT = {
    State.AS_IT_WAS: "as it was",
    State.CUT: "cut",
    State.SHEETS_APART: "reinforced, sheets apart",
    State.SHEETS_TOGETHER: "reinforced, sheets as one",
}


@dataclass(frozen=True, slots=True)
class CaseSummary:
    """One case at ultimate load.

    Args:
        case: its name, and how the screws sit when the cover carries.
        lines: heading and words, in the order to be read.
        screws: loads of the screws of a cover that carries.
    """

    case: str
    lines: tuple[tuple[str, str], ...]
    rivets: tuple[FastenerLoad, ...]
    screws: tuple[FastenerLoad, ...]


def case_summary(found: CaseAnalysis) -> CaseSummary:
    """Put one case in words.

    Returns:
        CaseSummary: loads and stresses at ultimate load, elastic.
    """
    x, y = found.after.place_in
    along_x, along_y = found.pick_up_lbf
    error = found.grid_error
    lines = [
        (
            "greatest stress at the edge",
            f"{found.before.stress_psi:.0f} psi without doubler, {found.after.stress_psi:.0f} psi with it, "
            f"at X {x:.3f}, Y {y:.3f} in",
        ),
        (
            "doubler carries across the middle",
            f"{round(along_x)} lbf along X, {round(along_y)} lbf along Y",
        ),
        ("rivets of each side carry", "; ".join(map(_carries, found.sides)) or "nothing"),
        ("hardest worked rivet", _hardest(found.rivets)),
        *(_of_cover(found.cover) if found.cover else ()),
        ("opening deflects", f"{found.deflection_in:.5f} in, its mean shift and turn left out"),
        (
            "error of the grid, by two grids, below",
            f"{error.edge_ratio:.1%} of the stress at the edge, {error.fastener_ratio:.1%} of the rivet loads, "
            f"{error.deflection_ratio:.1%} of the deflection",
        ),
    ]
    if found.buckling:
        lines.append(("panel buckles at", ", ".join(map(_buckles, found.buckling)) + ", times the load"))
    return CaseSummary(found.name, tuple(lines), found.rivets, found.cover.screws if found.cover else ())


def _hardest(loads: tuple[FastenerLoad, ...]) -> str:
    if not loads:
        return "none"
    most = max(loads, key=lambda load: load.greater_lbf)
    return f"{most.number}: {most.huth_lbf:.1f} lbf by Huth, {most.swift_lbf:.1f} lbf by Swift"


def _of_cover(share: CoverShare) -> tuple[tuple[str, str], ...]:
    x_lbf, y_lbf = share.direct_lbf
    return (
        (
            "cover carries across its middle",
            f"{round(x_lbf)} lbf along X, {round(y_lbf)} lbf along Y, {round(share.shear_lbf)} lbf in shear",
        ),
        ("hardest worked screw", _hardest(share.screws)),
    )


def _carries(one: SideShare) -> str:
    return (
        f"{one.side} {one.half_lbf:.0f} lbf by all {one.half} of the half, "
        f"{one.ahead_lbf:.0f} lbf ({one.ratio:.0%}) of it by the {one.ahead} ahead of the edge"
    )


def _buckles(one: BucklingFactor) -> str:
    return (
        f"{one.factor:.2f} {_SHORT[one.state]}" if math.isfinite(one.factor) else f"never {_SHORT[one.state]}"
    )
