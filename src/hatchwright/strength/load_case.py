"""The load cases of a job: known running loads, or the strength of the metal removed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hatchwright.job.loads import Loads
from hatchwright.strength.site import SheetPart
from hatchwright.strength.worked import Worked, work_out
from hatchwright.tables.allowables import Allowables
from hatchwright.workings import Grade, Source


@dataclass(frozen=True, slots=True)
class Case:
    """One case of ultimate running loads in the skin, away from the opening.

    Args:
        name: of the case.
        nx: along X, tension positive [lbf/in].
        ny: along Y [lbf/in].
        q: shear flow [lbf/in].
        is_restored: whether it stands for the strength of the metal removed, not for a load that really acts.
    """

    name: str
    nx: Worked
    ny: Worked
    q: Worked
    is_restored: bool

    @property
    def load_lbf_in(self) -> NDArray[np.float64]:
        """Nx, Ny and q, shape (3,) [lbf/in]."""
        return np.array([self.nx.value, self.ny.value, self.q.value])

    @property
    def may_buckle(self) -> bool:
        """Whether it presses or shears the panel; on the restore basis its direct load is turned round."""
        sign = -1.0 if self.is_restored else 1.0
        return min(sign * self.nx.value, sign * self.ny.value) < 0.0 or self.q.value != 0.0

    def along(self, axis: int) -> Worked:
        """The direct load along an axis, 0 for X, 1 for Y."""
        return self.ny if axis else self.nx


def cases_of(loads: Loads, skin: SheetPart) -> tuple[Case, ...]:
    """The cases that a job asks for.

    Returns:
        tuple: none on the basis "none"; three on "restore": tension along X, along Y, and shear.
    Method: docs/theory/loads.md, eq. 1 and 2.
    """
    if loads.basis == "none":
        return ()
    if loads.basis == "restore":
        pull, shear = _restored(skin, "Ftu"), _restored(skin, "Fsu")
        return (
            Case("restore tension along X", pull, _nothing("Ny"), _nothing("q"), True),
            Case("restore tension along Y", _nothing("Nx"), pull, _nothing("q"), True),
            Case("restore shear", _nothing("Nx"), _nothing("Ny"), shear, True),
        )
    given = f"ultimate, given: {loads.source}"
    return tuple(
        Case(
            case.name,
            _given("Nx", case.nx, given),
            _given("Ny", case.ny, given),
            _given("q", case.q, given),
            False,
        )
        for case in loads.cases
    )


def _restored(skin: SheetPart, strength: str) -> Worked:
    allowed: Allowables = skin.allowed
    stress_psi = allowed.ftu_psi if strength == "Ftu" else allowed.fsu_psi
    stress = work_out(
        stress_psi,
        "psi",
        strength,
        f"{allowed.statistical_basis} basis, lower of L and LT"
        if strength == "Ftu"
        else f"{allowed.statistical_basis} basis",
        source=allowed.source,
        grade=allowed.grade,
    )
    thickness = work_out(
        skin.thickness_in,
        "in",
        "t",
        "of the metal removed",
        source=Source("JOB-FILE", "skin"),
        grade=Grade.SHOP,
    )
    symbol = "N" if strength == "Ftu" else "q"
    return work_out(
        skin.thickness_in * stress_psi, "lbf/in", symbol, f"t {strength}", thickness, stress,
        source=Source("AC43.13-1B", "par. 4-58, the idea of tables 4-9 to 4-11"), grade=Grade.RESTATED,
    )  # fmt: skip


def _given(symbol: str, value: float, text: str) -> Worked:
    return work_out(
        float(value), "lbf/in", symbol, text, source=Source("JOB-FILE", "loads"), grade=Grade.SHOP
    )


def _nothing(symbol: str) -> Worked:
    return work_out(
        0.0, "lbf/in", symbol, "not in this case", source=Source("JOB-FILE", "loads"), grade=Grade.SHOP
    )
