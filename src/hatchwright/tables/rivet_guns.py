"""Rivet guns: the air pressure to begin with for a size of rivet."""

from __future__ import annotations

from hatchwright.tables.cited import Cited
from hatchwright.tables.table import Order, Record, ShopTables, Table


class _Pressure(Record, frozen=True):
    diameter_in: float
    pressure_psi: float


RIVET_GUNS = Table(
    _Pressure, "rivet_guns", orders=(Order("pressure_psi", along="diameter_in"),), asks=("diameter_in",)
)


def gun_pressure(diameter_in: float, shop: ShopTables | None = None) -> Cited:
    """Air pressure of the gun for a solid rivet, approximate: set it on scrap [psi].

    Args:
        diameter_in: nominal diameter of the rivet [in].
    Raises:
        TableError: none is listed for the size.
    Source: [NAVEDTRA-14315], table 4-1; the line for 3/16 is from memory.

    >>> gun_pressure(0.125).value
    40.0
    """
    return RIVET_GUNS.one(shop, diameter_in=diameter_in).cited("pressure_psi")
