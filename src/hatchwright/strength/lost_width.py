"""Metal that a hole takes out of a section of a sheet, with the cone of a countersunk head."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from msgspec import Struct

from hatchwright.layout.cut_side import RivetRow
from hatchwright.layout.layout import Hole, PartName, points_of
from hatchwright.layout.stray import Stray, StrayIn
from hatchwright.layout.stray_edges import strays_in
from hatchwright.strength.site import Site, finished_hole_in
from hatchwright.tables.countersink import FLUSH_SLOPE, under_dimple
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.tables.rivets import head_size
from hatchwright.tables.screws import SCREW_FLUSH_HEADS, screw_size


def first_row_lost_in(site: Site, row: RivetRow) -> float:
    """Width of skin that goes at one hole of a first row, with the stray holes beside it.

    A stray hole within a pitch of the row counts as if it lay in it, all those by one pair of neighbors together.

    Returns:
        float: greatest along the row [in].
    Raises:
        TableError: neither a drill is named nor listed, or the head is not listed.
    Method: docs/theory/net_section.md, eq. 5, 6 and 12.
    """
    lost_in = max(lost_width_in(site, hole, "skin") for hole in row.holes)
    strays = strays_in(site.layout, "skin")
    if not strays or row.longest_in is None:
        return lost_in
    reach_in, points = row.longest_in, points_of(row.holes)
    places = np.array([stray.place for stray in strays])
    along = np.diff(points, axis=0)
    share = np.clip(((places[:, None] - points[:-1]) * along).sum(axis=2) / (along**2).sum(axis=1), 0.0, 1.0)
    apart_in = np.hypot(*np.moveaxis(places[:, None] - points[:-1] - share[..., None] * along, -1, 0))
    sizes_in = np.array([stray_lost_in(site, stray, "skin") for stray in strays])
    off_in = apart_in - sizes_in[:, None] / 2.0
    return lost_in + float(np.where(off_in < reach_in, sizes_in[:, None], 0.0).sum(axis=0).max())


def stray_lost_in(site: Site, stray: Stray, sheet: StrayIn) -> float:
    """Width of sheet that a stray hole takes away, open or filled; a flush rivet in it counts as countersunk.

    Args:
        sheet: one that it goes through.
    Returns:
        float: measured hole + its u + area of the cone in the sheet / t [in].
    Raises:
        TableError: the head of the flush rivet is not listed.
    Method: docs/theory/net_section.md, eq. 6 and 12.
    """
    hole_in, cone = stray.hole_in + stray.uncertainty_in, None
    if not stray.is_open and (part := parse_rivet(stray.filled_with)).is_flush:
        cone = _Cone(_rivet_head_in(part, site), 0)
    return _with_cone_in(site, hole_in, cone, stray.parts, sheet)


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
    return _with_cone_in(site, finished_hole_in(site, hole), _cone(site, hole), hole.stack, sheet)


def _with_cone_in(
    site: Site, hole_in: float, cone: _Cone | None, stack: Sequence[PartName], sheet: PartName
) -> float:
    """A hole through sheets, with the part of its cone that lies in one of them [in]."""
    place = stack.index(sheet)
    if cone is None or place < cone.first:
        return hole_in
    depth_in = max(cone.width_in - hole_in, 0.0) / 2.0 / FLUSH_SLOPE
    above_in = sum(site.sheets[name].thickness_in for name in stack[cone.first : place])
    thickness_in = site.sheets[sheet].thickness_in
    enters_in, leaves_in = (max(depth_in - at_in, 0.0) for at_in in (above_in, above_in + thickness_in))
    return hole_in + FLUSH_SLOPE * (enters_in**2 - leaves_in**2) / thickness_in


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
    return _rivet_head_in(parse_rivet(hole.fastener), site)


def _rivet_head_in(rivet: RivetPart, site: Site) -> float:
    head = head_size(rivet, site.shop)
    return head.head_in + (head.head_tolerance_in or 0.0)
