"""The load of one rivet at ultimate load by the finite elements, as a step of a working."""

from __future__ import annotations

from hatchwright.said import said
from hatchwright.strength.factors import Factors
from hatchwright.strength.fastener_load import FastenerLoad
from hatchwright.strength.opening_analysis import CaseAnalysis
from hatchwright.strength.worked import READ_OFF, Worked, inputs, work_out
from hatchwright.tables.strength_values import strength_value


def rivet_doubt(found: CaseAnalysis) -> tuple[float, float]:
    """By how much a rivet's load may be more than was found: for the grid, and for holes that the model leaves out [-].

    Method: docs/theory/fem.md, section 9.
    """
    return found.grid_error.fastener_ratio, strength_value("open_holes_at_a_rivet").value


def rivet_load(found: CaseAnalysis, rivet: FastenerLoad, factors: Factors) -> Worked:
    """Elastic load of a rivet, the greater of both formulas, with the error of the grid and the special factor [lbf].

    Args:
        rivet: of the case.
    """
    grid, holes = rivet_doubt(found)
    return work_out(
        rivet.greater_lbf * (1.0 + grid + holes) * factors.joint.value,
        "P rivet = max(P Huth, P Swift) (1 + grid + holes) FF [lbf]",
        *found.case.loads,
        *rivet.put_in,
        *inputs("", grid=grid, holes=holes),
        factors.joint,
        by=READ_OFF,
        note=said("working.two_grids"),
    )
