"""A web that has buckled in shear: incomplete diagonal tension."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from hatchwright.errors import SolveError
from hatchwright.ground import Ground
from hatchwright.said import said
from hatchwright.strength.worked import Worked, inputs, work_out
from hatchwright.tables.strength_values import strength_value
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Quantity, Source

_ANGLE_TOLERANCE_RAD = 1e-12
_LARGEST_CONCENTRATION = 4.0
_HERE = said("strength.of_diagonal_tension")


def _note(place: str) -> Ground:
    return Ground(Source("NACA-TN-2661", place), Grade.RESTATED)


@dataclass(frozen=True, slots=True)
class Web:
    """A shear web between two flanges and two uprights.

    Args:
        spacing_in: from upright to upright, between rivet lines [in].
        depth_in: between the centers of the flanges [in].
        upright_sq_in: section of one upright; for a single one the effective section AU/(1 + (e/rho)^2) [in^2].
        flange_sq_in: section of one flange [in^2].
    """

    thickness_in: float
    spacing_in: float
    depth_in: float
    upright_sq_in: float
    flange_sq_in: float
    modulus_psi: float
    poisson_ratio: float = 0.32

    def __post_init__(self) -> None:
        sizes = (self.thickness_in, self.spacing_in, self.depth_in, self.upright_sq_in, self.flange_sq_in)
        if min(sizes) <= 0.0:
            raise SolveError.saying("strength.web_size", where=_HERE)


def tension_factor(*, stress_psi: float, critical_psi: float) -> Worked:
    """How far a web has gone from shear to diagonal tension.

    Args:
        stress_psi: nominal shear stress [psi].
        critical_psi: shear stress at which it buckles [psi].
    Returns:
        Worked: k, 0 for a web that does not buckle, 1 for pure diagonal tension [-].
    Method: docs/theory/diagonal_tension.md, eq. 1.   Source: [NACA-TN-2661], eq. 27.

    >>> tension_factor(stress_psi=2000.0, critical_psi=2500.0).value
    0.0
    """
    ratio = abs(stress_psi) / critical_psi
    return work_out(
        math.tanh(0.5 * math.log10(ratio)) if ratio > 1.0 else 0.0,
        "k = tanh(0.5 log10(max(tau / tau cr, 1)))",
        *inputs("psi", tau=abs(stress_psi), tau_cr=critical_psi),
        by=_note("eq. 27"),
    )


def web_buckling_stress(
    *,
    thickness_in: float,
    spacing_in: float,
    depth_in: float,
    modulus_psi: float,
    spacing_restraint_ratio: float = 1.0,
    depth_restraint_ratio: float = 1.0,
) -> Worked:
    """Shear stress at which a web buckles between its uprights.

    Args:
        spacing_in: clear between uprights, not more than the depth [in].
        depth_in: clear between flanges [in].
        spacing_restraint_ratio: Rd along the uprights, 1 simply supported, 1.62 clamped [-].
        depth_restraint_ratio: Rh along the flanges [-].
    Returns:
        Worked: elastic critical stress [psi].
    Raises:
        SolveError: the uprights stand farther apart than the web is deep.
    Method: docs/theory/diagonal_tension.md, eq. 2.   Source: [NACA-TN-2661], eq. 32 and fig. 12.
    """
    if spacing_in > depth_in:
        raise SolveError.saying("strength.uprights_apart", where=_HERE)
    shape = spacing_in / depth_in
    coefficient = 5.03 + 3.26 * shape**2
    rd, rh = spacing_restraint_ratio, depth_restraint_ratio
    restraint = rh + 0.5 * (rd - rh) * shape**3
    return work_out(
        coefficient * modulus_psi * (thickness_in / spacing_in) ** 2 * restraint,
        "tau cr = (5.03 + 3.26 (dc/hc)^2) E (t/dc)^2 (Rh + 0.5 (Rd - Rh)(dc/hc)^3) [psi]",
        *inputs("in", dc=spacing_in, hc=depth_in, t=thickness_in),
        Quantity("E", modulus_psi, "psi"),
        *inputs("", Rd=rd, Rh=rh),
        by=_note("eq. 32, fig. 12"),
    )


@dataclass(frozen=True, slots=True)
class TensionField:
    """A web in incomplete diagonal tension.

    Args:
        angle_deg: angle of the folds to the flanges [deg].
        upright: mean compression of the uprights [psi].
        flange: compression of the flanges from the web's pull [psi].
        web: greatest stress of the web [psi].
    """

    angle_deg: float
    upright: Worked
    flange: Worked
    web: Worked


def tension_field(
    web: Web, *, stress_psi: float, factor: Worked, bending_concentration: float = 0.0
) -> TensionField:
    """Angle and stresses of a buckled web.

    Args:
        stress_psi: nominal shear stress [psi].
        bending_concentration: C2 of `flange_flexibility` [-].
    Returns:
        TensionField: compression negative.
    Raises:
        SolveError: the angle does not settle.
    Method: docs/theory/diagonal_tension.md, eq. 3 to 6.   Source: [NACA-TN-2661], eqs. 22, 30 and 33a.
    """
    k, tau = factor.value, abs(stress_psi)
    upright_ratio = web.upright_sq_in / (web.spacing_in * web.thickness_in) + 0.5 * (1 - k)
    flange_ratio = 2 * web.flange_sq_in / (web.depth_in * web.thickness_in) + 0.5 * (1 - k)

    def strains(angle: float) -> tuple[float, float, float]:
        sine = math.sin(2 * angle)
        fold = tau / web.modulus_psi * (2 * k / sine + (1 - k) * (1 + web.poisson_ratio) * sine)
        upright = -k * tau * math.tan(angle) / upright_ratio / web.modulus_psi
        flange = -k * tau / math.tan(angle) / flange_ratio / web.modulus_psi
        return fold, upright, flange

    def misfit(angle: float) -> float:
        fold, upright, flange = strains(angle)
        return math.tan(angle) ** 2 * (fold - upright) - (fold - flange)

    angle = _root(misfit, 1e-3, math.pi / 2 - 1e-3)
    _, upright, flange = strains(angle)
    concentration = 1 / math.sin(2 * angle) - 1
    values: tuple[Quantity | Worked, ...] = (
        *inputs("psi", tau=tau),
        factor,
        *inputs("deg", alpha=math.degrees(angle)),
        *inputs("in", t=web.thickness_in),
    )
    return TensionField(
        math.degrees(angle),
        upright=work_out(
            upright * web.modulus_psi,
            "sigma U = -k tau tan alpha / (AUe/(d t) + 0.5 (1 - k)) [psi]",
            *values,
            *inputs("in^2", AUe=web.upright_sq_in),
            *inputs("in", d=web.spacing_in),
            by=_note("eq. 30"),
        ),
        flange=work_out(
            flange * web.modulus_psi,
            "sigma F = -k tau cot alpha / (2 AF/(h t) + 0.5 (1 - k)) [psi]",
            *values,
            *inputs("in^2", AF=web.flange_sq_in),
            *inputs("in", h=web.depth_in),
            by=_note("eq. 30"),
        ),
        web=work_out(
            tau * (1 + k**2 * concentration) * (1 + k * bending_concentration),
            "tau max = tau (1 + k^2 (1/sin 2 alpha - 1)) (1 + k C2) [psi]",
            *values,
            *inputs("", C2=bending_concentration),
            by=_note("eq. 33a"),
        ),
    )


def flange_flexibility(web: Web, *, flange_inertias_in4: tuple[float, float]) -> Worked:
    """How much the bending of the flanges between uprights raises the web's stress.

    Args:
        flange_inertias_in4: second moments of both flanges [in^4].
    Returns:
        Worked: C2 [-].
    Raises:
        SolveError: the flanges are softer than the chart reaches.
    Method: docs/theory/diagonal_tension.md, eq. 7.   Source: [NACA-TN-2661], eq. 19a and fig. 18, a fit of its points.
    """
    total = sum(flange_inertias_in4)
    wd = 0.7 * web.spacing_in * (web.thickness_in / (total * web.depth_in)) ** 0.25
    if wd > _LARGEST_CONCENTRATION:
        raise SolveError.saying("strength.flange_flexibility", where=_HERE, value=f"{wd:.2f}")
    u = max(wd - 1.0, 0.0)
    return work_out(
        u**2 * (0.09234 - 0.06227 * u + 0.05784 * u**2 - 0.01187 * u**3),
        "C2 = C2(wd), wd = 0.7 d (t/((IC + IT) he))^0.25",
        Quantity("wd", wd, ""),
        by=_note("eq. 19a, fig. 18"),
    )


def greatest_upright_stress(field: TensionField, web: Web, factor: Worked) -> Worked:
    """Greatest compression of an upright, at its middle.

    Returns:
        Worked: compression, negative [psi].
    Method: docs/theory/diagonal_tension.md, eq. 8.   Source: [NACA-TN-2661], fig. 15, a fit of its points.
    """
    ratio = 1 + (1 - factor.value) * (0.78 - 0.65 * web.spacing_in / web.depth_in)
    return work_out(
        field.upright.value * max(ratio, 1.0),
        "sigma U max = sigma U (1 + (1 - k)(0.78 - 0.65 d/hU)) [psi]",
        field.upright,
        factor,
        *inputs("in", d=web.spacing_in, hU=web.depth_in),
        by=_note("fig. 15"),
    )


def edge_rivet_load(*, shear_lbf_in: float, factor: Worked, shop: ShopTables | None = None) -> Worked:
    """Running load on the rivets along the edges of a buckled web.

    Args:
        shear_lbf_in: shear flow [lbf/in].
    Returns:
        Worked: load for each inch of rivet line [lbf/in].
    Method: docs/theory/diagonal_tension.md, eq. 9.
    """
    part = strength_value("tension_field_flange_rivets", shop)
    return work_out(
        abs(shear_lbf_in) * (1 + part.value * factor.value),
        f"R = q (1 + {part.value:g} k) [lbf/in]",
        Quantity("q", abs(shear_lbf_in), "lbf/in"),
        factor,
        by=Ground(part.source, part.grade if factor.value > 0 else Grade.COMPUTED),
    )


def _root(misfit: Callable[[float], float], low: float, high: float) -> float:
    if misfit(low) * misfit(high) > 0:
        raise SolveError.saying("strength.fold_angle", where=_HERE)
    while high - low > _ANGLE_TOLERANCE_RAD:
        middle = (low + high) / 2
        if misfit(low) * misfit(middle) <= 0:
            high = middle
        else:
            low = middle
    return (low + high) / 2
