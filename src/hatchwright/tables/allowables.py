"""What a sheet is allowed to carry: which row of the handbook holds for it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from hatchwright.errors import TableError
from hatchwright.judged import FLOAT_NOISE
from hatchwright.said import inch, said
from hatchwright.tables.materials import SheetMaterial
from hatchwright.tables.sheet_allowables import SHEET_ALLOWABLES, Allowables
from hatchwright.tables.table import ShopTables
from hatchwright.words.tell import tell

__all__ = ["Allowables", "allowables"]

_STANDS_IN = {"A": ("A", "S"), "B": ("B", "A", "S"), "S": ("S",)}
"""Which statistical basis may stand in for the one asked for."""


def allowables(
    material: SheetMaterial,
    *,
    thickness_in: float,
    statistical_basis: str = "A",
    specification: str = "",
    shop: ShopTables | None = None,
) -> Allowables:
    """What a sheet is allowed to carry.

    Args:
        thickness_in: nominal thickness, taken down to the thousandth to find its row [in].
        statistical_basis: "A", "B" or "S"; where none of that is published another stands in and is named.
        specification: procurement specification; when "" and the table knows several, the weakest.
    Raises:
        TableError: no row covers the thickness, the basis or the specification.
    Source: [MIL-HDBK-5J], chapter 3; basis: 14 CFR 23.613(b).

    >>> from hatchwright.tables.materials import sheet
    >>> clad = sheet("2024", "T3", True)
    >>> allowables(clad, thickness_in=0.032).ftu_psi
    59000.0
    """
    if statistical_basis not in _STANDS_IN:
        raise TableError.saying("error.statistical", where="allowables", basis=statistical_basis)
    rows = SHEET_ALLOWABLES.all(shop, alloy=material.alloy, temper=material.temper, is_clad=material.clad)
    covering = [row for row in rows if _covers(row, thickness_in)]
    asked = said("table.sheet_at", sheet=str(material), thickness=inch(thickness_in, fine=True))
    if not covering:
        spans = sorted({(row.thickness_min_in, row.thickness_max_in) for row in rows})
        raise SHEET_ALLOWABLES.refusal(
            asked, [said("table.span", first=inch(low), last=inch(high)) for low, high in spans]
        )
    for basis in _STANDS_IN[statistical_basis]:
        found = [
            row
            for row in covering
            if row.statistical_basis == basis and specification in ("", row.specification)
        ]
        if found:
            return _completed(min(found, key=lambda row: row.ftu_lt_psi), statistical_basis)
    raise SHEET_ALLOWABLES.refusal(
        said("table.sheet_basis", sheet=asked, basis=statistical_basis, specification=specification)
        if specification
        else said("table.sheet_basis_alone", sheet=asked, basis=statistical_basis),
        sorted(f"{row.statistical_basis} {row.specification}".strip() for row in covering),
    )


def _covers(row: Allowables, thickness_in: float) -> bool:
    low_in, high_in = row.thickness_min_in, row.thickness_max_in
    return low_in - FLOAT_NOISE <= thickness_in < high_in + 0.001 - FLOAT_NOISE


@cache
def _completed(row: Allowables, asked: str) -> Allowables:
    """The row with its shear modulus, and with what a reader must know of it."""
    notes = []
    if row.statistical_basis != asked:
        notes.append(tell(said("table.basis_stands_in", asked=asked, basis=row.statistical_basis)))
    g_psi = row.g_psi
    if g_psi is None:
        g_psi = row.e_psi / (2.0 * (1.0 + row.poisson_ratio))
        notes.append(tell(said("table.shear_modulus")))
    return replace(row, g_psi=g_psi, note="; ".join(notes))
