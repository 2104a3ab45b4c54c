"""Factors of safety: what multiplies limit load, and the highest special factor on top."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.ground import Ground
from hatchwright.job.loads import Loads
from hatchwright.said import said
from hatchwright.strength.worked import Worked, looked_up, work_out
from hatchwright.tables.limits import limit
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Quantity, Source

SPECIAL = Source("14CFR23", "23.619; 23.2265 now")


class Factors(Struct, frozen=True):
    """The factors of one job.

    Args:
        of_safety: ultimate over limit load [-].
        joint: special factor on the doubler's rivets and bearing [-].
        screws: special factor on cover screws and nutplates [-].
    """

    of_safety: Worked
    joint: Worked
    screws: Worked


def factors_of(loads: Loads, shop: ShopTables | None = None) -> Factors:
    """The factors that a job's loads call for.

    A continuous riveted joint in plating needs no fitting factor; cover screws and nutplates do. Special factors are
    not multiplied with each other: the highest one governs.

    Source: [14CFR23], 23.303 and 23.2230(b) for 1.5, 23.625 for fittings, 23.619 for the highest special factor.
    """
    safety, fitting = limit("factor_of_safety", shop), limit("special_factor_fitting", shop)
    return Factors(
        of_safety=looked_up(safety, "", "f", said("working.factor_of_safety")),
        joint=_highest(loads, "doubler joint", Quantity("continuous joint", 1.0, ""), Grade.RESTATED),
        screws=_highest(loads, "cover screws", Quantity("fitting", fitting.value, ""), fitting.grade),
    )


def _highest(loads: Loads, on: str, built_in: Quantity, grade: Grade) -> Worked:
    own = [Quantity(one.name, float(one.value), "") for one in loads.special_factors if one.on in (on, "all")]
    values = (built_in, *own)
    governing = max(values, key=lambda one: one.value)
    note = said(
        "working.special_factor_of_joint" if on == "doubler joint" else "working.special_factor_of_screws"
    )
    basis = Ground(SPECIAL, grade if governing is built_in else Grade.SHOP)
    return work_out(
        governing.value, f"FF = max({', '.join(one.symbol for one in values)})", *values, by=basis, note=note
    )
