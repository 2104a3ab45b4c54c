"""What a sheet is allowed to carry: the handbook's rows by thickness and statistical basis, and which one holds."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from msgspec.structs import replace

from hatchwright.errors import TableError
from hatchwright.judged import FLOAT_NOISE
from hatchwright.said import inch, said
from hatchwright.tables.columns import Needed, OptionalText
from hatchwright.tables.table import Record, ShopTables, Table
from hatchwright.words.tell import tell

if TYPE_CHECKING:  # which kinds of sheet there are is read off these rows
    from hatchwright.tables.materials import SheetMaterial


class Allowables(Record, frozen=True):
    """What one sheet is allowed to carry, L along the grain and LT across it.

    Args:
        specification: procurement specification, "" when the table names none.
        statistical_basis: "A" (99 percent exceed it), "B" (90 percent) or "S" (specification minimum).
        thickness_min_in, thickness_max_in: the thicknesses that it holds for [in].
        ftu_l_psi, ftu_lt_psi: ultimate tension [psi].
        fty_l_psi, fty_lt_psi: tension yield [psi].
        fcy_l_psi, fcy_lt_psi: compression yield [psi].
        fsu_psi: ultimate shear [psi].
        fbru_15_psi, fbru_20_psi: ultimate bearing at e/D 1.5 and 2.0, dry pin [psi].
        fbry_15_psi, fbry_20_psi: bearing yield at e/D 1.5 and 2.0, dry pin [psi].
        e_psi, ec_psi: modulus in tension and compression [psi].
        e_secondary_psi, ec_secondary_psi: the same once the cladding yields, None for bare sheet [psi].
        g_psi: shear modulus, None when neither tabulated nor worked out [psi].
        poisson_ratio: Poisson's ratio [-].
    """

    alloy: str
    temper: str
    is_clad: bool
    specification: OptionalText
    statistical_basis: Literal["A", "B", "S"]
    thickness_min_in: float
    thickness_max_in: float
    ftu_l_psi: Needed
    ftu_lt_psi: float
    fty_l_psi: Needed
    fty_lt_psi: float
    fcy_l_psi: Needed
    fcy_lt_psi: Needed
    fsu_psi: Needed
    fbru_15_psi: Needed
    fbru_20_psi: Needed
    fbry_15_psi: Needed
    fbry_20_psi: Needed
    e_psi: float
    e_secondary_psi: float | None
    ec_psi: float
    ec_secondary_psi: float | None
    g_psi: float | None
    poisson_ratio: float
    note: str = ""

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


SHEET_ALLOWABLES = Table(Allowables, "sheet_allowables", named_by=6, otherwise=True)

_STANDS_IN = {"A": ("A", "S"), "B": ("B", "A", "S"), "S": ("S",)}
"""Which statistical basis may stand in for the one asked for."""


def allowables(
    material: SheetMaterial,
    *,
    thickness_in: float,
    statistical_basis: str = "A",
    shop: ShopTables | None = None,
) -> Allowables:
    """What a sheet is allowed to carry.

    Args:
        thickness_in: nominal thickness, taken down to the thousandth to find its row [in].
        statistical_basis: "A", "B" or "S"; where none of that is published another stands in and is named.
    Returns:
        Allowables: of several procurement specifications the weakest.
    Raises:
        TableError: no row covers the thickness or the basis.
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
        if found := [row for row in covering if row.statistical_basis == basis]:
            return _completed(min(found, key=lambda row: row.ftu_lt_psi), statistical_basis)
    raise SHEET_ALLOWABLES.refusal(
        said("table.sheet_basis", sheet=asked, basis=statistical_basis),
        sorted(f"{row.statistical_basis} {row.specification}".strip() for row in covering),
    )


def _covers(row: Allowables, thickness_in: float) -> bool:
    low_in, high_in = row.thickness_min_in, row.thickness_max_in
    return low_in - FLOAT_NOISE <= thickness_in < high_in + 0.001 - FLOAT_NOISE


@lru_cache(maxsize=256)
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
