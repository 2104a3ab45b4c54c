"""A web that has buckled in shear: incomplete diagonal tension."""

from __future__ import annotations

import math

from hatchwright.ground import Ground
from hatchwright.strength.worked import Worked, inputs, work_out
from hatchwright.tables.strength_values import strength_value
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Quantity, Source


def tension_factor(*, stress_psi: float, critical_psi: float) -> Worked:
    """How far a web has gone from shear to diagonal tension.

    Args:
        stress_psi: nominal shear stress [psi].
        critical_psi: shear stress at which it buckles [psi].
    Returns:
        Worked: k, 0 for a web that does not buckle, 1 for pure diagonal tension [-].
    Method: docs/theory/diagonal_tension.md, eq. 1.   Source: [NACA-TN-2661], eq. 27.

    >>> tension_factor(stress_psi=2000.0, critical_psi=2500.0).value
    0.0
    """
    ratio = abs(stress_psi) / critical_psi
    return work_out(
        math.tanh(0.5 * math.log10(ratio)) if ratio > 1.0 else 0.0,
        "k = tanh(0.5 log10(max(tau / tau cr, 1)))",
        *inputs("psi", tau=abs(stress_psi), tau_cr=critical_psi),
        by=Ground(Source("NACA-TN-2661", "eq. 27"), Grade.RESTATED),
    )


def edge_rivet_load(*, shear_lbf_in: float, factor: Worked, shop: ShopTables | None = None) -> Worked:
    """Running load on the rivets along the edges of a buckled web.

    Args:
        shear_lbf_in: shear flow [lbf/in].
    Returns:
        Worked: load for each inch of rivet line [lbf/in].
    Method: docs/theory/diagonal_tension.md, eq. 2.
    """
    part = strength_value("tension_field_flange_rivets", shop)
    return work_out(
        abs(shear_lbf_in) * (1 + part.value * factor.value),
        f"R = q (1 + {part.value:g} k) [lbf/in]",
        Quantity("q", abs(shear_lbf_in), "lbf/in"),
        factor,
        by=Ground(part.source, part.grade if factor.value > 0 else Grade.COMPUTED),
    )
