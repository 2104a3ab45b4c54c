"""Fasteners in holes with clearance: they slide that far in any direction before they carry.

Method: docs/theory/cover.md, eq. 5.
"""

from __future__ import annotations

import numpy as np

from hatchwright.errors import SolveError
from hatchwright.fem.coupling import flexibilities
from hatchwright.fem.curve import Array
from hatchwright.fem.solution import UnitSolution

_LOOSEST_IN_PER_LBF = 1.0
_STEPS = 400
_SETTLED_RATIO = 1e-5


def settled(unit: UnitSolution, load_lbf_in: Array, slide_in: Array) -> UnitSolution:
    """Unit solutions whose fasteners give as much as clearance makes them give under one load.

    Clearance does not superpose: slide / force is added to the flexibility of each fastener that slides, so that the
    answer holds for this load alone.

    Args:
        load_lbf_in: Nx, Ny and q, shape (3,) [lbf/in].
        slide_in: how far each fastener slides before it bears, nought for one that bears at once, shape (m,) [in].
    Raises:
        SolveError: a slide is below nought, or the forces do not settle.
    """
    if not (slide_in >= 0.0).all():
        raise SolveError.saying("error.clearance", where="clearance")
    working = unit.model.working
    tight = np.zeros(len(unit.model.fasteners))
    tight[working] = flexibilities(unit.model, unit.formula)
    now = unit
    force = now.fastener_in @ load_lbf_in
    for _ in range(_STEPS):
        size = np.maximum(np.hypot(*force.T), 1e-300)
        gives = np.where(slide_in > 0, np.minimum(tight + slide_in / size, _LOOSEST_IN_PER_LBF), tight)
        now = unit.changed(flexibility_in_per_lbf=gives)
        before, force = force, now.fastener_in @ load_lbf_in
        if np.abs(force - before).max(initial=0.0) <= _SETTLED_RATIO * np.abs(force).max(initial=0.0):
            return now
    raise SolveError.saying("error.clearance_forces", where="clearance")
