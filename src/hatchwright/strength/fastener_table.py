"""Every rivet of the joint in a line: where it stands, its edges in each sheet, what it may carry and what it gets."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

from msgspec import Struct

from hatchwright.errors import HatchwrightError
from hatchwright.fem.coupling import flexibilities
from hatchwright.layout.layout import Hole, PartName
from hatchwright.strength.checks.rivets import Joints
from hatchwright.strength.factors import Factors
from hatchwright.strength.opening_analysis import CaseAnalysis, OpeningAnalysis
from hatchwright.strength.rivet_joint import RivetJoint
from hatchwright.strength.rivet_load import rivet_doubt
from hatchwright.strength.site import Site, finished_hole_in


class FastenerLine(Struct, frozen=True):
    """One rivet, or a hole that lost its rivet.

    Args:
        rivet: part number without the length, "" where none is there.
        hole_in: diameter of the finished hole, None when no table gives it [in].
        diameter_in: of the shank, None when no table gives it [in].
        edge_in: in each sheet, from outside, the least distance to an edge less its uncertainty [in].
        flexibility_in_per_lbf: by the formula of Huth, None without finite elements [in/lbf].
        governs: symbol of the least of its strengths at ultimate load, "" when it has none.
        ultimate_lbf: what it may carry at ultimate load [lbf].
        yield_lbf: what it may carry at limit load [lbf].
        loads_lbf: by case, elastic, at ultimate load, the greater of both formulas; None where it has none [lbf].
        margin: the least over the cases that act, at limit load against yield, None when there is none [-].
    """

    number: int
    x_in: float
    y_in: float
    rivet: str
    hole_in: float | None
    diameter_in: float | None
    edge_in: tuple[tuple[PartName, float], ...]
    flexibility_in_per_lbf: float | None
    governs: str
    ultimate_lbf: float | None
    yield_lbf: float | None
    loads_lbf: tuple[float | None, ...]
    margin: float | None


def fastener_table(
    site: Site, joints: Joints, analysis: OpeningAnalysis | None, factors: Factors
) -> tuple[FastenerLine, ...]:
    """The rivets through skin and doubler, in the order of their numbers.

    The margin is that of S801, for each rivet by itself.
    Method: docs/theory/rivet.md; docs/theory/fem.md.
    """
    gives = _flexibilities(analysis) if analysis else {}
    cases = analysis.cases if analysis else ()
    loads = [{rivet.number: rivet.greater_lbf for rivet in found.rivets} for found in cases]
    lines = []
    for hole in site.layout.holes_of("rivet"):
        if not {"skin", "doubler"} <= set(hole.stack):
            continue
        joint = joints.get(hole.number)
        own = tuple(of_case.get(hole.number) for of_case in loads)
        lines.append(
            FastenerLine(
                number=hole.number,
                x_in=hole.x_in,
                y_in=hole.y_in,
                rivet=hole.fastener if hole.is_fitted else "",
                hole_in=_hole_in(site, hole),
                diameter_in=hole.nominal_in,
                edge_in=tuple((name, site.edge_in[name, hole.number]) for name in hole.stack),
                flexibility_in_per_lbf=gives.get(hole.number),
                governs=_governs(joint),
                ultimate_lbf=joint.ultimate.value if joint and joint.ultimate else None,
                yield_lbf=joint.at_yield.value if joint and joint.at_yield else None,
                loads_lbf=own,
                margin=min(_margins(joint, zip(cases, own, strict=True), factors), default=None),
            )
        )
    return tuple(lines)


def _flexibilities(analysis: OpeningAnalysis) -> dict[int, float]:
    model = analysis.idle.fine.model
    names = (model.fasteners[k].name for k in model.working)
    found = zip(names, flexibilities(model, "huth").tolist(), strict=True)
    return {int(name.removeprefix("rivet ")): give for name, give in found if name.startswith("rivet ")}


def _hole_in(site: Site, hole: Hole) -> float | None:
    with suppress(HatchwrightError):
        return finished_hole_in(site, hole)
    return None


def _governs(joint: RivetJoint | None) -> str:
    if joint is None or joint.ultimate is None:
        return ""
    last = joint.ultimate.working[-1]
    return min(last.values, key=lambda one: one.value).symbol if last.values else last.result.symbol


def _margins(
    joint: RivetJoint | None, loads: Iterator[tuple[CaseAnalysis, float | None]], factors: Factors
) -> Iterator[float]:
    if joint is None or joint.at_yield is None:
        return
    for found, load_lbf in loads:
        if load_lbf and not found.case.is_restored:
            doubt = 1.0 + sum(rivet_doubt(found))
            at_limit_lbf = load_lbf * doubt * factors.joint.value / factors.of_safety.value
            yield joint.at_yield.value / at_limit_lbf - 1.0
