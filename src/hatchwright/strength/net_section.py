"""The sheets at their rows: metal left between holes and across the opening, and the bending of a one-sided doubler."""

from __future__ import annotations

import math
from typing import Literal

from hatchwright.errors import GeometryError
from hatchwright.ground import Ground
from hatchwright.said import said
from hatchwright.strength.worked import Worked, inputs, strength_of, work_out
from hatchwright.tables.allowables import Allowables
from hatchwright.workings import Grade, Quantity, Source


def row_efficiency(*, pitch_in: float, hole_in: float) -> Worked:
    """Share of a solid sheet that is left along a row of holes [-].

    Raises:
        GeometryError: the holes run into each other.
    Method: docs/theory/net_section.md, eq. 1.

    >>> round(row_efficiency(pitch_in=0.5, hole_in=0.1285).value, 3)
    0.743
    """
    if pitch_in <= hole_in:
        raise GeometryError.saying("strength.holes_run", where=said("strength.of_net_section"))
    values = (Quantity("p", pitch_in, "in"), Quantity("Dh", hole_in, "in"))
    return work_out(1.0 - hole_in / pitch_in, "efficiency = (p - Dh) / p", *values)


def row_running_strength(
    allowed: Allowables,
    *,
    thickness_in: float,
    pitch_in: float,
    hole_in: float,
    strength: Literal["Ftu", "Fty"] = "Ftu",
) -> Worked:
    """Tension that a sheet carries across a row of holes, in its weaker direction [lbf/in].

    Method: docs/theory/net_section.md, eq. 2.
    """
    stress = strength_of(allowed, strength)
    left, thickness = row_efficiency(pitch_in=pitch_in, hole_in=hole_in), inputs("in", t=thickness_in)
    running_lbf_in = stress.value * thickness_in * left.value
    return work_out(
        running_lbf_in, f"N net = {stress.symbol} t x efficiency [lbf/in]", stress, *thickness, left
    )


def strap_strength(
    allowed: Allowables,
    *,
    thickness_in: float,
    width_in: float,
    holes_in: tuple[float, ...],
    strength: Literal["Ftu", "Fty", "Fcy", "Fsu", "Fsy"] = "Ftu",
) -> Worked:
    """Direct load, or shear, that the doubler carries across the opening, in its weaker direction [lbf].

    Args:
        width_in: metal on both sides of the opening together, before holes [in].
        holes_in: diameters of all holes that the section cuts [in].
        strength: Fsy for yield in shear, which no table gives.
    Method: docs/theory/net_section.md, eq. 3 and 4.
    """
    stress = shear_yield(allowed) if strength == "Fsy" else strength_of(allowed, strength)
    net = work_out(
        max(width_in - sum(holes_in), 0.0),
        "w net = w - holes [in]",
        *inputs("in", w=width_in, holes=sum(holes_in)),
        *inputs("", n_holes=float(len(holes_in))),
    )
    load_lbf = net.value * thickness_in * stress.value
    return work_out(
        load_lbf, f"P strap = {strength} t w net [lbf]", stress, *inputs("in", t=thickness_in), net
    )


def shear_yield(allowed: Allowables) -> Worked:
    """Stress at which a sheet yields in shear, by its yield in tension in the weaker direction [psi].

    Method: docs/theory/net_section.md, eq. 11.
    """
    return work_out(
        allowed.fty_psi / math.sqrt(3.0),
        "Fsy = Fty / sqrt(3) [psi]",
        strength_of(allowed, "Fty"),
        by=_DISTORTION,
    )


ALL_OF_IT = work_out(1.0, "R allowed")
"""What a section is used by at most."""

_DISTORTION = Ground(Source("ELASTICITY", "yield by the energy of distortion"))
_TOGETHER = Ground(Source("PRACTICE", "stress ratios of direct load and shear"), Grade.PRACTICE)


def together(direct: Worked, shear: Worked, *, strength: Worked, shear_strength: Worked) -> Worked:
    """By how much direct load and shear use up a section together [-].

    Args:
        direct: load [lbf].
        shear: load [lbf].
        strength: for the direct load alone [lbf].
        shear_strength: for the shear alone [lbf].
    Method: docs/theory/net_section.md, eq. 10.
    """
    ratios = []
    for symbol, load, most in (("Rt", direct, strength), ("Rs", shear, shear_strength)):
        used = load.value / most.value if most.value else math.inf
        ratios.append(work_out(used, f"{symbol} = {load.symbol} / {most.symbol}", load, most))
    return work_out(
        math.hypot(*(one.value for one in ratios)), "R = sqrt(Rt^2 + Rs^2)", *ratios, by=_TOGETHER
    )


def eccentricity(*, skin_in: float, doubler_in: float) -> Worked:
    """Distance between the middle planes of skin and doubler, the eccentricity of the load [in].

    Method: docs/theory/one_sided.md, eq. 1.
    """
    values = (Quantity("t skin", skin_in, "in"), Quantity("t doubler", doubler_in, "in"))
    return work_out((skin_in + doubler_in) / 2, "e = (t skin + t doubler) / 2 [in]", *values)


def rigid_bending_ratio(*, skin_in: float, doubler_in: float) -> Worked:
    """Bending stress at the first row over membrane stress, if the skin could not give way sideways [-].

    A thin skin relieves itself to a fraction of it.
    Method: docs/theory/one_sided.md, eq. 2.
    """
    offset = eccentricity(skin_in=skin_in, doubler_in=doubler_in)
    equation = "fb/f = 6 (e/2) / t skin"
    note = said("working.half_of_the_moment")
    return work_out(
        6 * offset.value / 2 / skin_in, equation, offset, Quantity("t skin", skin_in, "in"), note=note
    )
