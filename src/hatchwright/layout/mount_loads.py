"""Loads of a mounted part: the static test loads of its weight, and the drag of an antenna."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.job.mount import Mount
from hatchwright.tables.limits import limit
from hatchwright.tables.static_tests import DIRECTIONS, cabin_mass_factors, static_test_factors
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Quantity, Working


class MountLoad(Struct, frozen=True):
    """One load that a mounted part must be shown to carry.

    Args:
        direction: "down", "up", "forward", "side" or "aft".
        load_lbf: the greater where it is not known which of two factors holds [lbf].
        least_lbf: the lesser of them, else the same [lbf].
        held_lbf: what it held in a test, None when it was not tested that way [lbf].
    """

    direction: str
    load_lbf: float
    working: Working
    held_lbf: float | None
    least_lbf: float

    @property
    def is_open(self) -> bool:
        """Whether it is not known which of two factors holds."""
        return self.least_lbf < self.load_lbf


def static_loads(mount: Mount, shop: ShopTables | None = None) -> tuple[MountLoad, ...]:
    """The static test loads of a mounted part.

    Returns:
        tuple: down, up, forward and side; empty while the weight is not given.
    Method: factor of the direction times the weight. In the cabin of an aircraft certified from Amendment 23-36 on it
        is that of an item of mass, elsewhere that of an occupant; while it is not known which, both ends are given.
    Source: [14CFR23], 23.561(b)(2) and (b)(3); down [AC43.13-2A], chapter 1, from memory.
    """
    weight = mount.weight
    if weight is None:
        return ()
    loads = []
    elsewhere, in_cabin = static_test_factors(mount.category, shop), cabin_mass_factors(mount.category, shop)
    for direction in DIRECTIONS:
        either = {False: (elsewhere,), True: (in_cabin,), None: (elsewhere, in_cabin)}[mount.is_cabin_item]
        least, factor = (
            most([of[direction] for of in either], key=lambda one: one.value) for most in (min, max)
        )
        load_lbf = factor.value * weight
        working = Working.resting_on(
            factor,
            f"P {direction} = factor x weight ({factor.note} category)",
            Quantity("P", load_lbf, "lbf"),
            Quantity("factor", factor.value, ""),
            Quantity("weight", weight, "lb"),
        )
        held_lbf = getattr(mount.test, direction, None)
        loads.append(MountLoad(direction, load_lbf, working, held_lbf, least.value * weight))
    return tuple(loads)


def drag_load(mount: Mount, shop: ShopTables | None = None) -> MountLoad | None:
    """The drag of an antenna at ultimate load.

    Returns:
        MountLoad | None: aft; None while area or speed is not given.
    Method: 0.000327 A V^2, A in square feet and V in miles an hour, times the factor of safety.
    Source: [AC43.13-2A], chapter 3, from memory; [14CFR23], 23.2230.
    """
    area_ft2, speed_mph = mount.frontal_area, mount.speed
    if area_ft2 is None or speed_mph is None:
        return None
    coefficient, safety = limit("antenna_drag_coefficient", shop), limit("factor_of_safety", shop)
    drag_lbf = coefficient.value * area_ft2 * speed_mph**2
    working = Working.resting_on(
        coefficient,
        f"D = {coefficient.value:g} A V^2, and {safety.value:g} D at ultimate load [{safety.source}]",
        Quantity("D", drag_lbf, "lbf"),
        Quantity("A", area_ft2, "ft^2"),
        Quantity("V", speed_mph, "mph"),
    )
    load_lbf = safety.value * drag_lbf
    return MountLoad("aft", load_lbf, working, mount.test.aft if mount.test else None, load_lbf)
