"""Carried steps of the holes on the aircraft: marked, match-drilled, to size, dimpled, reamed; ears of nutplates."""

from __future__ import annotations

from hatchwright.documents.carry_lines import carried, drilling, held_told, off_place
from hatchwright.documents.hole_steps import flush_kinds, set_in_place
from hatchwright.documents.step import Carried, Carriers, Check, Work
from hatchwright.errors import TableError
from hatchwright.layout.layout import Layout
from hatchwright.recipe.cover_hardware import cover_hardware
from hatchwright.recipe.hole_drills import drill_named, step_said
from hatchwright.recipe.sheet_work import LayerWork
from hatchwright.recipe.task import Task
from hatchwright.said import Listed, Said, Value, inch, said
from hatchwright.tables.rivets import hole_range
from hatchwright.words.of_job import said_of


def _mark_skin(task: Task, work: Work) -> Carried:
    edges = said("carry.mark_skin.edges")
    return carried(said("carry.mark_skin"), (edges,), drilling(task, work.layout), checks=(off_place(),))


def _back_drill(task: Task, work: Work) -> Carried:
    leads = {one.lead for one in task.made}
    told = [said("carry.back_drill.doubler_leads" if "doubler" in leads else "carry.back_drill.skin_leads")]
    if task.stop is not None and task.stop.is_from_inside:
        told.append(said("carry.back_drill.from_inside"))
    told.append(said("carry.back_drill.outward"))
    return carried(said("carry.back_drill"), told, drilling(task, work.layout), checks=(off_place(),))


def _drill_cover(task: Task, work: Work) -> Carried:
    cover = work.layout.job.cover
    assert cover is not None  # the task is of the recipe only then
    told = (
        said("carry.drill_cover.lay_out"),
        set_in_place(cover, is_carried=True),
        said("carry.drill_cover.pin"),
    )
    flat = Check("tick", said("carry.flat"))
    return carried(said("carry.drill_cover"), told, drilling(task, work.layout), checks=(flat,))


def _transfer_cover(task: Task, work: Work) -> Carried:
    """From inside, through what lies under it."""
    cover, way = work.layout.job.cover, work.layout.job.bay.way_in
    assert cover is not None  # the task is of the recipe only then
    reach = said("carry.transfer_cover.way", way=way) if way else said("carry.transfer_cover.no_way")
    told = reach, set_in_place(cover, is_carried=True), said("carry.transfer_cover.hands")
    flat = Check("tick", said("carry.flat"))
    return carried(said("carry.transfer_cover"), told, drilling(task, work.layout), checks=(flat,))


def _drill_plug(task: Task, work: Work) -> Carried:
    patch = work.layout.job.patch
    assert patch is not None  # the task is of the recipe only then
    told = said("carry.drill_plug.set_in", gap=inch(patch.plug.gap.inch)), said("carry.drill_cover.pin")
    return carried(said("carry.drill_plug"), told, drilling(task, work.layout), checks=(off_place(),))


def _to_size(task: Task, work: Work) -> Carried:
    layout = work.layout
    from_bench = work.recipe.task("cover_blank") and any(one.part == "cover" for one in task.made)
    laid_on = (said("carry.to_size.cover_on"),) if from_bench else ()
    finishes = any(one.does == "final" for one in task.made)
    what = said("carry.to_size" if finishes else "card.to_size.title_open")
    oversize = Check("reading", said("carry.to_size.oversize"))
    return carried(what, laid_on, drilling(task, layout), checks=(*_largest(task, layout), oversize))


def _largest(task: Task, layout: Layout) -> tuple[Check, ...]:
    """The greatest finished hole of each size of rivet that is drilled: past it the rivet does not fill it."""
    checks: dict[float, Check] = {}
    finished = [one for one in task.made if one.does in ("final", "ream")]
    for hole in (one.kind.holes[0] for one in finished if one.kind.holes[0].kind == "rivet"):
        try:
            greatest = inch(hole_range(hole.diameter_in, layout.shop).greatest_in)
        except TableError:
            continue
        rivet = said("carry.to_size.greatest", size=inch(hole.diameter_in))
        checks.setdefault(hole.diameter_in, Check("tick", rivet, greatest))
    return tuple(checks.values())


def _apart(task: Task, work: Work) -> Carried:
    told = said("carry.apart.dimpled") if work.recipe.task("ream") else None
    deburred = Check("tick", said("carry.apart.deburred"))
    what = said("carry.apart" if len(work.layout.parts) > 1 else "card.apart.title_skin")
    return carried(what, (told,) if told else (), checks=(deburred,))


def _prepare(task: Task, work: Work) -> Carried:
    told: list[Value] = [
        _layers(kind.name, kind.layers, work.layout) for kind in flush_kinds(work) if kind.is_known
    ]
    told += (
        [said("asks.hot_dimple_materials")] if any(one.alloy == "7075" for one in work.layout.parts) else []
    )
    level = Check("tick", said("carry.prepare.level"))
    return carried(said("card.prepare.title"), drilling(task, work.layout), told, checks=(level,))


def _layers(name: Value, layers: tuple[LayerWork, ...], layout: Layout) -> Said:
    """What is done to each sheet for a head."""
    work = tuple(
        said(
            f"carry.layer.{layer.preparation or 'unknown'}",
            part=said_of(layout.job.kind, said(f"part.{layer.part}")),
        )
        for layer in layers
    )
    return said("card.layer.work_of", kind=name, work=Listed(work, ","))


def _ream(task: Task, work: Work) -> Carried:
    oversize = Check("reading", said("carry.to_size.oversize"))
    return carried(
        said("carry.ream"), drilling(task, work.layout), checks=(*_largest(task, work.layout), oversize)
    )


def _ears(task: Task, work: Work) -> Carried:
    """How the nutplates sit, when their ears are drilled, and with what."""
    cover = cover_hardware(work.layout)
    assert cover is not None  # the task is of the recipe only with nutplates
    assert cover.rivets is not None
    choice, seat = cover.rivets.choice, cover.rivets.seat
    pinned = tuple(held_told(task))
    told: list[Value] = [] if seat.seats else [said("carry.ears.seat", words=seat.told)]
    told += [
        said(f"carry.ears.lugs_{seat.screws.nut_lugs}"),
        said(f"carry.ears.{seat.ears_drilled}"),
        said("card.ears.pin_first" if pinned else "carry.ears.hold_first"),
    ]
    if seat.unlisted:
        told.append(said("card.ears.not_shown", lack=seat.unlisted))
    elif choice is None:
        told.append(said("card.ears.no_rivet"))
    else:
        told += [_chain(layer) for layer in seat.ear_layers if layer.steps]
        told += [] if choice.part.is_flush else [said("carry.ears.protruding")]
        told += [said("card.ears.not_shown", lack=lack) for lack in choice.lacks]
    title = said("card.ears.title", part=said(f"part.{seat.sheet.name}"))
    return carried(title, told, checks=(Check("tick", said("carry.ears.run"), str(cover.nuts.count)),))


def _chain(layer: LayerWork) -> Said:
    steps = tuple(step_said(step, drill_named(step.drill)) for step in layer.steps)
    return said("carry.ears.chain", part=said(f"part.{layer.part}"), chain=Listed(steps, ","))


CARRIED_HOLES: Carriers = {
    "mark_skin": _mark_skin,
    "back_drill": _back_drill,
    "drill_cover": _drill_cover,
    "transfer_cover": _transfer_cover,
    "drill_plug": _drill_plug,
    "to_size": _to_size,
    "apart": _apart,
    "prepare": _prepare,
    "ream": _ream,
    "ears": _ears,
}
