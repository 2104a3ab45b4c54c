"""Steps at length for the parts themselves: making doubler and cover, getting the doubler in and located."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.made_lines import drilled_lines, drilling_lines, too_large_lines
from hatchwright.documents.step import PRACTICE, Step, Tellers, Work, asked, line
from hatchwright.drawings.parts_table import sheet_of, sheet_said
from hatchwright.layout.layout import Edge, Layout, Part
from hatchwright.layout.sizes import is_round, size_of
from hatchwright.layout.way_in import way_in
from hatchwright.recipe.land import Land, land_of
from hatchwright.recipe.task import Task
from hatchwright.said import Listed, Numbered, Said, inch, missing, room, said


def _make_parts(task: Task, work: Work) -> Step:
    """The blanks, before the aircraft is down; what goes into the opening is fitted to it when it is filed."""
    parts = [part for part in work.layout.parts if part.name != "skin"]
    title = said("card.make.title", parts=Listed(tuple(said(f"part.{part.name}") for part in parts)))
    outlines = line(said("card.make.outlines"), said("card.make.file"), rests_on=(PRACTICE,))
    waits = [
        line(said("card.make.flush_waits", part=one), rests_on=(PRACTICE,)) for one in _fitted(work.layout)
    ]
    curved = [line(said("card.make.form"))] if work.layout.job.skin.curvature else []
    strap = [line(one, rests_on=(PRACTICE,)) for one in _strap(work.layout)]
    lines = (*(line(_part(part)) for part in parts), *strap, outlines, *waits, *curved, asked("edge_finish"))
    return Step(title, lines, tuple(blank for part in parts for blank in _blanks(part)))


def _fitted(layout: Layout) -> Iterator[Said]:
    """The part that lies in the opening, and is fitted to it."""
    cover = layout.job.cover
    if cover is not None and cover.fit == "flush":
        yield said("part.cover")
    if layout.job.patch is not None:
        yield said("part.plug")


def _strap(layout: Layout) -> Iterator[Said]:
    """The strap under the nutplates, whose length nobody enters: it takes them all."""
    cover = layout.job.cover
    strap = cover.screws.strap if cover and cover.screws else None
    if strap is not None:
        sheet = sheet_of(strap.alloy, strap.temper, strap.thickness.inch, clad=strap.clad)
        if strap.width is None:
            yield said("card.make.strap", sheet=sheet)
        else:
            yield said("card.make.strap_of_width", sheet=sheet, width=inch(strap.width.inch))


def _part(part: Part) -> Said:
    edges = Listed(tuple(_edge(edge, part) for edge in part.edges), ";")
    return said("card.make.part", part=said(f"part.{part.name}"), sheet=sheet_said(part), edges=edges)


def _edge(edge: Edge, part: Part) -> Said:
    which = edge.name.removesuffix(" edge").removeprefix(part.name).strip() or "whole"
    bounds, corner = edge.loop.bounds, edge.corner
    size = size_of(bounds, corner)
    if corner is None or is_round(bounds, corner):
        return said(f"card.edge.{which}", size=size)
    return said(f"card.edge.{which}_corner", size=size, radius=inch(corner.radius_in, fine=True))


def _blanks(part: Part) -> Iterator[Said]:
    x_min, y_min, x_max, y_max = part.edges[0].loop.bounds
    name = said(f"part.{part.name}")
    yield said("card.make.along_x", part=name, size=inch(x_max - x_min))
    yield said("card.make.along_y", part=name, size=inch(y_max - y_min))


def _drill_doubler(task: Task, work: Work) -> Step:
    """A doubler that leads is drilled on the bench."""
    lines = (
        line(said("card.drill_doubler.lay_out"), said("card.mark.check_edge")),
        *drilled_lines(task, work.layout),
        asked("centre_punch"),
    )
    return Step(said("card.drill_doubler.title"), lines)


def _cover_blank(task: Task, work: Work) -> Step:
    """A lapped cover gets its holes through the template that leads those of the skin."""
    lines = (
        line(said("card.cover_blank.clamp"), said("card.cover_blank.same_face"), rests_on=(PRACTICE,)),
        *too_large_lines(task, work.guided),
        *drilled_lines(task, work.layout),
        line(said("card.cover_blank.trim")),
    )
    return Step(said("card.cover_blank.title"), lines)


def _fit_cover(task: Task, work: Work) -> Step:
    """A flush cover is filed to the opening as it is."""
    cover = work.layout.job.cover
    gap = cover.gap if cover else None
    fit = (said("card.fit_cover.gap", gap=inch(gap.inch)),) if gap else ()
    lines = (line(said("card.fit_cover.file"), *fit), line(said("card.fit_cover.mark")))
    return Step(said("card.fit_cover.title"), lines, (said("card.fit_cover.measured"),))


def _fit_plug(task: Task, work: Work) -> Step:
    """The plug of a patch is filed to the cut-out as it is."""
    patch = work.layout.job.patch
    assert patch is not None  # the task is of the recipe only then
    fit = line(said("card.fit_plug.file"), said("card.fit_cover.gap", gap=inch(patch.plug.gap.inch)))
    lines = fit, line(said("card.fit_plug.level"))
    return Step(said("card.fit_plug.title"), lines, (said("card.fit_cover.measured"),))


def _bring_in(task: Task, work: Work) -> Step:
    """Flat through the opening, bowed, split, or by another way, as rule R304 has it."""
    layout = work.layout
    way = way_in(layout)
    assert way is not None  # the task is of the recipe only then
    flat = way.flat
    sizes = line(said("card.bring_in.sizes", width=inch(flat.width_in), chord=inch(flat.room_in)))
    if flat.fits:
        how = [line(said("card.bring_in.straight"))]
    elif entered := layout.job.bay.way_in:
        how = [line(said("card.bring_in.other_way", way=entered))]
    elif layout.job.mount is not None or layout.job.patch is not None or way.cut is None:
        how = [line(said("card.bring_in.not_through"), said("card.bring_in.split_only"))]
    else:
        force = "card.bring_in.bow_no_more" if way.can_bow else "card.bring_in.no_force"
        how = [line(said("card.bring_in.not_whole"), said("card.bring_in.split"), said(force))]
    cord = line(said("card.bring_in.cord"), rests_on=(PRACTICE,))
    return Step(said("card.bring_in.title"), (sizes, *how, cord), (said("card.bring_in.way"),))


def _locate(task: Task, work: Work) -> Step:
    """Where the doubler lies: by the land that shows, with what it costs to lie off."""
    land = land_of(work.layout)
    assert land is not None  # the task is of the recipe only with a doubler
    lines = [line(*_land(land))]
    if land.nearest is not None:
        rivet = Numbered("rivet", (land.nearest.number,))
        id = "card.locate.spare" if land.spare_in > 0.0 else "card.locate.nothing_to_spare"
        lines.append(line(said("card.locate.costs"), said(id, rivet=rivet, spare=room(land.spare_in))))
    clamp = "card.locate.clamp" if task.made else "card.locate.clamp_alone"
    lines.append(line(said(clamp), rests_on=(PRACTICE,)))
    lines += drilling_lines(task, work.layout)
    lines.append(line(said("card.locate.check_again")))
    return Step(said("card.locate.title"), tuple(lines), tuple(_land_blanks(land)))


def _land(land: Land) -> Iterator[Said]:
    if land.least_in is None or land.greatest_in is None:
        yield said("card.locate.center_lines")
    elif not land.is_equal:
        yield said("card.locate.land_differs", least=inch(land.least_in), greatest=inch(land.greatest_in))
    elif abs(land.least_in) < 5e-4:
        yield said("card.locate.edges_meet")
    elif land.least_in < 0.0:
        yield said("card.locate.stands_back", by=missing(-land.least_in))
    else:
        yield said("card.locate.land", land=inch(land.least_in))


def _land_blanks(land: Land) -> Iterator[Said]:
    if land.is_equal and land.least_in:
        for side in ("x_min", "x_max", "y_min", "y_max"):
            yield said(f"card.locate.{side}", land=inch(abs(land.least_in)))
    else:
        yield said("card.locate.checked")


PARTS: Tellers = {
    "make_parts": _make_parts,
    "drill_doubler": _drill_doubler,
    "cover_blank": _cover_blank,
    "fit_cover": _fit_cover,
    "fit_plug": _fit_plug,
    "bring_in": _bring_in,
    "locate": _locate,
}
