"""Bearing of a rivet or screw on one sheet by its true edge distance, and tear-out to that edge."""

from __future__ import annotations

from functools import lru_cache

from hatchwright.ground import Ground
from hatchwright.judged import FLOAT_NOISE
from hatchwright.said import Amount, inch, said
from hatchwright.strength.family import Refusal
from hatchwright.strength.worked import Worked, inputs, looked_up, strength_of, work_out
from hatchwright.tables.allowables import Allowables
from hatchwright.tables.limits import limit
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Quantity, Source

_HANDBOOK = Ground(Source("MIL-HDBK-5J", "1.4.7.1"), Grade.PUBLISHED)
_LEAST_EDGE, _FULL_EDGE = 1.5, 2.0


def bearing_stress(allowed: Allowables, *, edge_ratio: float, at_yield: bool = False) -> Worked:
    """Bearing stress that a sheet allows at an edge distance.

    Args:
        edge_ratio: edge distance over fastener diameter [-].
        at_yield: whether bearing yield is wanted instead of ultimate.
    Returns:
        Worked: straight between e/D 1.5 and 2.0, and no more beyond 2.0 [psi].
    Raises:
        Refusal: e/D below 1.5, where only tests speak.
    Method: docs/theory/bearing.md, eq. 1.   Source: [MIL-HDBK-5J], 1.4.7.1.
    """
    symbol = "Fbry" if at_yield else "Fbru"
    if edge_ratio < _LEAST_EDGE - FLOAT_NOISE:
        raise Refusal(
            said("bearing.edge_too_short", ratio=Amount(edge_ratio, "D", beside=_LEAST_EDGE)), where="bearing"
        )
    low, high = _ends(allowed, at_yield)
    share = (min(edge_ratio, _FULL_EDGE) - _LEAST_EDGE) / (_FULL_EDGE - _LEAST_EDGE)
    return work_out(
        low.value + share * (high.value - low.value),
        f"{symbol} = {low.symbol} + (min(e/D, 2) - 1.5) / 0.5 ({high.symbol} - {low.symbol}) [psi]",
        Quantity("e/D", edge_ratio, ""),
        low,
        high,
        by=_HANDBOOK,
    )


@lru_cache(maxsize=64)
def _ends(allowed: Allowables, at_yield: bool) -> tuple[Worked, Worked]:
    """At 1.5 D and at 2 D: the same for every hole of a sheet."""
    symbol = "Fbry" if at_yield else "Fbru"
    at_15_psi = allowed.fbry_15_psi if at_yield else allowed.fbru_15_psi
    at_20_psi = allowed.fbry_20_psi if at_yield else allowed.fbru_20_psi
    note = said("working.dry_pin")
    return (
        work_out(at_15_psi, f"{symbol} at 1.5 D = {symbol} [psi]", by=allowed, note=note),
        work_out(at_20_psi, f"{symbol} at 2 D = {symbol} [psi]", by=allowed, note=note),
    )


def bearing_strength(
    allowed: Allowables,
    *,
    sheet: str,
    thickness_in: float,
    hole_in: float,
    diameter_in: float,
    edge_in: float,
    at_yield: bool = False,
    shop: ShopTables | None = None,
) -> Worked:
    """What one sheet carries in bearing at one fastener.

    Args:
        hole_in: hole that the strength tables are based on; a larger hole earns nothing more [in].
        diameter_in: nominal diameter of the fastener [in].
        edge_in: distance from the hole's center to the nearest edge [in].
        at_yield: whether bearing yield is wanted instead of ultimate.
    Returns:
        Worked: strength, a tenth taken off because tabulated values are of dry pins [lbf].
    Raises:
        Refusal: outside what is published: e/D below 1.5 or t/D below 0.18.
    Method: docs/theory/bearing.md, eq. 2.   Source: [MIL-HDBK-5J], 1.4.7; [MIL-HDBK-5H], 8.1.2.
    """
    least = limit("t_over_d_min_for_bearing_allowables", shop)
    most = limit("t_over_d_max_bearing_general", shop)
    wet = limit("bearing_wet_pin_factor", shop)
    ratio = thickness_in / diameter_in
    if ratio < least.value - FLOAT_NOISE:
        raise Refusal(
            said(
                "bearing.too_thin",
                part=said(f"part.{sheet}"),
                thickness=inch(thickness_in),
                least=inch(least.value * diameter_in, fine=True, beside_in=thickness_in),
                ratio=Amount(least.value, "D"),
            ),
            where="bearing",
        )
    stress = bearing_stress(allowed, edge_ratio=edge_in / diameter_in, at_yield=at_yield)
    counted_in = min(thickness_in, most.value * diameter_in)
    sizes = inputs("in", **{f"t {sheet}": thickness_in, "D": diameter_in})
    thickness = work_out(counted_in, f"t = min(t {sheet}, {most.value:g} D) [in]", *sizes, by=most)
    factor = looked_up(wet, "", "wet pin", said("working.on_dry_pin"))
    name = f"P bearing {'yield ' if at_yield else ''}{sheet}"
    strength_lbf = factor.value * stress.value * counted_in * hole_in
    equation = f"{name} = wet pin x {stress.symbol} t Dh [lbf]"
    return work_out(
        strength_lbf, equation, factor, stress, thickness, *inputs("in", Dh=hole_in), by=_HANDBOOK
    )


def tear_out_strength(
    allowed: Allowables, *, sheet: str, thickness_in: float, hole_in: float, edge_in: float
) -> Worked:
    """What a sheet carries before the metal between hole and edge shears out along the load [lbf].

    It takes two shear planes from the rim of the hole, the lowest of the forms in use.
    Method: docs/theory/bearing.md, eq. 3.
    """
    fsu = strength_of(allowed, "Fsu")
    return work_out(
        2.0 * allowed.fsu_psi * thickness_in * max(edge_in - hole_in / 2.0, 0.0),
        f"P tear-out {sheet} = 2 Fsu t (e - Dh/2) [lbf]",
        fsu,
        *inputs("in", t=thickness_in, e=edge_in, Dh=hole_in),
    )
