"""What one rivet of the doubler's joint may carry: the lowest of its shear and of bearing in each sheet."""

from __future__ import annotations

import math
from functools import partial

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import HatchwrightError, TableError
from hatchwright.ground import Ground
from hatchwright.layout.layout import Hole
from hatchwright.layout.oversize import is_oversize
from hatchwright.said import Said, Value, inch, said
from hatchwright.strength.bearing import bearing_strength
from hatchwright.strength.family import Refusal, entries_of, told_of
from hatchwright.strength.site import Site
from hatchwright.strength.worked import Worked, at_both_ends, looked_up, work_out
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.tables.rivet_shear import flush_rivet_strength, rivet_shear, rivet_shear_stress
from hatchwright.tables.rivets import hole_drill
from hatchwright.tables.strength_values import strength_value
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Quantity

_TABLED: dict[str | None, str] = {"dimple": "dimpled", "countersink": "countersunk"}
"""Preparation of a row, as the tables of flush joints name it."""

_REDUCED = {"dimpled": "dimpled, reduced head", "countersunk": "countersunk, reduced head"}
"""The same for reduced heads: a full head's strength is not theirs."""


def thin_sheet_factor(*, diameter_in: float, thickness_in: float, shop: ShopTables | None = None) -> Worked:
    """K, the part of its single shear strength that a protruding rivet keeps with a thinnest sheet, at most 1 [-].

    Method: docs/theory/rivet.md, eq. 1.
    """
    start, slope = (strength_value(f"rivet_shear_thin_sheet_{key}", shop) for key in ("from", "slope"))
    ratio = diameter_in / thickness_in
    values = (Quantity("D", diameter_in, "in"), Quantity("t", thickness_in, "in"))
    if ratio <= start.value + 1e-9:
        return work_out(1.0, f"K = K = 1, D/t <= {start.value:g}", *values, by=start)
    equation = f"K = K = 1 - {slope.value:g} (D/t - {start.value:g})"
    return work_out(1.0 - slope.value * (ratio - start.value), equation, *values, by=slope)


def shear_strength(rivet: RivetPart, *, thickness_in: float, shop: ShopTables | None = None) -> Worked:
    """What one protruding rivet carries in single shear at ultimate load with a thinnest sheet [lbf].

    Where K is remembered it lies between that and 1: at its better end the whole shear strength is left.

    Raises:
        TableError: its strength is not listed.
    Method: docs/theory/rivet.md, eq. 2.   Source: [MIL-HDBK-5H], sect. 8.1.2.
    """
    whole = _whole_shear(rivet, shop)
    kept = thin_sheet_factor(diameter_in=rivet.diameter_in, thickness_in=thickness_in, shop=shop)
    by = Ground(whole.source)
    worked = work_out(kept.value * whole.value, "P shear = K Ps [lbf]", kept, whole, by=by)
    if kept.grade.may_stop:
        return worked
    return replace(worked, best=work_out(whole.value, "P shear = Ps [lbf]", whole, by=by))


def _whole_shear(rivet: RivetPart, shop: ShopTables | None) -> Worked:
    """As tabled; of a metric rivet, which no table holds, the stress of its alloy on its own shank."""
    if rivet.unit == "in":
        full = rivet_shear(rivet.letters, diameter_in=rivet.diameter_in, shop=shop)
        return looked_up(full, "lbf", "Ps", said("working.rivet_shear", rivet=str(rivet), note=full.note))
    stress = rivet_shear_stress(rivet.letters, shop)
    fsu = looked_up(stress, "psi", "Fsu", said("working.rivet_shear", rivet=str(rivet), note=stress.note))
    shank = Quantity("D", rivet.diameter_in, "in")
    area_in2 = math.pi / 4.0 * rivet.diameter_in**2
    return work_out(fsu.value * area_in2, "Ps = pi/4 D^2 Fsu [lbf]", fsu, shank, by=Ground(stress.source))


def _basis_in(rivet: RivetPart, shop: ShopTables | None) -> float:
    """The hole that strength counts on: the tables' own, of a metric rivet no more than its shank [in]."""
    if rivet.unit == "mm":
        return rivet.diameter_in
    return hole_drill(rivet.diameter_in, use="strength basis", shop=shop).diameter_in


class RivetJoint(Struct, frozen=True):
    """One rivet and what it may carry.

    Args:
        ultimate: at ultimate load, None when no value may be used [lbf].
        at_yield: at limit load, None when no value may be used [lbf].
        refusal: why there is no value, and what to do; nothing when there is.
        enter: entries of the job that would mend it.
    """

    hole: Hole
    ultimate: Worked | None
    at_yield: Worked | None
    refusal: tuple[Said | str, ...] = ()
    enter: tuple[str, ...] = ()


