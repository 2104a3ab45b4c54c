"""Carried steps that bring the parts to their place: cover and plug filed in, the doubler brought in and located."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.documents.carry_lines import by_hand, carried, drilling
from hatchwright.documents.step import Carried, Carriers, Check, Work
from hatchwright.layout.layout import Layout
from hatchwright.layout.way_in import way_in
from hatchwright.recipe.land import Land, land_of
from hatchwright.recipe.task import Task
from hatchwright.said import Said, inch, room, said

_FLUSH_IN = 5e-4


def _fit_cover(task: Task, work: Work) -> Carried:
    cover = work.layout.job.cover
    gap = inch(cover.gap.inch) if cover and cover.gap else ""
    checks = (Check("reading", said("carry.gap"), gap),)
    return carried(said("carry.fit_cover"), (said("carry.one_way"),), checks=checks)


def _fit_plug(task: Task, work: Work) -> Carried:
    patch = work.layout.job.patch
    assert patch is not None  # the task is of the recipe only then
    told = said("carry.fit_plug.level"), said("carry.one_way")
    checks = (Check("reading", said("carry.gap"), inch(patch.plug.gap.inch)),)
    return carried(said("carry.fit_plug"), told, checks=checks)


def _bring_in(task: Task, work: Work) -> Carried:
    """How it gets in, as rule R304 has it."""
    layout = work.layout
    way = way_in(layout)
    assert way is not None  # the task is of the recipe only then
    if way.flat.fits:
        how = said("carry.bring_in.straight")
    elif entered := layout.job.bay.way_in:
        how = said("carry.bring_in.other_way", way=entered)
    elif way.cut is None or way.can_bow:
        how = said("carry.bring_in.not_through")
    else:
        how = said("carry.bring_in.no_force")
    return carried(said("card.bring_in.title"), (how, said("carry.bring_in.cord")))


def _locate(task: Task, work: Work) -> Carried:
    """Where it lies: by the land that shows, with what it costs to lie off."""
    land = land_of(work.layout)
    assert land is not None  # the task is of the recipe only with a doubler
    told = [*_where(land)]
    if land.nearest is not None:
        id = "carry.locate.spare" if land.spare_in > 0.0 else "carry.locate.nothing_to_spare"
        told.append(said(id, number=land.nearest.number, spare=room(land.spare_in)))
    told.append(said("carry.locate.clamp" if task.made else "card.locate.clamp_alone"))
    return carried(
        said("carry.locate"),
        told,
        drilling(task, work.layout, holds=False),
        checks=(_land_check(land, work.layout),),
    )


def _where(land: Land) -> Iterator[Said]:
    if land.least_in is None or land.greatest_in is None:
        yield said("carry.locate.center_lines")
    elif not land.is_equal:
        yield said("carry.locate.land_differs")


def _land_check(land: Land, layout: Layout) -> Check:
    if land.least_in is None or not land.is_equal:
        return Check("tick", said("card.locate.checked"))
    if abs(land.least_in) < _FLUSH_IN:
        return Check("tick", said("carry.locate.edges_meet"))
    of = "carry.locate.back" if land.least_in < 0.0 else "carry.locate.land"
    return Check("reading", said(of), inch(by_hand(abs(land.least_in), layout)))


CARRIED_PARTS: Carriers = {
    "fit_cover": _fit_cover,
    "fit_plug": _fit_plug,
    "bring_in": _bring_in,
    "locate": _locate,
}
