"""Weight of single fasteners: the shop's own, since no table of them is free."""

from __future__ import annotations

from hatchwright.tables.catalog import HARDWARE_WEIGHTS
from hatchwright.tables.cited import Cited
from hatchwright.tables.table import ShopTables


def hardware_weight(part: str, shop: ShopTables | None = None) -> Cited | None:
    """The weight of one fastener.

    Args:
        part: its name, such as "MS20470AD4-4", "8-32 x 1/2" or "two-lug nutplate 8-32".
        shop: a shop's own rows, when there are any.
    Returns:
        Cited | None: one piece [lb]; None when the shop has not weighed it.
    """
    for row in HARDWARE_WEIGHTS.rows(shop):
        if row.text("part").casefold() == part.casefold():
            return Cited(row.number("weight_lb"), "lb", row.source, row.grade)
    return None
