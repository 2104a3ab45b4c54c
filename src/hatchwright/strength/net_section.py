"""Net sections: the sheet left between the holes of a row, and the doubler across the opening."""

from __future__ import annotations

from typing import Literal

from hatchwright.errors import GeometryError
from hatchwright.said import said
from hatchwright.strength.worked import LOWER_DIRECTION, TABULATED, Worked, work_out
from hatchwright.tables.allowables import Allowables
from hatchwright.workings import Quantity


def row_efficiency(*, pitch_in: float, hole_in: float) -> Worked:
    """How much of a sheet is left along a row of holes.

    Returns:
        Worked: share of the solid sheet [-].
    Raises:
        GeometryError: the holes run into each other.
    Method: docs/theory/net_section.md, eq. 1.

    >>> round(row_efficiency(pitch_in=0.5, hole_in=0.1285).value, 3)
    0.743
    """
    if pitch_in <= hole_in:
        raise GeometryError(
            said("strength.holes_run"),
            where=said("strength.of_net_section"),
            remedy=said("strength.holes_run.do"),
        )
    values = (Quantity("p", pitch_in, "in"), Quantity("Dh", hole_in, "in"))
    return work_out(1.0 - hole_in / pitch_in, "", "efficiency", "(p - Dh) / p", *values)


def row_running_strength(
    allowed: Allowables, *, thickness_in: float, pitch_in: float, hole_in: float, at_yield: bool = False
) -> Worked:
    """Running load that a sheet carries across a row of holes.

    Args:
        allowed: of the sheet; the weaker direction counts.
        at_yield: whether yield is wanted instead of ultimate.
    Returns:
        Worked: tension across the row [lbf/in].
    Method: docs/theory/net_section.md, eq. 2.
    """
    symbol, stress_psi = ("Fty", allowed.fty_psi) if at_yield else ("Ftu", allowed.ftu_psi)
    stress = work_out(
        stress_psi, "psi", symbol, symbol, source=allowed.source, grade=allowed.grade, note=LOWER_DIRECTION
    )
    left = row_efficiency(pitch_in=pitch_in, hole_in=hole_in)
    return work_out(
        stress_psi * thickness_in * left.value,
        "lbf/in",
        "N net",
        f"{symbol} t x efficiency",
        stress,
        Quantity("t", thickness_in, "in"),
        left,
    )


def strap_strength(
    allowed: Allowables,
    *,
    thickness_in: float,
    width_in: float,
    holes_in: tuple[float, ...],
    strength: Literal["Ftu", "Fty", "Fcy"] = "Ftu",
) -> Worked:
    """What the doubler carries across the opening.

    Args:
        allowed: of the doubler; the weaker direction counts.
        width_in: metal on both sides of the opening together, before holes [in].
        holes_in: diameters of all holes that the section cuts [in].
        strength: ultimate tension, tension yield, or compression yield.
    Returns:
        Worked: direct load in the doubler [lbf].
    Method: docs/theory/net_section.md, eq. 3.
    """
    stress_psi = {"Ftu": allowed.ftu_psi, "Fty": allowed.fty_psi, "Fcy": allowed.fcy_psi}[strength]
    stress = work_out(
        stress_psi,
        "psi",
        strength,
        strength,
        source=allowed.source,
        grade=allowed.grade,
        note=LOWER_DIRECTION,
    )
    net = _net_width(width_in, holes_in)
    return work_out(
        net.value * thickness_in * stress_psi,
        "lbf",
        "P strap",
        f"{strength} t w net",
        stress,
        Quantity("t", thickness_in, "in"),
        net,
    )


def strap_shear_strength(
    allowed: Allowables, *, thickness_in: float, width_in: float, holes_in: tuple[float, ...]
) -> Worked:
    """What the doubler carries in shear across the opening.

    Args:
        allowed: of the doubler.
        width_in: metal on both sides of the opening together, before holes [in].
        holes_in: diameters of all holes that the section cuts [in].
    Returns:
        Worked: shear in the doubler [lbf].
    Method: docs/theory/net_section.md, eq. 4.
    """
    stress = work_out(
        allowed.fsu_psi, "psi", "Fsu", "Fsu", source=allowed.source, grade=allowed.grade, note=TABULATED
    )
    net = _net_width(width_in, holes_in)
    return work_out(
        net.value * thickness_in * allowed.fsu_psi,
        "lbf",
        "P strap",
        "Fsu t w net",
        stress,
        Quantity("t", thickness_in, "in"),
        net,
    )


def _net_width(width_in: float, holes_in: tuple[float, ...]) -> Worked:
    return work_out(
        max(width_in - sum(holes_in), 0.0),
        "in",
        "w net",
        "w - holes",
        Quantity("w", width_in, "in"),
        Quantity("holes", sum(holes_in), "in"),
        Quantity("n holes", float(len(holes_in)), ""),
    )
