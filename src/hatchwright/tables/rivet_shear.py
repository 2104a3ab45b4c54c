"""What a driven rivet carries in single shear, protruding and flush."""

from __future__ import annotations

from typing import Literal

from hatchwright.tables.cited import Cited
from hatchwright.tables.table import Order, Record, ShopTables, Table, shop_first


class _Stress(Record, frozen=True):
    letters: str
    condition: str
    fsu_psi: float


class _Shear(Record, frozen=True):
    letters: str
    condition: str
    diameter_in: float
    shear_lbf: float


class _Flush(Record, frozen=True):
    preparation: Literal["countersunk", "dimpled", "countersunk, reduced head", "dimpled, reduced head"]
    property: Literal["ultimate", "yield"]
    diameter_in: float
    thickness_in: float
    load_lbf: float


RIVET_SHEAR_STRESS = Table(_Stress, "rivet_shear_stress", named_by=2, asks=("letters",))

RIVET_SHEAR = Table(
    _Shear,
    "rivet_shear",
    named_by=3,
    orders=(Order("shear_lbf", along="diameter_in"),),
    asks=("letters", "diameter_in"),
)

FLUSH_RIVET_STRENGTH = Table(
    _Flush,
    "flush_rivet_strength",
    named_by=4,
    orders=(Order("load_lbf", along="thickness_in"),),
    asks=("preparation", "diameter_in", "thickness_in", "property"),
)


def rivet_shear(
    letters: str, *, diameter_in: float, condition: str = "", shop: ShopTables | None = None
) -> Cited:
    """Ultimate single shear of a driven rivet on its nominal hole, in sheet thick enough to take it [lbf].

    Args:
        condition: alloy and temper as driven, such as "2017-T31"; when "" the weakest listed, named by the note.
    Raises:
        TableError: the rivet is not listed.
    Source: [MIL-HDBK-5J], table 8.1.2(b), mostly from memory; the grade of each value says so.

    >>> rivet_shear("AD", diameter_in=0.125).value
    388.0
    """
    rows = RIVET_SHEAR.some(shop, letters=letters, condition=condition or None, diameter_in=diameter_in)
    row = min(shop_first(rows), key=lambda row: row.shear_lbf)
    return row.cited("shear_lbf", row.condition)


def rivet_shear_stress(letters: str, shop: ShopTables | None = None) -> Cited:
    """Ultimate shear stress of a rivet's alloy as driven, the weakest condition listed, named by the note [psi].

    Raises:
        TableError: the alloy is not listed.
    Source: [MIL-HDBK-5J], table 8.1.2(b).

    >>> rivet_shear_stress("D").value
    34000.0
    """
    row = min(shop_first(RIVET_SHEAR_STRESS.some(shop, letters=letters)), key=lambda row: row.fsu_psi)
    return row.cited("fsu_psi", row.condition)


def flush_rivet_strength(
    preparation: str,
    *,
    diameter_in: float,
    thickness_in: float,
    strength: str = "ultimate",
    shop: ShopTables | None = None,
) -> Cited:
    """What a flush AD rivet carries in 2024-T3 sheet; no base for a strength claim unless the shop's own [lbf].

    Args:
        preparation: "countersunk" or "dimpled", each with ", reduced head" where the head is one.
        thickness_in: thickness of the sheet, only as tabulated [in].
        strength: "ultimate" or "yield".
    Raises:
        TableError: that cell is not listed; nothing is read between cells.
    """
    return FLUSH_RIVET_STRENGTH.one(
        shop, preparation=preparation, property=strength, diameter_in=diameter_in, thickness_in=thickness_in
    ).cited("load_lbf")
