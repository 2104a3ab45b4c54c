"""A flat cover under air pressure, held along its screw line, and the load that it draws through its screws."""

from __future__ import annotations

import numpy as np
from msgspec import Struct

from hatchwright.ground import Ground
from hatchwright.said import said
from hatchwright.strength.worked import Worked, inputs, work_out
from hatchwright.workings import Quantity, Source

_TERMS = 199
_EDGE_REACTION = 0.51
_PLATE = Ground(Source("ELASTICITY", "double sine series of a plate on simple supports"))

SCREW_MODULUS_PSI = 29.0e6
"""Steel screws, common practice, no source [psi]."""


def plate_moment(*, sides_in: tuple[float, float], pressure_psi: float, poisson_ratio: float) -> Worked:
    """Greatest bending moment of a rectangular plate on simple supports under even pressure, at its middle [in-lbf/in].

    Method: docs/theory/cover.md, eq. 1: Navier's series.

    >>> round(plate_moment(sides_in=(1.0, 1.0), pressure_psi=1.0, poisson_ratio=0.3).value, 4)
    0.0479
    """
    a, b = sorted(sides_in, reverse=True)
    odd = np.arange(1, _TERMS + 1, 2, dtype=float)
    m, n = np.meshgrid(odd, odd)
    sign = np.sin(m * np.pi / 2) * np.sin(n * np.pi / 2)
    curve_a, curve_b = (m / a) ** 2, (n / b) ** 2
    common = 16 * pressure_psi / np.pi**4 * sign / (m * n * (curve_a + curve_b) ** 2)
    across = float(np.sum(common * (curve_b + poisson_ratio * curve_a)))
    along = float(np.sum(common * (curve_a + poisson_ratio * curve_b)))
    return work_out(
        max(across, along),
        "M = M(p, a, b, nu) [in-lbf/in]",
        Quantity("p", pressure_psi, "psi"),
        *inputs("in", a=a, b=b),
        Quantity("nu", poisson_ratio, ""),
        by=_PLATE,
        note=said("working.plate_moment"),
    )


def plate_edge_reaction(*, sides_in: tuple[float, float], pressure_psi: float) -> Worked:
    """Greatest reaction along the edge of a rectangular plate on simple supports under even pressure [lbf/in].

    It acts at the middle of a long side; the largest of any ratio of sides is taken.
    Method: docs/theory/cover.md, eq. 2.
    """
    short_in = min(sides_in)
    return work_out(
        _EDGE_REACTION * pressure_psi * short_in,
        f"V = {_EDGE_REACTION:g} p b [lbf/in]",
        Quantity("p", pressure_psi, "psi"),
        Quantity("b", short_in, "in"),
        by=_PLATE,
        note=said("working.plate_reaction"),
    )


def plate_stress(moment: Worked, *, thickness_in: float) -> Worked:
    """Bending stress at the face of a plate, of the moment in each inch of its width [psi]."""
    return work_out(
        6 * moment.value / thickness_in**2, "f = 6 M / t^2 [psi]", moment, Quantity("t", thickness_in, "in")
    )


class CoverPath(Struct, frozen=True):
    """The cover beside the doubler as two springs across the opening, along one axis.

    Args:
        length_in: of the opening along the load [in].
        doubler_lbf: E A of the doubler beside the opening [lbf].
        cover_lbf: E A of the cover [lbf].
        screws: screws on each side, along the load.
        flexibility: of one screw [in/lbf].
    """

    length_in: float
    doubler_lbf: float
    cover_lbf: float
    screws: int
    flexibility: Worked


def drawn_load(path: CoverPath, *, load_lbf: float, clearance_in: float = 0.0) -> Worked:
    """Load that the cover takes of what goes round the opening, none while that stretches less than both gaps [lbf].

    Args:
        clearance_in: how far the screws of one side slide before they bear [in].
    Method: docs/theory/cover.md, eq. 3 and 4.
    """
    doubler = path.doubler_lbf / path.length_in
    cover = 1 / (path.length_in / path.cover_lbf + 2 * path.flexibility.value / path.screws)
    taken = max(0.0, cover * (abs(load_lbf) - doubler * 2 * clearance_in) / (cover + doubler))
    return work_out(
        taken,
        "P cover = kc (P - kd 2 g) / (kc + kd); kd = EA doubler / L; 1/kc = L / EA cover + 2 C / n [lbf]",
        *inputs("lbf", P=abs(load_lbf), EA_doubler=path.doubler_lbf, EA_cover=path.cover_lbf),
        *inputs("in", L=path.length_in, g=clearance_in),
        path.flexibility,
        *inputs("", n=float(path.screws)),
    )
