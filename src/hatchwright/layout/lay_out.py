"""Derive the layout of a job, once."""

from __future__ import annotations

import math
from collections.abc import Iterable

from msgspec.structs import replace

from hatchwright.errors import EntryError, Fault, GeometryError, HatchwrightError, JobError
from hatchwright.job.job import Job
from hatchwright.job.skin import Sheet
from hatchwright.layout.all_round import Points
from hatchwright.layout.as_made import as_made
from hatchwright.layout.fastener_pattern import refuse_into_each_other, row_points, screw_points
from hatchwright.layout.layout import Edge, Hole, Layout, Part, PartName
from hatchwright.layout.listed import listed
from hatchwright.layout.outlines import Outlines, derive_outlines
from hatchwright.layout.stray import strays_of
from hatchwright.number import MOST_HOLES
from hatchwright.said import said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import profile_of
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.screws import screw_size
from hatchwright.tables.table import ShopTables


def lay_out(job: Job, shop: ShopTables | None = None) -> Layout:
    """Derive opening, rough cut, doubler, cover, plug and every hole of a job.

    Returns:
        Layout: frozen, with the shop's rows; where something was measured, the measured value stands instead of the
            drawn one.
    Raises:
        JobError: what was entered cannot be laid out, with the field to change. A name that no table lists refuses
            nothing: see `unlisted_names`.
    """
    try:
        outlines = derive_outlines(job)
    except HatchwrightError as error:
        raise _refused(error, job, "job") from None
    planned = _screws(job, outlines, _rivets(job, outlines), shop)
    holes = as_made(job, planned, outlines.center_in)
    return Layout(
        job=job,
        frame=job.frame,
        center_in=outlines.center_in,
        wanted=outlines.wanted,
        opening=outlines.opening,
        rough_cut=outlines.rough_cut,
        parts=_parts(job, outlines),
        holes=holes,
        shop=shop,
        strays=tuple(strays_of(job)),
    )


def _refused(error: HatchwrightError, job: Job, field: str) -> JobError:
    """The error as a fault: of the field that geometry names, else of this one."""
    if isinstance(error, JobError):
        return error
    fault = replace(error.as_fault(field), unit=job.unit)
    names_its_place = isinstance(error, GeometryError) and error.where
    return JobError((fault if names_its_place else replace(fault, field=field),))


def _parts(job: Job, outlines: Outlines) -> tuple[Part, ...]:
    made = job.as_made
    u_opening = made.own_edge_u(made.opening) if made else None
    u_doubler = made.own_edge_u(made.doubler_outer) if made else None
    opening = Edge("opening edge", outlines.opening, metal_inside=False, own_u=u_opening)
    parts = [_part("skin", job.skin, opening)]
    if job.doubler and outlines.doubler_outer:
        loop = outlines.doubler_outer
        edges = [Edge("doubler outer edge", loop, metal_inside=True, own_u=u_doubler)]
        if hole := outlines.doubler_inner:
            u_inner = None if job.doubler.inner else u_opening
            if made and made.doubler_inner:
                u_inner = made.own_edge_u(made.doubler_inner)
            edges.append(Edge("doubler inner edge", hole, metal_inside=False, own_u=u_inner))
        if outlines.split:
            edges.append(Edge("doubler split edge", outlines.split, metal_inside=False))
        parts.append(_part("doubler", job.doubler, *edges))
    if job.cover and outlines.cover:
        parts.append(_part("cover", job.cover, Edge("cover edge", outlines.cover, metal_inside=True)))
    if job.patch and outlines.plug:
        parts.append(_part("plug", job.patch.plug, Edge("plug edge", outlines.plug, metal_inside=True)))
    return tuple(parts)


def _part(name: PartName, sheet: Sheet, *edges: Edge) -> Part:
    measured_in = sheet.measured.inch if sheet.measured else None
    u_in = sheet.measured_u.inch if sheet.measured_u else 0.0
    return Part(name, sheet.thickness.inch, sheet.alloy, sheet.temper, sheet.clad, edges, measured_in, u_in)


