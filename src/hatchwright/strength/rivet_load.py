"""The load of one rivet at ultimate load by the finite elements, as a step of a working."""

from __future__ import annotations

from hatchwright.said import said
from hatchwright.strength.factors import Factors
from hatchwright.strength.fastener_load import FastenerLoad
from hatchwright.strength.opening_analysis import CaseAnalysis
from hatchwright.strength.worked import READ_OFF, Worked, inputs, work_out


def rivet_load(found: CaseAnalysis, rivet: FastenerLoad, factors: Factors) -> Worked:
    """Elastic load of a rivet, the greater of both formulas, with the error of the grid and the special factor [lbf].

    Args:
        rivet: of the case.
    """
    grid = found.grid_error.fastener_ratio
    return work_out(
        rivet.greater_lbf * (1.0 + grid) * factors.joint.value,
        "P rivet = max(P Huth, P Swift) (1 + grid) FF [lbf]",
        *found.case.loads,
        *rivet.put_in,
        *inputs("", grid=grid),
        factors.joint,
        by=READ_OFF,
        note=said("working.two_grids"),
    )
