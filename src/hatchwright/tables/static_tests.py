"""What a mounted part must be shown to carry: factors of its own weight by direction."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hatchwright.tables.cited import Cited
from hatchwright.tables.table import Record, ShopTables, Table

DIRECTIONS = ("down", "up", "forward", "side")
"""In the order in which they are told."""


@dataclass(frozen=True, slots=True)
class _Factor(Record):
    category: Literal["normal", "utility", "acrobatic"]
    direction: Literal["down", "up", "forward", "side"]
    factor_ratio: float


STATIC_TEST_FACTORS = Table(_Factor, "static_test_factors", named_by=2)


def static_test_factors(category: str | None, shop: ShopTables | None = None) -> dict[str, Cited]:
    """The factors of one category of aircraft, by direction [-].

    Args:
        category: "normal", "utility" or "acrobatic"; None takes the hardest of each direction.
    Raises:
        TableError: there is no such category.

    >>> static_test_factors("utility")["forward"].value
    9.0
    """
    hardest = {}
    for direction in DIRECTIONS:
        rows = STATIC_TEST_FACTORS.some(shop, category=category, direction=direction)
        row = max(rows, key=lambda row: row.factor_ratio)
        hardest[direction] = row.cited("factor_ratio", row.category)
    return hardest
