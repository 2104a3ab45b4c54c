"""Tear-out of a sheet between a hole and its edge."""

from __future__ import annotations

from hatchwright.strength.worked import Worked, inputs, strength_of, work_out
from hatchwright.tables.allowables import Allowables


def tear_out_strength(
    allowed: Allowables, *, sheet: str, thickness_in: float, hole_in: float, edge_in: float
) -> Worked:
    """What a sheet carries before the metal between hole and edge shears out.

    Args:
        edge_in: distance from the hole's center to the edge, along the load [in].
    Returns:
        Worked: two shear planes from the rim of the hole, the lowest of the forms in use [lbf].
    Method: docs/theory/bearing.md, eq. 3.
    """
    fsu = strength_of(allowed, "Fsu")
    return work_out(
        2.0 * allowed.fsu_psi * thickness_in * max(edge_in - hole_in / 2.0, 0.0),
        f"P tear-out {sheet} = 2 Fsu t (e - Dh/2) [lbf]",
        fsu,
        *inputs("in", t=thickness_in, e=edge_in, Dh=hole_in),
    )
