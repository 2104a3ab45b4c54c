"""The handbook's rows of aluminum sheet: strength and stiffness by thickness and statistical basis."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hatchwright.tables.columns import Needed, OptionalText
from hatchwright.tables.table import Record, Table


@dataclass(frozen=True, slots=True)
class Allowables(Record):
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
