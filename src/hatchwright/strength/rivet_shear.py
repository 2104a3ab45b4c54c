"""Shear of a driven rivet with protruding heads, less in thin sheet."""

from __future__ import annotations

from hatchwright.ground import Ground
from hatchwright.said import said
from hatchwright.strength.worked import Worked, looked_up, work_out
from hatchwright.tables.rivet_part import RivetPart
from hatchwright.tables.rivet_shear import rivet_shear
from hatchwright.tables.strength_values import strength_value
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Quantity


def thin_sheet_factor(*, diameter_in: float, thickness_in: float, shop: ShopTables | None = None) -> Worked:
    """How much of its shear strength a protruding rivet keeps in thin sheet, single shear.

    Args:
        thickness_in: the thinnest sheet [in].
    Returns:
        Worked: K, at most 1 [-].
    Method: docs/theory/rivet.md, eq. 1.
    """
    start, slope = (strength_value(f"rivet_shear_thin_sheet_{key}", shop) for key in ("from", "slope"))
    ratio = diameter_in / thickness_in
    values = (Quantity("D", diameter_in, "in"), Quantity("t", thickness_in, "in"))
    if ratio <= start.value + 1e-9:
        return work_out(1.0, f"K = K = 1, D/t <= {start.value:g}", *values, by=start)
    return work_out(
        1.0 - slope.value * (ratio - start.value),
        f"K = K = 1 - {slope.value:g} (D/t - {start.value:g})",
        *values,
        by=slope,
    )


def shear_strength(rivet: RivetPart, *, thickness_in: float, shop: ShopTables | None = None) -> Worked:
    """What one protruding rivet carries in single shear.

    Args:
        thickness_in: the thinnest sheet that it joins [in].
    Returns:
        Worked: ultimate shear [lbf].
    Raises:
        TableError: its strength is not listed.
    Method: docs/theory/rivet.md, eq. 2.   Source: [MIL-HDBK-5H], sect. 8.1.2.
    """
    full = rivet_shear(rivet.letters, diameter_in=rivet.diameter_in, shop=shop)
    whole = looked_up(full, "lbf", "Ps", said("working.rivet_shear", rivet=str(rivet), note=full.note))
    kept = thin_sheet_factor(diameter_in=rivet.diameter_in, thickness_in=thickness_in, shop=shop)
    return work_out(kept.value * whole.value, "P shear = K Ps [lbf]", kept, whole, by=Ground(full.source))
