"""Buckling of a sheet between two rivets of a row under compression."""

from __future__ import annotations

import math

from hatchwright.ground import Ground
from hatchwright.said import said
from hatchwright.strength.worked import Worked, inputs, looked_up, strength_of, work_out
from hatchwright.tables.allowables import Allowables
from hatchwright.tables.strength_values import inter_rivet_end, strength_value
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Source

_COLUMN = math.pi**2 / 12.0


def inter_rivet_stress(
    allowed: Allowables,
    *,
    thickness_in: float,
    pitch_in: float,
    is_flush: bool,
    shop: ShopTables | None = None,
) -> Worked:
    """Compression at which a sheet buckles between rivets, as a column one pitch long.

    Args:
        pitch_in: pitch along the load [in].
    Returns:
        Worked: allowed compression, never above the elastic range [psi].
    Method: docs/theory/stability.md, eq. 1.   Source: [INTER-RIVET], column form.
    """
    end = inter_rivet_end(is_flush=is_flush, shop=shop)
    elastic = strength_value("inter_rivet_elastic_limit", shop)
    note = said("working.fixity_flush" if is_flush else "working.fixity_protruding", note=end.note)
    fixity = looked_up(end, "", "c", note)
    column = work_out(
        fixity.value * _COLUMN * allowed.ec_psi * (thickness_in / pitch_in) ** 2,
        "Fir = c pi^2 Ec (t/p)^2 / 12 [psi]",
        fixity,
        *inputs("psi", Ec=allowed.ec_psi),
        *inputs("in", t=thickness_in, p=pitch_in),
        by=Ground(Source("INTER-RIVET", "column form"), end.grade),
    )
    fcy = strength_of(allowed, "Fcy")
    cap_psi = elastic.value * fcy.value
    if column.value <= cap_psi:
        return column
    return work_out(cap_psi, f"F allowed = min(Fir, {elastic.value:g} Fcy) [psi]", column, fcy, by=elastic)
