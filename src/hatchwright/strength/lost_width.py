"""Metal that a hole takes out of a section of a sheet, with the cone of a countersunk head."""

from __future__ import annotations

import math

from msgspec import Struct

from hatchwright.layout.layout import Hole, PartName
from hatchwright.strength.site import Site, finished_hole_in
from hatchwright.tables.countersink import under_dimple
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.rivets import head_size
from hatchwright.tables.screws import SCREW_FLUSH_HEADS, screw_size

_SLOPE = math.tan(math.radians(50.0))
"""Of the side of a cone of 100 degrees."""


class _Cone(Struct, frozen=True):
    """The countersink of one flush head.

    Args:
        width_in: across its rim, the greatest that the head may have [in].
        first: number of the sheet at whose outer face the rim lies, counted from outside.
    """

    width_in: float
    first: int


def lost_width_in(site: Site, hole: Hole, sheet: PartName) -> float:
    """Width of sheet that a hole takes away, as if it had straight sides all through.

    A countersunk sheet loses the cone too, spread over its thickness; a dimpled one loses its hole alone. A flush head
    of which the job does not say how the sheets take it counts as countersunk, which takes the more away.

    Args:
        sheet: one that the hole goes through.
    Returns:
        float: finished hole + area of the cone in the sheet / t [in].
    Raises:
        TableError: neither a drill is named nor listed, or the head is not listed.
    Method: docs/theory/net_section.md, eq. 5 and 6.
    """
    hole_in, cone = finished_hole_in(site, hole), _cone(site, hole)
    place = hole.stack.index(sheet)
    if cone is None or place < cone.first:
        return hole_in
    depth_in = max(cone.width_in - hole_in, 0.0) / 2.0 / _SLOPE
    above_in = sum(site.sheets[name].thickness_in for name in hole.stack[cone.first : place])
    thickness_in = site.sheets[sheet].thickness_in
    enters_in, leaves_in = (max(depth_in - at_in, 0.0) for at_in in (above_in, above_in + thickness_in))
    return hole_in + _SLOPE * (enters_in**2 - leaves_in**2) / thickness_in


def _cone(site: Site, hole: Hole) -> _Cone | None:
    """None where the head protrudes, or every sheet is dimpled."""
    job = site.layout.job
    if hole.kind == "screw":
        screws = job.cover.screws if job.cover else None
        if screws is None or screws.known_head != "100 degree flush":
            return None
        preparation = screws.preparation
    else:
        if not parse_rivet(hole.fastener).is_flush:
            return None
        preparation = next((row.preparation for row in job.rows if row.name == hole.row), None)
    if preparation == "dimple":
        return None
    width_in = _head_in(site, hole)
    if preparation != "dimple over countersink":
        return _Cone(width_in, 0)
    _, wider = under_dimple(site.sheets[hole.stack[0]].thickness_in, site.shop)
    return _Cone(width_in + wider.value, 1)


def _head_in(site: Site, hole: Hole) -> float:
    """The greatest that the head may be across [in]."""
    if hole.kind == "screw":
        size = screw_size(hole.fastener, site.shop).size
        return SCREW_FLUSH_HEADS.one(site.shop, size=size).head_max_in
    head = head_size(parse_rivet(hole.fastener), site.shop)
    return head.head_in + (head.head_tolerance_in or 0.0)
