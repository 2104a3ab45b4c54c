"""Steps at length for the holes: marked, back-drilled, drilled to size, taken apart, dimpled, reamed."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.documents.hole_lines import layer_line, not_shown, trial_line
from hatchwright.documents.made_lines import drilling_lines
from hatchwright.documents.step import PRACTICE, Line, Step, Tellers, Work, asked, line
from hatchwright.job.parts import Cover
from hatchwright.layout.layout import Hole
from hatchwright.recipe.hole_drills import drill_named
from hatchwright.recipe.sheet_work import LayerWork, lacks_of
from hatchwright.recipe.task import Task
from hatchwright.said import Amount, Listed, Said, Value, inch, said
from hatchwright.words.spans import spans_said

_BY_COUPON = said("lacks.before_dimple")
"""That no table gives the hole before a dimple: the die gives it, on the coupon."""


def _mark_skin(task: Task, work: Work) -> Step:
    """The holes of the skin that the template does not lead."""
    numbers = {number for one in task.made for number in one.numbers}
    lines = (
        line(said("card.mark.these", numbers=spans_said(numbers)), said("card.mark.check_edge")),
        asked("centre_punch"),
        *drilling_lines(task, work.layout),
    )
    return Step(said("card.mark.title"), lines, (said("card.pilot.off_place"),))


def _back_drill(task: Task, work: Work) -> Step:
    """The doubler through the skin, or the skin through a doubler that leads."""
    leads = {one.lead for one in task.made}
    why = "card.back_drill.doubler_leads" if "doubler" in leads else "card.back_drill.skin_leads"
    is_from_inside = task.stop is not None and task.stop.is_from_inside
    inside = [line(said("card.back_drill.from_inside"), rests_on=(PRACTICE,))] if is_from_inside else []
    lines = (
        line(said(why), rests_on=(PRACTICE,)),
        *_reason(work),
        *inside,
        *drilling_lines(task, work.layout),
        *_outward(work),
    )
    return Step(said("card.back_drill.title"), lines, (said("card.pilot.off_place"),))


def _reason(work: Work) -> Iterator[Line]:
    doubler = work.layout.job.doubler
    if doubler is not None and doubler.holes_reason:
        yield line(said("card.back_drill.reason", reason=doubler.holes_reason.rstrip(".")))


def _outward(work: Work) -> Iterator[Line]:
    """How a stack is pinned and drilled."""
    least, most = (work.layout.limit(f"temporary_fastener_every_{end}") for end in ("min", "max"))
    every = said("card.drill.every", least=Amount(least.value, ""), most=Amount(most.value, ""))
    yield asked("pilot_practice")
    yield asked("drill_from_centre_out")
    yield line(every, rests_on=(least, most))
    yield asked("backing_block")


def _drill_cover(task: Task, work: Work) -> Step:
    """A cover that leads: laid out on it, set in its place, drilled through into what lies under it."""
    cover = work.layout.job.cover
    assert cover is not None  # the task is of the recipe only then
    lines = (
        line(said("card.drill_cover.lay_out"), said("card.mark.check_edge")),
        line(set_in_place(cover), said("card.drill_cover.pin"), rests_on=(PRACTICE,)),
        *drilling_lines(task, work.layout),
        line(said("card.drill_cover.flat")),
    )
    return Step(said("card.drill_cover.title"), lines, (said("card.cover.flat"),))


def set_in_place(cover: Cover, *, is_carried: bool = False) -> Said:
    """How a cover lies before it is drilled, at length or as carried."""
    size = cover.gap or cover.lap
    how = cover.fit if size else f"{cover.fit}_by_outline"
    id = f"carry.drill_cover.{how}" if is_carried else f"card.drill_cover.{how}"
    return said(id, size=inch(size.inch) if size else "")


def _transfer_cover(task: Task, work: Work) -> Step:
    """A cover that gets its holes from inside, through those of what lies under it."""
    cover, way = work.layout.job.cover, work.layout.job.bay.way_in
    assert cover is not None  # the task is of the recipe only then
    reach = said("card.transfer_cover.way", way=way) if way else said("card.transfer_cover.no_way")
    lines = (
        line(said("card.transfer_cover.hands"), rests_on=(PRACTICE,)),
        line(reach),
        line(said("card.back_drill.reason", reason=cover.holes_reason.rstrip("."))),
        line(set_in_place(cover), said("card.transfer_cover.pin"), rests_on=(PRACTICE,)),
        *drilling_lines(task, work.layout),
        line(said("card.drill_cover.flat")),
    )
    return Step(said("card.transfer_cover.title"), lines, (said("card.cover.flat"),))


def _drill_plug(task: Task, work: Work) -> Step:
    """The plug leads: laid out on it, set in the cut-out, drilled through into the doubler."""
    patch = work.layout.job.patch
    assert patch is not None  # the task is of the recipe only then
    set_in = said("card.drill_plug.set_in", gap=inch(patch.plug.gap.inch))
    lines = (
        line(said("card.drill_plug.lay_out"), said("card.mark.check_edge")),
        line(set_in, said("card.drill_cover.pin"), rests_on=(PRACTICE,)),
        *drilling_lines(task, work.layout),
    )
    return Step(said("card.drill_plug.title"), lines, (said("card.pilot.off_place"),))


def _to_size(task: Task, work: Work) -> Step:
    from_bench = work.recipe.task("cover_blank") and any(one.part == "cover" for one in task.made)
    laid_on = (line(said("card.to_size.cover_on"), rests_on=(PRACTICE,)),) if from_bench else ()
    lines = (*laid_on, *drilling_lines(task, work.layout), asked("hole_round_straight_crack_free"))
    finishes = any(one.does == "final" for one in task.made)
    title = "card.to_size.title" if finishes else "card.to_size.title_open"
    return Step(said(title), lines, (said("card.to_size.oversize"),))


def _apart(task: Task, work: Work) -> Step:
    """Every hole is deburred on both of its faces before anything is closed over it."""
    layout = work.layout
    fraction, depth = layout.limit("deburr_depth_max_fraction"), layout.limit("deburr_depth_max_abs")
    deburr = said("card.to_size.deburr", share=Amount(100.0 * fraction.value, ""), most=inch(depth.value))
    title = "card.apart.title" if len(layout.parts) > 1 else "card.apart.title_skin"
    stays = [line(said("card.apart.dimpled_stays"))] if work.recipe.task("ream") else []
    return Step(said(title), (line(deburr, rests_on=(fraction, depth)), *stays))


def _coupon(task: Task, work: Work) -> Step:
    """Scrap of the same sheets goes through all that the parts will, before the aircraft is down."""
    flush = flush_kinds(work)
    lines = [line(said("card.coupon.same_sheets"), rests_on=(PRACTICE,))]
    if flush:
        lines.append(trial_line({kind.hole.kind for kind in flush}))
    for kind in flush:
        if is_found_on_coupon(kind):  # what a mechanic finds here is no question to anybody else
            lines.append(line(said("card.coupon.find_hole", kind=kind.name), rests_on=(PRACTICE,)))
        lines += [line(not_shown(kind.name, lack)) for lack in kind.unknown]
    done = (said("card.coupon.heads_level"),) if flush else ()
    before = (_hole_before_dimple(kind) for kind in flush if kind.is_dimpled)
    rivets = (said("card.coupon.two_driven"),) if work.layout.holes_of("rivet") else ()
    title = "card.coupon.title" if flush or rivets else "card.coupon.title_drills"
    return Step(said(title), tuple(lines), (*done, *before, *rivets))


def _prepare(task: Task, work: Work) -> Step:
    flush = [kind for kind in flush_kinds(work) if kind.is_known]
    has_rivet = any(kind.hole.kind == "rivet" for kind in flush)
    is_hot = any(part.alloy == "7075" for part in work.layout.parts)
    lines = [*drilling_lines(task, work.layout)]
    lines += [layer_line(kind.name, kind.layers, kind.hole, work.layout) for kind in flush]
    depth, hot = ["depth_check"] if has_rivet else [], ["hot_dimple_materials"] if is_hot else []
    lines += map(asked, ("rule_head_vs_sheet", *depth, "dimple_cracks", "flush_head_level", *hot))
    return Step(said("card.prepare.title"), tuple(lines), (said("card.prepare.checked"),))


def _ream(task: Task, work: Work) -> Step:
    lines = drilling_lines(task, work.layout)
    return Step(said("card.dimpled.title"), tuple(lines), (said("card.to_size.oversize"),))


class PreparedHoles(Struct, frozen=True):
    """Holes whose sheets take the same head in one way; named by rows where the fastener is prepared in others too."""

    name: Value
    hole: Hole
    layers: tuple[LayerWork, ...]

    @property
    def is_flush(self) -> bool:
        """Whether its heads are, and its tables list it."""
        is_listed = self.hole.nominal_in is not None and not any(layer.is_unlisted for layer in self.layers)
        return is_listed and any(layer.preparation != "plain" for layer in self.layers)

    @property
    def is_known(self) -> bool:
        """Whether its first drill is known, so that it is made at all."""
        return self.layers[0].steps[0].operation != "not known"

    @property
    def is_dimpled(self) -> bool:
        """Whether a sheet is."""
        return any(layer.preparation == "dimple" for layer in self.layers)

    @property
    def unknown(self) -> tuple[Said, ...]:
        """What cannot be said of it, but for the hole before a dimple, which the coupon gives."""
        asked_for = (
            replace(one, lacks=tuple(lack for lack in one.lacks if lack != _BY_COUPON)) for one in self.layers
        )
        return lacks_of(asked_for)


def flush_kinds(work: Work) -> list[PreparedHoles]:
    """The holes that take a flush head, by how their sheets take it."""
    return [kind for kind in _kinds(work) if kind.is_flush]


def is_found_on_coupon(kind: PreparedHoles) -> bool:
    """Whether only the coupon gives the hole before its dimple."""
    return any(_BY_COUPON in layer.lacks for layer in kind.layers)


def _kinds(work: Work) -> list[PreparedHoles]:
    groups: dict[tuple[str, tuple[LayerWork, ...]], list[Hole]] = {}
    for kind in work.recipe.kinds:
        groups.setdefault((kind.holes[0].fastener, kind.layers), []).extend(kind.holes)
    fasteners = [fastener for fastener, _ in groups]
    kinds = []
    for (fastener, layers), holes in groups.items():
        rows = Listed(tuple(dict.fromkeys(hole.row for hole in holes)), ",")
        is_one = fasteners.count(fastener) == 1
        name: Value = fastener if is_one else said("card.in_rows", what=fastener, rows=rows)
        kinds.append(PreparedHoles(name, holes[0], layers))
    return kinds


def _hole_before_dimple(kind: PreparedHoles) -> Value:
    drills = dict.fromkeys(drill_named(layer.before_dimple) for layer in kind.layers if layer.before_dimple)
    id = "card.prepare.hole_before_dimple_of" if drills else "card.prepare.hole_before_dimple"
    return said(id, kind=kind.name, drills=Listed(tuple(drills), ","))


HOLES: Tellers = {
    "mark_skin": _mark_skin,
    "back_drill": _back_drill,
    "drill_cover": _drill_cover,
    "transfer_cover": _transfer_cover,
    "drill_plug": _drill_plug,
    "to_size": _to_size,
    "apart": _apart,
    "coupon": _coupon,
    "prepare": _prepare,
    "ream": _ream,
}
