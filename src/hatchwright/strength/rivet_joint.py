"""What one rivet of the doubler's joint may carry: the lowest of shear and of bearing in each sheet."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.errors import HatchwrightError, TableError
from hatchwright.layout.layout import Hole
from hatchwright.strength.bearing import bearing_strength
from hatchwright.strength.rivet_shear import shear_strength
from hatchwright.strength.site import Site
from hatchwright.strength.worked import Worked, work_out
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.tables.rivet_shear import flush_rivet_strength
from hatchwright.tables.rivets import hole_drill
from hatchwright.workings import Grade

_TABLED: dict[str | None, str] = {"dimple": "dimpled", "countersink": "countersunk"}
"""Preparation of a row, as the tables of flush joints name it."""


@dataclass(frozen=True, slots=True)
class RivetJoint:
    """One rivet and what it may carry.

    Args:
        ultimate: at ultimate load, None when no value may be used [lbf].
        at_yield: at limit load, None when no value may be used [lbf].
        refusal: why there is no value, "" when there is.
    """

    hole: Hole
    ultimate: Worked | None
    at_yield: Worked | None
    refusal: str = ""


def rivet_joints(site: Site) -> dict[int, RivetJoint]:
    """What every rivet through skin and doubler may carry.

    Args:
        site: with sheets and edge distances.
    Returns:
        dict[int, RivetJoint]: by the number of the hole.
    """
    return {
        hole.number: rivet_joint(site, hole) for hole in site.layout.holes_of("rivet") if len(hole.stack) > 1
    }


def rivet_joint(site: Site, hole: Hole) -> RivetJoint:
    """What one rivet may carry in the sheets that it joins.

    Args:
        site: with sheets and edge distances.
    Returns:
        RivetJoint: without values when the rivet lies outside what is published, and then it says why.
    Method: docs/theory/rivet.md, eq. 3.
    """
    try:
        rivet = parse_rivet(hole.fastener)
        if rivet.is_flush:
            return _flush(site, hole, rivet)
        return _protruding(site, hole, rivet)
    except HatchwrightError as error:
        return RivetJoint(hole, None, None, str(error))


def _protruding(site: Site, hole: Hole, rivet: RivetPart) -> RivetJoint:
    drill = hole_drill(rivet.diameter_in, use="strength basis", shop=site.shop)
    thinnest_in = min(site.sheets[name].thickness_in for name in hole.stack)
    shear = shear_strength(rivet, thickness_in=thinnest_in, shop=site.shop)

    def bearing(at_yield: bool) -> list[Worked]:
        return [
            bearing_strength(
                site.sheets[name].allowed,
                sheet=name,
                thickness_in=site.sheets[name].thickness_in,
                hole_in=drill.diameter_in,
                diameter_in=rivet.diameter_in,
                edge_in=site.edge_in[name, hole.number],
                at_yield=at_yield,
                shop=site.shop,
            )
            for name in hole.stack
        ]

    return RivetJoint(hole, lowest("P one", shear, *bearing(False)), lowest("P yield", *bearing(True)))


def _flush(site: Site, hole: Hole, rivet: RivetPart) -> RivetJoint:
    """Only the shop's own confirmed values will do; what is remembered never feeds a statement of strength."""
    row = next(row for row in site.layout.job.rows if row.name == hole.row)
    if row.preparation not in _TABLED:
        raise TableError(
            f"there is no table for {rivet} in {row.preparation or 'sheets whose preparation is not said'}",
            where="rows.preparation",
            remedy="Write dimple or countersink, and confirm the strength of that joint",
        )
    preparation = _TABLED[row.preparation]
    thinnest_in = min(site.sheets[name].thickness_in for name in hole.stack)
    found = []
    for kind in ("ultimate", "yield"):
        one = flush_rivet_strength(
            preparation,
            diameter_in=rivet.diameter_in,
            thickness_in=thinnest_in,
            strength=kind,
            shop=site.shop,
        )
        if one.grade is not Grade.SHOP:
            raise TableError(
                f"the strength of a {preparation} {rivet} in {thinnest_in:g} in sheet is not confirmed ({one.grade})",
                where="flush rivet strength",
                remedy="Add the shop's own row from MIL-HDBK-5 table 8.1.2.2, or take protruding heads",
            )
        found.append(
            work_out(
                one.value, "lbf", f"P {kind}", f"{preparation} {rivet}", source=one.source, grade=one.grade
            )
        )
    return RivetJoint(hole, found[0], found[1])


def lowest(symbol: str, *values: Worked) -> Worked:
    """The lowest of several strengths governs.

    Args:
        values: in the same unit.
    Returns:
        Worked: the lowest, with the workings of all.
    """
    least = min(values, key=lambda one: one.value)
    return work_out(
        least.value, least.unit, symbol, f"lowest; {least.symbol} governs", *values, source=least.source
    )
