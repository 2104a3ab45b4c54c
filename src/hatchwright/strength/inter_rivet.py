"""Buckling of a sheet between two rivets of a row under compression."""

from __future__ import annotations

import math

from hatchwright.said import said
from hatchwright.strength.worked import LOWER_DIRECTION, Worked, work_out
from hatchwright.tables.allowables import Allowables
from hatchwright.tables.strength_values import inter_rivet_end, strength_value
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Quantity, Source

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
    fixity = work_out(
        end.value, "", "c", "c", source=end.source, grade=end.grade,
        note=said("working.fixity_flush" if is_flush else "working.fixity_protruding", note=end.note),
    )  # fmt: skip
    column_psi = fixity.value * _COLUMN * allowed.ec_psi * (thickness_in / pitch_in) ** 2
    column = work_out(
        column_psi,
        "psi",
        "Fir",
        "c pi^2 Ec (t/p)^2 / 12",
        fixity,
        Quantity("Ec", allowed.ec_psi, "psi"),
        Quantity("t", thickness_in, "in"),
        Quantity("p", pitch_in, "in"),
        source=Source("INTER-RIVET", "column form"),
        grade=end.grade,
    )
    cap_psi = elastic.value * allowed.fcy_psi
    if column_psi <= cap_psi:
        return column
    fcy = work_out(
        allowed.fcy_psi, "psi", "Fcy", "Fcy", source=allowed.source, grade=allowed.grade, note=LOWER_DIRECTION
    )
    return work_out(
        cap_psi, "psi", "F allowed", f"min(Fir, {elastic.value:g} Fcy)", column, fcy,
        source=elastic.source, grade=elastic.grade,
    )  # fmt: skip
