"""A flat cover under air pressure, held along its screw line."""

from __future__ import annotations

import numpy as np

from hatchwright.ground import Ground
from hatchwright.said import said
from hatchwright.strength.worked import Worked, inputs, work_out
from hatchwright.workings import Quantity, Source

_TERMS = 199
_EDGE_REACTION = 0.51
_PLATE = Ground(Source("ELASTICITY", "double sine series of a plate on simple supports"))


def plate_moment(*, sides_in: tuple[float, float], pressure_psi: float, poisson_ratio: float) -> Worked:
    """Greatest bending moment of a rectangular plate on simple supports.

    Args:
        sides_in: between supports [in].
        pressure_psi: uniform pressure [psi].
    Returns:
        Worked: moment for each inch of width, at the middle [in-lbf/in].
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
    """Greatest reaction along the edge of a rectangular plate on simple supports.

    Args:
        sides_in: between supports [in].
        pressure_psi: uniform pressure [psi].
    Returns:
        Worked: at the middle of a long side; the largest of any ratio of sides [lbf/in].
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
    """Bending stress at the face of a plate.

    Args:
        moment: for each inch of width [in-lbf/in].
    Returns:
        Worked: stress [psi].
    """
    return work_out(
        6 * moment.value / thickness_in**2, "f = 6 M / t^2 [psi]", moment, Quantity("t", thickness_in, "in")
    )
