"""Buckling of flat skin between its supports, and of a sheet between two rivets of a row."""

from __future__ import annotations

import math

from hatchwright.ground import Ground
from hatchwright.said import said
from hatchwright.strength.free_strip import free_edge_coefficient
from hatchwright.strength.worked import Worked, inputs, looked_up, strength_of, work_out
from hatchwright.tables.allowables import Allowables
from hatchwright.tables.strength_values import inter_rivet_end, shear_buckling_coefficient, strength_value
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Source

_COLUMN = math.pi**2 / 12.0


def free_edge_buckling(
    allowed: Allowables, *, thickness_in: float, length_in: float, width_in: float, shear_ratio: float = 0.0
) -> Worked:
    """Compression at which a strip with one free long edge buckles along its length, at most its yield [psi].

    Args:
        length_in: side along the load [in].
        width_in: side across the load [in].
        shear_ratio: shear over compression, which grow together [-].
    Method: docs/theory/stability.md, eq. 2 and 5.
    """
    coefficient = free_edge_coefficient(
        length_in=length_in, width_in=width_in, poisson_ratio=allowed.poisson_ratio, shear_ratio=shear_ratio
    )
    return _critical("Fc cr", coefficient, allowed, thickness_in, width_in, allowed.fcy_psi)


def shear_buckling(allowed: Allowables, *, thickness_in: float, sides_in: tuple[float, float]) -> Worked:
    """Shear at which a panel on simple supports buckles, at most its ultimate shear [psi].

    Method: docs/theory/stability.md, eq. 3.   Source: [NACA-TN-3781].
    """
    short_in, long_in = sorted(sides_in)
    found = shear_buckling_coefficient(side_ratio=long_in / short_in)
    equation = "Ks = Ks(a/b)"
    note = said("working.plate_chart")
    coefficient = work_out(found.value, equation, *inputs("in", a=long_in, b=short_in), by=found, note=note)
    return _critical("Fs cr", coefficient, allowed, thickness_in, short_in, allowed.fsu_psi)


def _critical(
    symbol: str,
    coefficient: Worked,
    allowed: Allowables,
    thickness_in: float,
    width_in: float,
    most_psi: float,
) -> Worked:
    nu, slenderness = allowed.poisson_ratio, (thickness_in / width_in) ** 2
    elastic_psi = coefficient.value * math.pi**2 * allowed.ec_psi / (12 * (1 - nu**2)) * slenderness
    return work_out(
        min(elastic_psi, most_psi),
        f"{symbol} = min({coefficient.symbol} pi^2 Ec / (12 (1 - nu^2)) (t/b)^2, limit) [psi]",
        coefficient,
        *inputs("psi", Ec=allowed.ec_psi, limit=most_psi),
        *inputs("", nu=nu),
        *inputs("in", t=thickness_in, b=width_in),
        by=Ground(coefficient.source, coefficient.grade),
    )


def inter_rivet_stress(
    allowed: Allowables,
    *,
    thickness_in: float,
    pitch_in: float,
    is_flush: bool,
    shop: ShopTables | None = None,
) -> Worked:
    """Compression at which a sheet buckles between rivets, a column one pitch long, within its elastic range [psi].

    Method: docs/theory/stability.md, eq. 1.   Source: [INTER-RIVET], column form.
    """
    end = inter_rivet_end(is_flush=is_flush, shop=shop)
    elastic = strength_value("inter_rivet_elastic_limit", shop)
    note = said("working.fixity_flush" if is_flush else "working.fixity_protruding", note=end.note)
    fixity = looked_up(end, "", "c", note)
    column = work_out(
        fixity.value * _COLUMN * allowed.ec_psi * (thickness_in / pitch_in) ** 2,
        "Fir = c pi^2 Ec (t/p)^2 / 12 [psi]",
        fixity,
        *inputs("psi", Ec=allowed.ec_psi),
        *inputs("in", t=thickness_in, p=pitch_in),
        by=Ground(Source("INTER-RIVET", "column form"), end.grade),
    )
    fcy = strength_of(allowed, "Fcy")
    cap_psi = elastic.value * fcy.value
    if column.value <= cap_psi:
        return column
    return work_out(cap_psi, f"F allowed = min(Fir, {elastic.value:g} Fcy) [psi]", column, fcy, by=elastic)
