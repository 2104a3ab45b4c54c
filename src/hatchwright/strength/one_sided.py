"""A doubler on one side only bends the sheets where it ends."""

from __future__ import annotations

from hatchwright.said import said
from hatchwright.strength.worked import Worked, work_out
from hatchwright.tables.strength_values import strength_value
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Quantity


def eccentricity(*, skin_in: float, doubler_in: float) -> Worked:
    """Distance between the middle planes of skin and doubler.

    Returns:
        Worked: eccentricity of the load [in].
    Method: docs/theory/one_sided.md, eq. 1.
    """
    values = (Quantity("t skin", skin_in, "in"), Quantity("t doubler", doubler_in, "in"))
    return work_out((skin_in + doubler_in) / 2, "e = (t skin + t doubler) / 2 [in]", *values)


def rigid_bending_ratio(*, skin_in: float, doubler_in: float) -> Worked:
    """Bending stress at the first row over membrane stress, if the skin could not give way sideways.

    Returns:
        Worked: 6 e / t; a thin skin relieves itself to a fraction of it [-].
    Method: docs/theory/one_sided.md, eq. 2.
    """
    offset = eccentricity(skin_in=skin_in, doubler_in=doubler_in)
    return work_out(
        6 * offset.value / 2 / skin_in,
        "fb/f = 6 (e/2) / t skin",
        offset,
        Quantity("t skin", skin_in, "in"),
        note=said("working.half_of_the_moment"),
    )


def first_row_stress(stress: Worked, shop: ShopTables | None = None) -> Worked:
    """Stress at the first row with the bending of a one-sided doubler, for a fatigue screen.

    Args:
        stress: membrane stress [psi].
    Returns:
        Worked: raised stress [psi].
    Method: docs/theory/one_sided.md, eq. 3.
    """
    more = strength_value("one_sided_bending_increase", shop)
    return work_out(
        stress.value * (1 + more.value), f"f first row = f (1 + {more.value:g}) [psi]", stress, by=more
    )
