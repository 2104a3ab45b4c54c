"""The skin at the first row of its doubler, as a fatigue screen sees it: bypass, bearing and bending at one hole."""

from __future__ import annotations

from collections.abc import Iterable

from hatchwright.layout.cut_side import CutSide
from hatchwright.said import said
from hatchwright.strength.checks.rivets import worst_sharing
from hatchwright.strength.site import SheetPart, Site
from hatchwright.strength.worked import Worked, inputs, looked_up, work_out
from hatchwright.tables.fatigue_curves import FatigueCurve, fatigue_curves
from hatchwright.tables.strength_values import strength_value
from hatchwright.workings import Quantity


def peak_of_side(site: Site, side: CutSide) -> Worked | None:
    """Greatest stress at a hole of the outer row over the skin's membrane stress, elastic [-]; None without a row.

    The row hands over the share of the hardest of all rows, which is no less than its own; its longest pitch bears the
    most; bending acts in full on what bypasses.
    Method: docs/theory/first_row.md, eq. 1 to 3.
    """
    outer = side.rows[-1] if side.rows else None
    if outer is None:
        return None
    shop, rows = site.shop, len(side.rows)
    diameter_in = min(hole.diameter_in for hole in outer.holes)
    pitch_in = outer.longest_in or side.cut_in
    sharing = worst_sharing(site, side)
    share = work_out(
        min(1.0, sharing.value / rows), "s = min(1, peak / rows)", sharing, *inputs("", rows=float(rows))
    )
    row = looked_up(strength_value("hole_row_kt", shop), "", "Kt row")
    loaded = looked_up(strength_value("loaded_hole_kt", shop), "", "Kt loaded")
    bending = looked_up(strength_value("one_sided_bending_increase", shop), "", "bending")
    bypass = row.value * (1.0 - share.value + bending.value)
    bearing = loaded.value * share.value * pitch_in / diameter_in
    return work_out(
        bypass + bearing,
        "K = Kt row (1 - s + bending) + Kt loaded s p / D",
        share,
        row,
        loaded,
        bending,
        *inputs("in", p=pitch_in, D=diameter_in),
    )


def local_stress(skin: SheetPart, site: Site, *, load_ratio: float) -> Worked | None:
    """Greatest stress at a hole up to which the screen asks nothing, by the most notched curve of the sheet, which is
    nearest to a hole [psi]; None where no curve is listed.

    Args:
        load_ratio: least over greatest stress, at most 0 [-].
    Method: docs/theory/first_row.md, eq. 4 and 5.
    """
    part, shop = skin.part, site.shop
    nearest = max(fatigue_curves(part.alloy, part.temper, shop), key=lambda one: one.kt_ratio, default=None)
    return _of_curve(nearest, site, is_clad=part.clad, load_ratio=load_ratio) if nearest else None


def _of_curve(curve: FatigueCurve, site: Site, *, is_clad: bool, load_ratio: float) -> Worked:
    shop = site.shop
    cycles, errors = (strength_value(f"fatigue_{key}", shop) for key in ("long_life", "scatter_errors"))
    endures = looked_up(curve.endures(cycles=cycles.value, errors=errors.value), "psi", "Seq")
    clad = looked_up(strength_value("fatigue_clad_share", shop), "", "clad")
    share = clad.value if is_clad and curve.kt_ratio == 1.0 else 1.0
    value = curve.kt_ratio * share * endures.value / (1.0 - load_ratio) ** curve.a3_ratio
    return work_out(
        value,
        "f hole = Kt share Seq / (1 - R)^A3 [psi]",
        Quantity("Kt", curve.kt_ratio, ""),
        *((clad,) if share < 1.0 else ()),
        *inputs("", share=share, R=load_ratio, A3=curve.a3_ratio),
        endures,
        note=said("working.fatigue_curve"),
    )


def asked_nothing(site: Site, *, load_ratio: float) -> Worked | None:
    """Membrane stress of the skin at limit load up to which the screen asks nothing more, at the worst side [psi]; None
    where no curve or no row is there to say it.

    Method: docs/theory/first_row.md, eq. 6.
    """
    local = local_stress(site.skin, site, load_ratio=load_ratio)
    peak = _greatest(peak_of_side(site, side) for side in site.sides)
    if local is None or peak is None:
        return None
    return work_out(local.value / peak.value, "f screen = f hole / K [psi]", local, peak)


def _greatest(peaks: Iterable[Worked | None]) -> Worked | None:
    known = [one for one in peaks if one is not None]
    return max(known, key=lambda one: one.value, default=None)
