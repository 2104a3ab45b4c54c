"""What a mounted part must be shown to carry: factors of its own weight by direction."""

from __future__ import annotations

from hatchwright.errors import TableError
from hatchwright.tables.catalog import STATIC_TEST_FACTORS
from hatchwright.tables.cited import Cited
from hatchwright.tables.table import ShopTables

DIRECTIONS = ("down", "up", "forward", "side")
"""In the order in which they are told."""


def static_test_factors(category: str | None, shop: ShopTables | None = None) -> dict[str, Cited]:
    """The factors of one category of aircraft.

    Args:
        category: "normal", "utility" or "acrobatic"; None takes the hardest of each direction.
        shop: a shop's own rows, when there are any.
    Returns:
        dict: direction to its factor of the part's weight [-].
    Raises:
        TableError: there is no such category.

    >>> static_test_factors("utility")["forward"].value
    9.0
    """
    found: dict[str, Cited] = {}
    for row in STATIC_TEST_FACTORS.rows(shop):
        if category in (None, row.text("category")):
            factor = Cited(row.number("factor_ratio"), "-", row.source, row.grade, row.text("category"))
            known = found.get(row.text("direction"))
            if known is None or factor.value > known.value:
                found[row.text("direction")] = factor
    if len(found) < len(DIRECTIONS):
        raise TableError(
            f"there is no category '{category}'",
            where="static_test_factors",
            remedy="Use normal, utility or acrobatic",
        )
    return {direction: found[direction] for direction in DIRECTIONS}
