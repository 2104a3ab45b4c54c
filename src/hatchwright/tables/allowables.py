"""What aluminium sheet is allowed to carry, by thickness and statistical basis."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from hatchwright.errors import TableError
from hatchwright.judged import FLOAT_NOISE
from hatchwright.tables.catalog import SHEET_ALLOWABLES
from hatchwright.tables.materials import SheetMaterial, kind_of
from hatchwright.tables.table import Row, ShopTables
from hatchwright.workings import Grade, Source

_STANDS_IN = {"A": ("A", "S"), "B": ("B", "A", "S"), "S": ("S",)}
"""Which statistical basis may stand in for the one asked for."""


@dataclass(frozen=True, slots=True)
class Allowables:
    """What one sheet is allowed to carry, L along the grain and LT across it.

    Args:
        statistical_basis: "A" (99 percent exceed it), "B" (90 percent) or "S" (specification minimum).
        specification: procurement specification, "" when the table names none.
        ftu_l_psi, ftu_lt_psi: ultimate tension [psi].
        fty_l_psi, fty_lt_psi: tension yield [psi].
        fcy_l_psi, fcy_lt_psi: compression yield [psi].
        fsu_psi: ultimate shear [psi].
        fbru_15_psi, fbru_20_psi: ultimate bearing at e/D 1.5 and 2.0, dry pin [psi].
        fbry_15_psi, fbry_20_psi: bearing yield at e/D 1.5 and 2.0, dry pin [psi].
        e_psi, ec_psi: modulus in tension and compression [psi].
        e_secondary_psi, ec_secondary_psi: the same once the cladding yields, None for bare sheet [psi].
        g_psi: shear modulus [psi].
        poisson_ratio: Poisson's ratio [-].
        source: table of the handbook.
        grade: how far it is to be trusted.
        note: what a reader must know beside it.
    """

    statistical_basis: str
    specification: str
    ftu_l_psi: float
    ftu_lt_psi: float
    fty_l_psi: float
    fty_lt_psi: float
    fcy_l_psi: float
    fcy_lt_psi: float
    fsu_psi: float
    fbru_15_psi: float
    fbru_20_psi: float
    fbry_15_psi: float
    fbry_20_psi: float
    e_psi: float
    ec_psi: float
    e_secondary_psi: float | None
    ec_secondary_psi: float | None
    g_psi: float
    poisson_ratio: float
    source: Source
    grade: Grade
    note: str

    @property
    def ftu_psi(self) -> float:
        """Ultimate tension when the grain is not known, the lower of L and LT [psi]."""
        return min(self.ftu_l_psi, self.ftu_lt_psi)

    @property
    def fty_psi(self) -> float:
        """Tension yield when the grain is not known, the lower of L and LT [psi]."""
        return min(self.fty_l_psi, self.fty_lt_psi)

    @property
    def fcy_psi(self) -> float:
        """Compression yield when the grain is not known, the lower of L and LT [psi]."""
        return min(self.fcy_l_psi, self.fcy_lt_psi)


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
        material: the kind of sheet.
        thickness_in: nominal thickness, taken down to the thousandth to find its row [in].
        statistical_basis: "A", "B" or "S"; where none of that is published another stands in and is named.
        specification: procurement specification; when "" and the table knows several, the weakest.
        shop: a shop's own rows, when there are any.
    Returns:
        Allowables: with table and grade.
    Raises:
        TableError: no row covers the thickness, the basis or the specification.
    Source: [MIL-HDBK-5J], chapter 3; basis: 14 CFR 23.613(b).

    >>> from hatchwright.tables.materials import sheet
    >>> clad = sheet("2024", "T3", True)
    >>> allowables(clad, thickness_in=0.032).ftu_psi
    59000.0
    """
    if statistical_basis not in _STANDS_IN:
        raise TableError(
            f"'{statistical_basis}' is not a statistical basis", where="allowables", remedy="Write A, B or S"
        )
    kind = (material.alloy, material.temper, material.clad)
    rows = [row for row in SHEET_ALLOWABLES.rows(shop) if kind_of(row) == kind]
    covering = [row for row in rows if _covers(row, thickness_in)]
    if not covering:
        raise TableError(
            f"no allowables of {material} at {thickness_in:.4f} in",
            where="allowables",
            remedy=f"The tables cover {_ranges(rows)}",
        )
    whole = [row for row in covering if row.cells["fsu_psi"] and row.cells["ftu_l_psi"]]
    for basis in _STANDS_IN[statistical_basis]:
        found = [
            row
            for row in whole
            if row.text("statistical_basis") == basis and specification in ("", row.text("specification"))
        ]
        if found:
            return _allowables(min(found, key=lambda row: row.number("ftu_lt_psi")), statistical_basis)
    there = sorted({f"{row.text('statistical_basis')} {row.text('specification')}".strip() for row in whole})
    raise TableError(
        f"no {statistical_basis} allowables of {material} {specification} at {thickness_in:.4f} in",
        where="allowables",
        remedy=f"The tables hold there: {', '.join(there) or 'only part of the properties'}",
    )


def _covers(row: Row, thickness_in: float) -> bool:
    low_in, high_in = row.number("thickness_min_in"), row.number("thickness_max_in")
    return low_in - FLOAT_NOISE <= thickness_in < high_in + 0.001 - FLOAT_NOISE


def _ranges(rows: list[Row]) -> str:
    spans = sorted({(row.number("thickness_min_in"), row.number("thickness_max_in")) for row in rows})
    return ", ".join(f"{low:.3f} to {high:.3f} in" for low, high in spans)


@cache
def _allowables(row: Row, asked: str) -> Allowables:
    number = row.number
    basis = row.text("statistical_basis")
    poisson_ratio = number("poisson_ratio")
    tabulated_g_psi = row.number_or_none("g_psi")
    notes = []
    if basis != asked:
        notes.append(f"no {asked} basis is published here; {basis} basis stands in")
    if tabulated_g_psi is None:
        notes.append("shear modulus from E/(2(1+mu)), not tabulated for clad sheet")
    return Allowables(
        statistical_basis=basis,
        specification=row.text("specification"),
        ftu_l_psi=number("ftu_l_psi"),
        ftu_lt_psi=number("ftu_lt_psi"),
        fty_l_psi=number("fty_l_psi"),
        fty_lt_psi=number("fty_lt_psi"),
        fcy_l_psi=number("fcy_l_psi"),
        fcy_lt_psi=number("fcy_lt_psi"),
        fsu_psi=number("fsu_psi"),
        fbru_15_psi=number("fbru_15_psi"),
        fbru_20_psi=number("fbru_20_psi"),
        fbry_15_psi=number("fbry_15_psi"),
        fbry_20_psi=number("fbry_20_psi"),
        e_psi=number("e_psi"),
        ec_psi=number("ec_psi"),
        e_secondary_psi=row.number_or_none("e_secondary_psi"),
        ec_secondary_psi=row.number_or_none("ec_secondary_psi"),
        g_psi=tabulated_g_psi or number("e_psi") / (2.0 * (1.0 + poisson_ratio)),
        poisson_ratio=poisson_ratio,
        source=row.source,
        grade=row.grade,
        note="; ".join(notes),
    )
