"""The load cases of a job: known running loads, or the strength of the metal removed."""

from __future__ import annotations

from typing import Literal

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from hatchwright.ground import Ground
from hatchwright.job.loads import Loads
from hatchwright.said import Said, said
from hatchwright.strength.efficiency import WHOLE_SKIN, Efficiencies
from hatchwright.strength.site import SheetPart
from hatchwright.strength.worked import Worked, work_out
from hatchwright.workings import Grade, Source

_OF_JOB = Ground(Source("JOB-FILE", "loads"), Grade.SHOP)
_RESTORED = Ground(Source("AC43.13-1B", "par. 4-58, the idea of tables 4-9 to 4-11"), Grade.RESTATED)


class Case(Struct, frozen=True):
    """One case of ultimate running loads in the skin, away from the opening.

    Args:
        name: as somebody typed it, or an id.
        nx: along X, tension positive [lbf/in].
        ny: along Y [lbf/in].
        q: shear flow [lbf/in].
        is_restored: whether it stands for the strength of the metal removed, not for a load that really acts.
    """

    name: Said | str
    nx: Worked
    ny: Worked
    q: Worked
    is_restored: bool

    @property
    def loads(self) -> tuple[Worked, Worked, Worked]:
        """Nx, Ny and q."""
        return self.nx, self.ny, self.q

    @property
    def load_lbf_in(self) -> NDArray[np.float64]:
        """Nx, Ny and q, shape (3,) [lbf/in]."""
        return np.array([one.value for one in self.loads])

    @property
    def may_buckle(self) -> bool:
        """Whether it presses or shears the panel; on the restore basis its direct load is turned round."""
        sign = -1.0 if self.is_restored else 1.0
        return min(sign * self.nx.value, sign * self.ny.value) < 0.0 or self.q.value != 0.0

    def along(self, axis: int) -> Worked:
        """The direct load along an axis, 0 for X, 1 for Y."""
        return self.ny if axis else self.nx


def cases_of(loads: Loads, skin: SheetPart, asked: Efficiencies = WHOLE_SKIN) -> tuple[Case, ...]:
    """The cases that a job asks for.

    Args:
        asked: share of the solid skin that "restore" asks for.

    Returns:
        tuple: none on the basis "none"; three on "restore": tension along X, along Y, and shear.
    Method: docs/theory/loads.md, eq. 1 and 2.
    """
    if loads.basis == "none":
        return ()
    if loads.basis == "restore":
        along_x, along_y = (_restored(skin, "Ftu", share) for share in (asked.x, asked.y))
        shear = _restored(skin, "Fsu", asked.shear)
        return (
            Case(said("case.restore_tension_x"), along_x, _nothing("Ny"), _nothing("q"), True),
            Case(said("case.restore_tension_y"), _nothing("Nx"), along_y, _nothing("q"), True),
            Case(said("case.restore_shear"), _nothing("Nx"), _nothing("Ny"), shear, True),
        )
    given = said("working.given_load", source=loads.source)
    return tuple(
        Case(
            one.name,
            _given("Nx", one.nx, given),
            _given("Ny", one.ny, given),
            _given("q", one.q, given),
            False,
        )
        for one in loads.cases
    )


def _restored(skin: SheetPart, strength: Literal["Ftu", "Fsu"], share: Worked) -> Worked:
    allowed = skin.allowed
    stress_psi = allowed.ftu_psi if strength == "Ftu" else allowed.fsu_psi
    basis = said(
        "working.basis_lower_direction" if strength == "Ftu" else "working.basis",
        basis=allowed.statistical_basis,
    )
    stress = work_out(stress_psi, f"{strength} [psi]", by=allowed, note=basis)
    metal = said("working.metal_removed")
    thickness = work_out(
        skin.part.thickness_in, "t [in]", by=Ground(Source("JOB-FILE", "skin"), Grade.SHOP), note=metal
    )
    symbol = "N" if strength == "Ftu" else "q"
    value = share.value * skin.part.thickness_in * stress_psi
    equation = f"{symbol} = efficiency t {strength} [lbf/in]"
    return work_out(value, equation, share, thickness, stress, by=_RESTORED)


def _given(symbol: str, value: float, note: Said) -> Worked:
    return work_out(float(value), f"{symbol} [lbf/in]", by=_OF_JOB, note=note)


def _nothing(symbol: str) -> Worked:
    return _given(symbol, 0.0, said("working.not_in_this_case"))
