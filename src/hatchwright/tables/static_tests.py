"""What a mounted part must be shown to carry: factors of its own weight by direction."""

from __future__ import annotations

from typing import Literal

from hatchwright.tables.cited import Cited
from hatchwright.tables.table import Record, ShopTables, Table

DIRECTIONS = ("down", "up", "forward", "side")
"""In the order in which they are told."""


class _Factor(Record, frozen=True):
    category: Literal["normal", "utility", "acrobatic"]
    direction: Literal["down", "up", "forward", "side"]
    factor_ratio: float


class _CabinFactor(Record, frozen=True):
    direction: Literal["up", "forward", "side"]
    factor_ratio: float


STATIC_TEST_FACTORS = Table(_Factor, "static_test_factors", named_by=2)
CABIN_MASS_FACTORS = Table(_CabinFactor, "cabin_mass_factors")


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


def cabin_mass_factors(category: str | None, shop: ShopTables | None = None) -> dict[str, Cited]:
    """The factors of an item of mass in the cabin of an aircraft certified from Amendment 23-36 on, by direction [-].

    Down, for which that section names no factor of its own, stays the factor of the category.

    Args:
        category: as of `static_test_factors`.
    Source: [14CFR23], 23.561(b)(3), effective 14 Sep 1988.

    >>> {direction: factor.value for direction, factor in cabin_mass_factors("normal").items()}
    {'down': 6.6, 'up': 3.0, 'forward': 18.0, 'side': 4.5}
    """
    factors = static_test_factors(category, shop)
    for row in CABIN_MASS_FACTORS.all(shop):
        factors[row.direction] = row.cited("factor_ratio", "cabin")
    return factors