def rivet_joints(site: Site) -> dict[int, RivetJoint]:
    """What every rivet through skin and doubler may carry, by the number of its hole."""
    return {
        hole.number: rivet_joint(site, hole)
        for hole in site.layout.holes_of("rivet")
        if len(hole.stack) > 1 and hole.is_fitted
    }


def rivet_joint(site: Site, hole: Hole) -> RivetJoint:
    """What one rivet may carry in the sheets that it joins, or why nothing published covers it.

    Method: docs/theory/rivet.md, eq. 3 and 3a.
    """
    try:
        rivet = parse_rivet(hole.fastener)
        _fills(hole, site.shop)
        if rivet.is_flush:
            return _flush(site, hole, rivet)
        return _protruding(site, hole, rivet)
    except HatchwrightError as error:
        return RivetJoint(hole, None, None, told_of(error), entries_of(error))


def _fills(hole: Hole, shop: ShopTables | None) -> None:
    """Refuse a rivet whose measured hole is larger than it fills: that is no joint."""
    if is_oversize(hole, shop):
        assert hole.hole_in is not None  # only measured holes are
        size = inch(hole.hole_in, fine=True)
        raise Refusal(said("strength.hole_too_large", rivet=hole.fastener, number=hole.number, hole=size))


def _protruding(site: Site, hole: Hole, rivet: RivetPart) -> RivetJoint:
    thinnest_in = min(site.sheets[name].thickness_in for name in hole.stack)
    try:
        basis_in = _basis_in(rivet, site.shop)
        shear = shear_strength(rivet, thickness_in=thinnest_in, shop=site.shop)
    except TableError as error:
        raise Refusal(
            said("strength.refused_rivet", rivet=str(rivet)), where=said("strength.of_rivet_shear")
        ) from error

    def bearing(at_yield: bool) -> list[Worked]:
        return [
            bearing_strength(
                site.sheets[name].allowed,
                sheet=name,
                thickness_in=site.sheets[name].thickness_in,
                hole_in=basis_in,
                diameter_in=rivet.diameter_in,
                edge_in=site.edge_in[name, hole.number],
                at_yield=at_yield,
                shop=site.shop,
            )
            for name in hole.stack
        ]

    # No yield of a driven rivet in shear is tabulated, so that at limit load too it carries its shear strength at most.
    return RivetJoint(hole, lowest("P one", shear, *bearing(False)), lowest("P yield", shear, *bearing(True)))


def _flush(site: Site, hole: Hole, rivet: RivetPart) -> RivetJoint:
    """Only the shop's own confirmed values will do; what is remembered never feeds a statement of strength."""
    row = next(row for row in site.layout.job.rows if row.name == hole.row)
    name, here = str(rivet), said("strength.of_flush_rivet")
    if not row.preparation:
        unknown = said("strength.flush_preparation_unknown", rivet=name)
        raise Refusal(unknown, where=here, enter=("rows.preparation",))
    if row.preparation not in _TABLED:
        raise Refusal(said("strength.flush_no_table", rivet=name), where=here)
    tabled, unlisted = _TABLED[row.preparation], "strength.flush_not_listed"
    preparation = said(f"preparation.{tabled}")
    if rivet.head.is_reduced:
        tabled, unlisted = _REDUCED[tabled], "strength.flush_reduced_not_listed"
    thinnest_in = min(site.sheets[name].thickness_in for name in hole.stack)
    told: dict[str, Value] = {"rivet": name, "preparation": preparation, "thickness": inch(thinnest_in)}
    found = []
    for kind in ("ultimate", "yield"):
        try:
            one = flush_rivet_strength(
                tabled, diameter_in=rivet.diameter_in, thickness_in=thinnest_in, strength=kind, shop=site.shop
            )
        except TableError as error:
            raise Refusal(said(unlisted, **told), where=here) from error
        if one.grade is not Grade.SHOP:
            raise Refusal(said("strength.flush_not_confirmed", **told, grade=one.grade), where=here)
        note = said("working.flush_joint", rivet=name, preparation=preparation)
        found.append(looked_up(one, "lbf", f"P {kind}", note))
    return RivetJoint(hole, found[0], found[1])


def lowest(symbol: str, *values: Worked) -> Worked:
    """The lowest of several strengths, which governs, with the workings of all."""
    return at_both_ends(partial(_lowest, symbol), *values)


def _lowest(symbol: str, *values: Worked) -> Worked:
    least = min(values, key=lambda one: one.value)
    equation = f"{symbol} = min({', '.join(one.symbol for one in values)}) [{least.unit}]"
    note = said("working.governs", symbol=least.symbol)
    return work_out(least.value, equation, *values, by=Ground(least.source), note=note)
