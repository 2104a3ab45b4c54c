"""Spares: how many more than a job takes are ordered, by the shop's rule."""

from __future__ import annotations

import math

from msgspec import Struct

from hatchwright.judged import FLOAT_NOISE
from hatchwright.tables.limits import limit
from hatchwright.tables.table import ShopTables


class Ordered(Struct, frozen=True):
    """What a job takes so many of, and how many more are ordered."""

    count: int
    spares: int

    @property
    def order(self) -> int:
        """How many to order, spares with them."""
        return self.count + self.spares


def spares_for(count: int, shop: ShopTables | None = None) -> int:
    """How many more than the count to order: the shop's own share and least, where its tables have them; none of
    nothing.

    >>> spares_for(14), spares_for(64), spares_for(0)
    (5, 7, 0)
    """
    if not count:
        return 0
    share, least = limit("spares_share", shop).value * count, limit("spares_least", shop).value
    return max(math.ceil(least), math.ceil(share - FLOAT_NOISE))
