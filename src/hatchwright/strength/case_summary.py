"""What the finite elements found in one case, for everybody who reads the report."""

from __future__ import annotations

import math

from msgspec import Struct

from hatchwright.fem.buckling import Buckling, State
from hatchwright.said import Amount, Listed, Place, Said, inch, said
from hatchwright.strength.cover_share import CoverShare
from hatchwright.strength.fastener_load import FastenerLoad, SideShare
from hatchwright.strength.free_edge import FreeEdge
from hatchwright.strength.opening_analysis import CaseAnalysis


class CaseSummary(Struct, frozen=True):
    """One case at ultimate load.

    Args:
        case: its name, and how the screws sit when the cover carries.
        lines: heading and what is told under it, in the order to be read.
        screws: loads of the screws of a cover that carries.
    """

    case: Said | str
    lines: tuple[tuple[Said, Said], ...]
    rivets: tuple[FastenerLoad, ...]
    screws: tuple[FastenerLoad, ...]


def case_summary(found: CaseAnalysis) -> CaseSummary:
    """Sum up loads and stresses of one case at ultimate load, elastic."""
    along_x, along_y = found.pick_up_lbf
    error, place = found.grid_error, Place(*found.after.place_in)
    bare, ringed = (Amount(peak.stress_psi, "psi") for peak in (found.before, found.after))
    picked_up = said("case.along_both", x=Amount(along_x, "lbf"), y=Amount(along_y, "lbf"))
    errors = {
        "edge": _percent(error.edge_ratio),
        "rivets": _percent(error.fastener_ratio),
        "deflection": _percent(error.deflection_ratio),
    }
    sides = Listed(tuple(map(_carries, found.sides)), ";")
    edges = Listed(tuple(map(_edge, found.edges[1:])), ";")
    lines = [
        (said("case.edge"), said("case.edge_told", bare=bare, with_doubler=ringed, place=place)),
        (said("case.doubler_edges"), said("case.doubler_edges_told", edges=edges)),
        (said("case.doubler"), picked_up),
        (said("case.sides"), said("case.sides_told", sides=sides) if found.sides else said("case.none")),
        (said("case.hardest_rivet"), _hardest(found.rivets)),
        *(_of_cover(found.cover) if found.cover else ()),
        (said("case.deflection"), said("case.deflection_told", by=inch(found.deflection_in, fine=True))),
        (said("case.grid"), said("case.grid_told", **errors)),
    ]
    if found.buckling:
        factors = Listed(tuple(_buckles(state, one) for state, one in found.buckling.items()), ",")
        lines.append((said("case.buckling"), said("case.buckling_told", factors=factors)))
    return CaseSummary(found.name, tuple(lines), found.rivets, found.cover.screws if found.cover else ())


def _edge(one: FreeEdge) -> Said:
    stress, place = Amount(one.peak.stress_psi, "psi"), Place(*one.peak.place_in)
    return said("case.doubler_edge_told", edge=one.named, stress=stress, place=place)


def _carries(one: SideShare) -> Said:
    return said(
        "case.side_told",
        side=one.side,
        half=one.half,
        half_load=Amount(one.half_lbf, "lbf"),
        ahead=one.ahead,
        ahead_load=Amount(one.ahead_lbf, "lbf"),
        share=Amount(100.0 * one.ratio, "%"),
    )


def _of_cover(share: CoverShare) -> tuple[tuple[Said, Said], ...]:
    x, y, shear = (Amount(load, "lbf") for load in (*share.direct_lbf, share.shear_lbf))
    carried = said("case.cover_told", x=x, y=y, shear=shear)
    return (said("case.cover"), carried), (said("case.hardest_screw"), _hardest(share.screws))


def _hardest(loads: tuple[FastenerLoad, ...]) -> Said:
    if not loads:
        return said("case.none")
    most = max(loads, key=lambda load: load.greater_lbf)
    huth, swift = Amount(most.huth_lbf, "lbf"), Amount(most.swift_lbf, "lbf")
    return said("case.hardest_told", number=most.number, huth=huth, swift=swift)


def _percent(ratio: float) -> Amount:
    """An error, never told smaller than it is."""
    return Amount(100.0 * ratio, "%", toward="up")


def _buckles(of: State, one: Buckling) -> Said:
    state = said(f"state.{of.value}")
    if not math.isfinite(one.factor):
        return said("case.never_buckles", state=state)
    return said("case.buckles", factor=Amount(one.factor, "", toward="down"), state=state)
