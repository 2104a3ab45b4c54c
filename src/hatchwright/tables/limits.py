"""The numbers that rules judge by, each with its source and grade."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from hatchwright.errors import TableError
from hatchwright.tables.catalog import RULE_LIMITS
from hatchwright.tables.cited import Cited
from hatchwright.tables.table import ShopTables


def limit(key: str, shop: ShopTables | None = None) -> Cited:
    """One limit.

    Args:
        key: its name, such as "edge_min_countersunk"; the names stand in `rule_limits.csv`.
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: value, unit ("D" rivet diameters, "t" sheet thicknesses, "in" ...), source, grade and note.
    Raises:
        TableError: there is no limit of that name.

    >>> str(limit("edge_min_countersunk"))
    '2.5 D [FAA-H-8083-31, ch. 4 fig. 4-78; seen only restated]'
    """
    found = limits(shop).get(key)
    if found is None:
        raise TableError(
            f"there is no limit '{key}'", where="rule_limits", remedy="See rule_limits.csv for the names"
        )
    return found


@lru_cache(maxsize=8)
def limits(shop: ShopTables | None = None) -> Mapping[str, Cited]:
    """All limits by name.

    Args:
        shop: a shop's own rows, when there are any.
    Returns:
        Mapping[str, Cited]: in the order of the table, a shop's own first.
    """
    return {
        row.text("key"): Cited(row.number("value"), row.text("unit"), row.source, row.grade, row.text("note"))
        for row in RULE_LIMITS.rows(shop)
    }