def _stack(job: Job, parts: tuple[PartName, ...]) -> tuple[PartName, ...]:
    """Order the parts from outside."""
    order: tuple[PartName, ...] = ("cover", "plug", "skin", "doubler")
    if job.doubler and job.doubler.face == "outside":
        order = ("cover", "doubler", "skin")
    return tuple(name for name in order if name in parts)


def _rivets(job: Job, outlines: Outlines) -> list[Hole]:
    stack = _stack(job, ("skin", "doubler") if job.doubler else ("skin",))
    in_plug = _stack(job, ("plug", "doubler"))
    holes: list[Hole] = []
    taken: dict[int, str] = {}
    for index, row in enumerate(job.rows):
        rivet = listed(parse_rivet, row.rivet)
        size_in = None if rivet is None else rivet.diameter_in
        try:
            points = row_points(row, outlines, where=f"rows.{index}", frame=job.frame)
            refuse_into_each_other(row, points, size_in, where=f"rows.{index}", name=row.name)
        except HatchwrightError as error:
            raise _refused(error, job, f"rows.{index}") from None
        if len(holes) + len(points) > MOST_HOLES:
            what = said("error.many_rows", most=MOST_HOLES)
            remedy = said("error.many_rows.do")
            raise JobError((Fault(f"rows.{index}", what, given=row.name, remedy=remedy),))
        first = row.first_number or max(taken, default=0) + 1
        inside = _within_cut_out(job, outlines, points)
        for number, ((x, y), is_inside) in enumerate(zip(points, inside, strict=True), start=first):
            if number in taken:
                where, given = f"rows.{index}.first_number", str(first)
                raise JobError.about(where, "error.numbered", given, number=number, row=taken[number])
            taken[number] = row.name
            through = in_plug if is_inside else stack
            holes.append(Hole(number, row.name, "rivet", x, y, row.rivet, size_in, through))
    return holes


def _within_cut_out(job: Job, outlines: Outlines, points: Points) -> list[bool]:
    """Whether each rivet of a patch stands in its cut-out, and so in the plug."""
    if job.patch is None:
        return [False] * len(points)
    inside: list[bool] = distances(profile_of(outlines.opening), points).inside.tolist()
    return inside


def _screws(job: Job, outlines: Outlines, rivets: list[Hole], shop: ShopTables | None) -> list[Hole]:
    if job.cover is None or job.cover.screws is None or outlines.cover is None:
        return rivets
    screws = job.cover.screws
    thread = listed(screw_size, screws.size, shop)
    nominal_in = None if thread is None else thread.major_diameter_in
    try:
        points = screw_points(screws, outlines.cover, outlines.wanted, where="cover.screws")
        refuse_into_each_other(screws, points, nominal_in, where="cover.screws", name="cover screws")
    except HatchwrightError as error:
        raise _refused(error, job, "cover.screws") from None
    is_flush = job.cover.fit == "flush"
    under: tuple[PartName, ...] = ("cover", "doubler") if is_flush else ("cover", "skin", "doubler")
    stack = _stack(job, tuple(name for name in under if name != "doubler" or job.doubler))
    first = 100 * math.ceil((max((hole.number for hole in rivets), default=0) + 1) / 100) + 1
    return rivets + [
        Hole(number, "cover screws", "screw", x, y, screws.size, nominal_in, stack)
        for number, (x, y) in enumerate(points, start=first)
    ]


def without_rivets(layout: Layout, numbers: Iterable[int]) -> Layout:
    """A layout whose rivets of some numbers are not there; their holes are.

    Raises:
        EntryError: a number is no rivet's.
    """
    wanted = set(numbers)
    strange = sorted(wanted - {hole.number for hole in layout.holes_of("rivet")})
    if strange:
        raise EntryError.saying("strength.no_such_rivet", where="missing", rivet=strange[0])
    holes = (replace(hole, is_fitted=hole.is_fitted and hole.number not in wanted) for hole in layout.holes)
    return replace(layout, holes=tuple(holes))
