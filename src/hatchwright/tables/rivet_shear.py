"""What a driven rivet carries in single shear, protruding and flush."""

from __future__ import annotations

from hatchwright.errors import TableError
from hatchwright.tables.catalog import FLUSH_RIVET_STRENGTH, RIVET_SHEAR, RIVET_SHEAR_STRESS
from hatchwright.tables.cited import Cited
from hatchwright.tables.table import Row, ShopTables
from hatchwright.workings import Grade

_SAME_THICKNESS_IN = 0.0006


def rivet_shear(
    letters: str, *, diameter_in: float, condition: str = "", shop: ShopTables | None = None
) -> Cited:
    """Ultimate single shear of a driven rivet on its nominal hole, in sheet thick enough to take it.

    Args:
        letters: alloy letters, such as "AD".
        diameter_in: nominal diameter [in].
        condition: alloy and temper as driven, such as "2017-T31"; when "" the weakest listed.
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: shear strength, its note naming the condition [lbf].
    Raises:
        TableError: the rivet is not listed.
    Source: [MIL-HDBK-5J], table 8.1.2(b), mostly from memory; the grade of each value says so.

    >>> rivet_shear("AD", diameter_in=0.125).value
    388.0
    """
    listed = [row for row in RIVET_SHEAR.rows(shop) if _is_of(row, letters, condition)]
    rows = [row for row in listed if row.is_size("diameter_in", diameter_in)]
    if not rows:
        sizes = ", ".join(dict.fromkeys(f"{row.number('diameter_in'):g}" for row in listed)) or "none"
        raise TableError(
            f"no shear strength is listed for a {letters} rivet of {diameter_in:.4f} in {condition}".rstrip(),
            where="rivet shear",
            remedy=f"Listed diameters: {sizes}; add the shop's own row",
        )
    row = min(_shop_first(rows), key=lambda row: row.number("shear_lbf"))
    return Cited(row.number("shear_lbf"), "lbf", row.source, row.grade, row.text("condition"))


def rivet_shear_stress(letters: str, *, condition: str = "", shop: ShopTables | None = None) -> Cited:
    """Ultimate shear stress of a driven rivet.

    Args:
        letters: alloy letters, such as "AD".
        condition: alloy and temper as driven; when "" the weakest listed.
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: shear stress, its note naming the condition [psi].
    Raises:
        TableError: the alloy is not listed.
    """
    listed = RIVET_SHEAR_STRESS.rows(shop)
    rows = [row for row in listed if _is_of(row, letters, condition)]
    if not rows:
        raise TableError(
            f"no shear stress is listed for {letters} {condition}".rstrip(),
            where="rivet shear stress",
            remedy=f"Listed letters: {', '.join(dict.fromkeys(row.text('letters') for row in listed))}",
        )
    row = min(_shop_first(rows), key=lambda row: row.number("fsu_psi"))
    return Cited(row.number("fsu_psi"), "psi", row.source, row.grade, row.text("condition"))


def flush_rivet_strength(
    preparation: str,
    *,
    diameter_in: float,
    thickness_in: float,
    strength: str = "ultimate",
    shop: ShopTables | None = None,
) -> Cited:
    """What a flush AD rivet carries in 2024-T3 sheet; no base for a strength claim unless the shop's own.

    Args:
        preparation: "countersunk" or "dimpled".
        diameter_in: nominal diameter [in].
        thickness_in: thickness of the sheet, only as tabulated [in].
        strength: "ultimate" or "yield".
        shop: a shop's own rows, when there are any.
    Returns:
        Cited: strength of one rivet [lbf].
    Raises:
        TableError: that cell is not listed; nothing is read between cells.
    """
    listed = [
        row
        for row in FLUSH_RIVET_STRENGTH.rows(shop)
        if (row.text("preparation"), row.text("property")) == (preparation, strength)
        and row.is_size("diameter_in", diameter_in)
    ]
    for row in listed:
        if abs(row.number("thickness_in") - thickness_in) < _SAME_THICKNESS_IN:
            return Cited(row.number("load_lbf"), "lbf", row.source, row.grade)
    there = ", ".join(row.text("thickness_in") for row in listed) or "none"
    raise TableError(
        f"no {strength} strength of a {preparation} rivet of {diameter_in:g} in sheet of {thickness_in:g} in",
        where="flush rivet strength",
        remedy=f"Listed thicknesses for that rivet: {there}; add the shop's own row",
    )


def _shop_first(rows: list[Row]) -> list[Row]:
    return [row for row in rows if row.grade is Grade.SHOP] or rows


def _is_of(row: Row, letters: str, condition: str) -> bool:
    return row.text("letters") == letters and condition in ("", row.text("condition"))
