"""Aluminum sheet: which kinds are known, what they weigh, and in which thicknesses they are stocked."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

from msgspec import Struct

from hatchwright.said import inch, said
from hatchwright.tables.allowables import SHEET_ALLOWABLES
from hatchwright.tables.cited import Cited
from hatchwright.tables.table import Record, ShopTables, Table


class _Density(Record, frozen=True):
    alloy: str
    use: Literal["handbook", "mass estimate"]
    density_lb_per_in3: float


class _Stock(Record, frozen=True):
    thickness_in: float


DENSITIES = Table(_Density, "densities", named_by=2, asks=("alloy", "use"))

SHEET_STOCK = Table(_Stock, "sheet_stock")


class SheetMaterial(Struct, frozen=True):
    """One kind of sheet.

    Args:
        shop: the shop's own rows that it was found with.
    """

    alloy: str
    temper: str
    clad: bool
    shop: ShopTables | None = None

    def __str__(self) -> str:
        return f"{self.alloy}-{self.temper}{' clad' if self.clad else ''}"

    @property
    def density(self) -> Cited:
        """For estimates of mass, else as the handbook prints it; `TableError` when no table has it [lb/in^3]."""
        for row in DENSITIES.all(self.shop, alloy=self.alloy, use="mass estimate"):
            return row.cited("density_lb_per_in3")
        return density(self.alloy, self.shop)


@lru_cache(maxsize=8)
def known_sheet(shop: ShopTables | None = None) -> tuple[tuple[str, str, bool], ...]:
    """Every kind of sheet with allowables: alloy, temper and whether it is clad, sorted."""
    return tuple(sorted({(row.alloy, row.temper, row.is_clad) for row in SHEET_ALLOWABLES.all(shop)}))


def sheet(alloy: str, temper: str, clad: bool, shop: ShopTables | None = None) -> SheetMaterial:
    """The kind of sheet of an alloy, a temper and a cladding.

    Raises:
        TableError: no such sheet is in the tables.

    >>> str(sheet("2024", "t3", True))
    '2024-T3 clad'
    """
    kind = (alloy.strip().upper(), temper.strip().upper(), clad)
    kinds = known_sheet(shop)
    if kind not in kinds:
        raise SHEET_ALLOWABLES.refusal(_name(kind), map(_name, kinds))
    return SheetMaterial(*kind, shop)


def density(alloy: str, shop: ShopTables | None = None) -> Cited:
    """The density of an alloy, or of "steel", as a handbook gives it [lb/in^3].

    Raises:
        TableError: it is not in the tables.

    >>> density("2024").value
    0.1
    """
    return DENSITIES.one(shop, use="handbook", alloy=alloy).cited("density_lb_per_in3")


@lru_cache(maxsize=8)
def sheet_stock(shop: ShopTables | None = None) -> tuple[Cited, ...]:
    """All stock thicknesses, thinnest first [in]."""
    return tuple(
        sorted((row.cited("thickness_in") for row in SHEET_STOCK.some(shop)), key=lambda one: one.value)
    )


def next_gauge(thickness_in: float, shop: ShopTables | None = None) -> Cited:
    """The stock thickness next above a thickness, "one gauge heavier" [in].

    Raises:
        TableError: nothing thicker is stocked.

    >>> next_gauge(0.032).value
    0.04
    """
    return SHEET_STOCK.at_least("thickness_in", thickness_in, shop, above=True).cited("thickness_in")


def nearest_gauge(thickness_in: float, shop: ShopTables | None = None) -> Cited:
    """The stock thickness nearest to a measured thickness [in].

    Raises:
        TableError: the measured thickness lies outside the stock by more than half its first step.

    >>> nearest_gauge(0.0315).value
    0.032
    """
    stock = sheet_stock(shop)
    half_step_in = (stock[1].value - stock[0].value) / 2
    if not stock[0].value - half_step_in <= thickness_in <= stock[-1].value + half_step_in:
        ends = said("table.span", first=inch(stock[0].value), last=inch(stock[-1].value))
        raise SHEET_STOCK.refusal(said("table.near", thickness=inch(thickness_in, fine=True)), [ends])
    return min(stock, key=lambda one: abs(one.value - thickness_in))


def _name(kind: tuple[str, str, bool]) -> str:
    return f"{kind[0]}-{kind[1]}{' clad' if kind[2] else ' bare'}"
