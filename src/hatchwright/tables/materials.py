"""Aluminium sheet: which kinds are known, what they weigh, and in which thicknesses they are stocked."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.errors import TableError
from hatchwright.tables.catalog import DENSITIES, SHEET_ALLOWABLES, SHEET_STOCK
from hatchwright.tables.cited import Cited
from hatchwright.tables.table import Row, ShopTables

_SAME_IN = 1e-6


@dataclass(frozen=True, slots=True)
class SheetMaterial:
    """One kind of sheet.

    Args:
        alloy: four digits, such as "2024".
        temper: such as "T3".
        clad: whether it is clad with purer aluminium.
        density: for estimates of mass [lb/in^3].
        handbook_density: as the handbook prints it [lb/in^3].
    """

    alloy: str
    temper: str
    clad: bool
    density: Cited
    handbook_density: Cited

    def __str__(self) -> str:
        return f"{self.alloy}-{self.temper}{' clad' if self.clad else ''}"


def known_sheet(shop: ShopTables | None = None) -> tuple[tuple[str, str, bool], ...]:
    """Every kind of sheet with allowables: alloy, temper and whether it is clad, sorted.

    Args:
        shop: a shop's own rows, when there are any.
    Returns:
        tuple[tuple[str, str, bool], ...]: such as ("2024", "T3", True).
    """
    return tuple(sorted({kind_of(row) for row in SHEET_ALLOWABLES.rows(shop)}))


def sheet(alloy: str, temper: str, clad: bool, shop: ShopTables | None = None) -> SheetMaterial:
    """The kind of sheet of an alloy, a temper and a cladding.

    Args:
        alloy: four digits, such as "2024".
        temper: such as "T3".
        clad: whether it is clad.
        shop: a shop's own rows, when there are any.
    Returns:
        SheetMaterial: with its densities.
    Raises:
        TableError: no such sheet is in the tables.

    >>> str(sheet("2024", "t3", True))
    '2024-T3 clad'
    """
    kind = (alloy.strip().upper(), temper.strip().upper(), clad)
    kinds = known_sheet(shop)
    if kind not in kinds:
        raise TableError(
            f"there is no sheet {_name(kind)} in the tables",
            where="materials",
            remedy=f"Known sheet: {', '.join(map(_name, kinds))}; or add the shop's own rows",
        )
    densities = {
        row.text("use"): _density(row) for row in DENSITIES.rows(shop) if row.text("alloy") == kind[0]
    }
    if "handbook" not in densities:
        raise TableError(
            f"there is no density of {kind[0]} in the tables",
            where="densities",
            remedy="Add the shop's own row with use 'handbook'",
        )
    handbook = densities["handbook"]
    return SheetMaterial(*kind, density=densities.get("mass estimate", handbook), handbook_density=handbook)


def density(alloy: str, shop: ShopTables | None = None) -> Cited:
    """The density of an alloy as a handbook gives it.

    Args:
        alloy: four digits, or "steel".
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: density [lb/in^3].
    Raises:
        TableError: it is not in the tables.

    >>> density("2024").value
    0.1
    """
    for row in DENSITIES.rows(shop):
        if (row.text("alloy"), row.text("use")) == (alloy, "handbook"):
            return _density(row)
    raise TableError(
        f"there is no density of {alloy} in the tables",
        where="densities",
        remedy="Add the shop's own row with use 'handbook'",
    )


def sheet_stock(shop: ShopTables | None = None) -> tuple[Cited, ...]:
    """All stock thicknesses, thinnest first [in].

    Args:
        shop: a shop's own rows, when there are any.
    Returns:
        tuple[Cited, ...]: each with its source.
    """
    stock = (Cited(row.number("thickness_in"), "in", row.source, row.grade) for row in SHEET_STOCK.rows(shop))
    return tuple(sorted(stock, key=lambda one: one.value))


def next_gauge(thickness_in: float, shop: ShopTables | None = None) -> Cited:
    """The stock thickness next above a thickness, "one gauge heavier".

    Args:
        thickness_in: thickness [in].
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: the next thickness [in].
    Raises:
        TableError: nothing thicker is stocked.

    >>> next_gauge(0.032).value
    0.04
    """
    for one in sheet_stock(shop):
        if one.value > thickness_in + _SAME_IN:
            return one
    raise _not_stocked(f"nothing thicker than {thickness_in:.3f} in", shop)


def nearest_gauge(thickness_in: float, shop: ShopTables | None = None) -> Cited:
    """The stock thickness nearest to a measured thickness.

    Args:
        thickness_in: measured thickness [in].
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: the nearest thickness [in].
    Raises:
        TableError: the measured thickness lies outside the stock.

    >>> nearest_gauge(0.0315).value
    0.032
    """
    stock = sheet_stock(shop)
    half_step_in = (stock[1].value - stock[0].value) / 2
    if not stock[0].value - half_step_in <= thickness_in <= stock[-1].value + half_step_in:
        raise _not_stocked(f"no sheet near {thickness_in:.3f} in", shop)
    return min(stock, key=lambda one: abs(one.value - thickness_in))


def kind_of(row: Row) -> tuple[str, str, bool]:
    """Alloy, temper and cladding of a row."""
    return row.text("alloy"), row.text("temper"), row.text("clad") == "yes"


def _name(kind: tuple[str, str, bool]) -> str:
    return f"{kind[0]}-{kind[1]}{' clad' if kind[2] else ' bare'}"


def _density(row: Row) -> Cited:
    return Cited(row.number("density_lb_per_in3"), "lb/in^3", row.source, row.grade)


def _not_stocked(what: str, shop: ShopTables | None) -> TableError:
    stock = sheet_stock(shop)
    return TableError(
        f"{what} is in the list of stock",
        where="sheet stock",
        remedy=f"The list runs from {stock[0].value:.3f} to {stock[-1].value:.3f} in; add the shop's own row",
    )
