"""The numbers that rules judge by, each with its source and grade."""

from __future__ import annotations

from functools import lru_cache

from hatchwright.tables.cited import Cited
from hatchwright.tables.columns import OptionalText
from hatchwright.tables.table import Record, ShopTables, Table


class Value(Record, frozen=True):
    """A single number with a name: "D" rivet diameters, "t" sheet thicknesses, "in" ..."""

    key: str
    value: float
    unit: str
    note: OptionalText

    @property
    def as_cited(self) -> Cited:
        """The number in the unit that its row gives."""
        return Cited(self.value, self.unit, self.source, self.grade, self.note)


RULE_LIMITS = Table(Value, "rule_limits", otherwise=True, asks=("key",))


@lru_cache(maxsize=2048)
def limit(key: str, shop: ShopTables | None = None) -> Cited:
    """One limit by its name; the names stand in `rule_limits.csv`.

    Raises:
        TableError: there is no limit of that name.

    >>> str(limit("edge_min_countersunk"))
    '2.5 D [AL0992, rivet spacing and edge distance; published]'
    """
    return RULE_LIMITS.one(shop, key=key).as_cited
