"""Tear-out of a sheet between a hole and its edge."""

from __future__ import annotations

from hatchwright.strength.worked import TABULATED, Worked, work_out
from hatchwright.tables.allowables import Allowables
from hatchwright.workings import Quantity


def tear_out_strength(
    allowed: Allowables, *, sheet: str, thickness_in: float, hole_in: float, edge_in: float
) -> Worked:
    """What a sheet carries before the metal between hole and edge shears out.

    Args:
        sheet: its name.
        edge_in: distance from the hole's center to the edge, along the load [in].
    Returns:
        Worked: two shear planes from the rim of the hole, the lowest of the forms in use [lbf].
    Method: docs/theory/bearing.md, eq. 3.
    """
    fsu = work_out(
        allowed.fsu_psi, "psi", "Fsu", "Fsu", source=allowed.source, grade=allowed.grade, note=TABULATED
    )
    return work_out(
        2.0 * allowed.fsu_psi * thickness_in * max(edge_in - hole_in / 2.0, 0.0),
        "lbf",
        f"P tear-out {sheet}",
        "2 Fsu t (e - Dh/2)",
        fsu,
        Quantity("t", thickness_in, "in"),
        Quantity("e", edge_in, "in"),
        Quantity("Dh", hole_in, "in"),
    )
