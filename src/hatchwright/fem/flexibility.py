"""How much a fastener lets two sheets slide on each other: two published formulas, to be used side by side.

Method: docs/theory/fem.md, section 5.  Both formulas scatter by 30 per cent and more against tests.
"""

from __future__ import annotations

from collections.abc import Callable

from hatchwright.errors import SolveError
from hatchwright.said import said

_HUTH_CONSTANTS = {"rivet": (0.4, 2.2), "bolt": (2.0 / 3.0, 3.0)}


def huth_in_per_lbf(
    *,
    thickness_in: tuple[float, float],
    modulus_psi: tuple[float, float],
    diameter_in: float,
    fastener_modulus_psi: float,
    kind: str = "rivet",
    shears: int = 1,
) -> float:
    """Flexibility of a "rivet" or "bolt" in metal sheets [in/lbf].

    Args:
        thickness_in: of the two sheets; in double shear of the middle sheet and of one outer one [in].
        modulus_psi: of the same sheets [psi].
        shears: 1 for single, 2 for double shear.
    Raises:
        SolveError: `kind` is neither.
    Source: [HUTH-1986], as collected in a public review; read against two transcriptions that agree.
    """
    if kind not in _HUTH_CONSTANTS:
        unknown, remedy = said("error.fastener_kind", kind=kind), said("error.fastener_kind.do")
        raise SolveError(unknown, where="fastener.kind", remedy=remedy)
    power, factor = _HUTH_CONSTANTS[kind]
    (t1, t2), (e1, e2), n, ef = thickness_in, modulus_psi, shears, fastener_modulus_psi
    bearing = 1 / (t1 * e1) + 1 / (n * t2 * e2) + 1 / (2 * t1 * ef) + 1 / (2 * n * t2 * ef)
    return float(((t1 + t2) / (2 * diameter_in)) ** power * factor / n * bearing)


def swift_in_per_lbf(
    *,
    thickness_in: tuple[float, float],
    modulus_psi: tuple[float, float],
    diameter_in: float,
    fastener_modulus_psi: float,
    kind: str = "rivet",
) -> float:
    """Flexibility of an aluminium rivet in aluminium sheets, the stiffest of the common formulas [in/lbf].

    Args:
        kind: not used by the formula.
    Source: [SWIFT-1971], read against two public transcriptions that agree.
    """
    (t1, t2), (e1, e2) = thickness_in, modulus_psi
    return 5.0 / (diameter_in * fastener_modulus_psi) + 0.8 * (1 / (t1 * e1) + 1 / (t2 * e2))


FORMULAS: dict[str, Callable[..., float]] = {"huth": huth_in_per_lbf, "swift": swift_in_per_lbf}
"""The formulas by name."""
