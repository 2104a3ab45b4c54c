"""Weight of single fasteners: the shop's own, since no table of them is free."""

from __future__ import annotations

from hatchwright.tables.cited import Cited
from hatchwright.tables.table import Record, ShopTables, Table


class _Weight(Record, frozen=True):
    part: str
    weight_lb: float


HARDWARE_WEIGHTS = Table(_Weight, "hardware_weights")


def hardware_weight(part: str, shop: ShopTables | None = None) -> Cited | None:
    """The weight of one fastener, None when the shop has not weighed it [lb].

    Args:
        part: its name, such as "MS20470AD4-4", "8-32 x 1/2" or "two-lug nutplate 8-32".
    """
    for row in HARDWARE_WEIGHTS.all(shop, part=part):
        return row.cited("weight_lb")
    return None
