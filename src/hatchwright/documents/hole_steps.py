"""Steps of the work card for the holes: pilot, drill to size, dimple or countersink, and ream what was dimpled."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hatchwright.documents.hole_lines import drilled, layer_line, not_shown, trial_line
from hatchwright.documents.step import PRACTICE, Line, Step, asked, led_holes, line
from hatchwright.drawings.hole_table import fastener_said
from hatchwright.drawings.template_holes_view import spans_said
from hatchwright.layout.layout import Hole, Layout
from hatchwright.making.making import Making
from hatchwright.recipe.sheet_work import LayerWork, hole_work, lacks_of
from hatchwright.said import Amount, Listed, Value, inch, said


@dataclass(frozen=True, slots=True)
class _Kind:
    """Holes of one fastener that are made in one way; named by its rows where the same fastener is made in others."""

    fastener: Value
    name: Value
    hole: Hole
    layers: tuple[LayerWork, ...]
    count: int

    @property
    def is_flush(self) -> bool:
        return self.is_listed and any(layer.preparation != "plain" for layer in self.layers)

    @property
    def is_listed(self) -> bool:
        return self.hole.nominal_in is not None and not any(layer.is_unlisted for layer in self.layers)

    @property
    def is_open(self) -> bool:
        """Whether it is not said how a sheet takes the head, so that no drill after the pilot can be named."""
        return self.is_listed and any(not layer.preparation for layer in self.layers)

    @property
    def is_dimpled(self) -> bool:
        return any(layer.preparation == "dimple" for layer in self.layers)


def hole_steps(layout: Layout, making: Making | None) -> Iterator[Step]:
    """How every hole is made, up to its finished size, in the order that each sheet asks for."""
    if not layout.holes:
        return
    kinds = _kinds(layout)
    led = {one.hole.number for one in led_holes(making)}
    if led or layout.job.doubler is not None:
        yield _mark(layout, led)
    yield _pin_and_drill(layout, kinds)
    yield _to_size(layout, kinds)
    if any(kind.is_flush for kind in kinds):
        yield _prepare(layout, kinds)
    if dimpled := [kind for kind in kinds if kind.is_dimpled]:
        lines = tuple(_after_dimple(kind, layout) for kind in dimpled)
        yield Step(said("card.dimpled.title"), lines, (said("card.to_size.oversize"),))


def _mark(layout: Layout, led: set[int]) -> Step:
    """What of the skin is not piloted through the template, and how all of it gets into the doubler."""
    others = {hole.number for hole in layout.holes if "skin" in hole.stack} - led
    has_doubler = layout.job.doubler is not None
    lines = [line(said("card.mark.piloted", numbers=spans_said(led)))] if led else []
    if others:
        which = said("card.mark.these" if led else "card.mark.each", numbers=spans_said(others))
        lines.append(line(which, said("card.mark.check_edge")))
    if has_doubler:
        lines.append(line(said("card.mark.back_drill"), rests_on=(PRACTICE,)))
    if others:
        lines.append(asked("centre_punch"))
    mark = "card.mark.title_mark_doubler" if has_doubler else "card.mark.title_mark"
    check = "card.mark.title_check_doubler" if has_doubler else "card.mark.title_check"
    return Step(said(mark if others else check), tuple(lines))


def _kinds(layout: Layout) -> tuple[_Kind, ...]:
    groups: dict[tuple[Value, tuple[LayerWork, ...]], list[Hole]] = {}
    for hole in layout.holes:
        groups.setdefault((fastener_said(hole, layout), hole_work(hole, layout)), []).append(hole)
    fasteners = [holes[0].fastener for holes in groups.values()]
    kinds = []
    for (fastener, layers), holes in groups.items():
        names: tuple[Value, Value] = fastener, holes[0].fastener
        if fasteners.count(holes[0].fastener) > 1:
            rows = Listed(tuple(dict.fromkeys(hole.row for hole in holes)), ",")
            name, called = (said("card.in_rows", what=what, rows=rows) for what in names)
            names = name, called
        kinds.append(_Kind(*names, holes[0], layers, len(holes)))
    return tuple(kinds)


def _pin_and_drill(layout: Layout, kinds: tuple[_Kind, ...]) -> Step:
    least, most = (layout.limit(f"temporary_fastener_every_{end}") for end in ("min", "max"))
    every = said("card.drill.every", least=Amount(least.value, ""), most=Amount(most.value, ""))
    lines = [line(said("card.drill.kind", count=kind.count, fastener=kind.fastener)) for kind in kinds]
    lines += [line(said("card.drill.dimpled_stays"))] if any(kind.is_dimpled for kind in kinds) else []
    lines += [asked("pilot_practice"), asked("drill_from_centre_out")]
    lines += [line(every, rests_on=(least, most)), asked("backing_block")]
    return Step(said("card.drill.title"), tuple(lines))


def _to_size(layout: Layout, kinds: tuple[_Kind, ...]) -> Step:
    """The final size of every sheet that is not dimpled; those that are keep their small hole."""
    fraction, depth = layout.limit("deburr_depth_max_fraction"), layout.limit("deburr_depth_max_abs")
    lines = [found for kind in kinds if (found := _to_size_line(kind, layout))]
    deburr = said("card.to_size.deburr", share=Amount(100.0 * fraction.value, ""), most=inch(depth.value))
    return Step(
        said("card.to_size.title") if lines else said("card.to_size.title_deburr"),
        (*lines, asked("hole_round_straight_crack_free"), line(deburr, rests_on=(fraction, depth))),
        (said("card.to_size.oversize"),) if lines else (),
    )


def _to_size_line(kind: _Kind, layout: Layout) -> Line | None:
    if kind.is_open:
        return line(said("card.to_size.stays", kind=kind.name))
    if not kind.is_dimpled:
        return drilled(kind.name, kind.hole, layout)
    now = tuple(said(f"part.{layer.part}") for layer in kind.layers if layer.preparation != "dimple")
    return drilled(kind.name, kind.hole, layout, only_in=Listed(now)) if now else None


def _prepare(layout: Layout, kinds: tuple[_Kind, ...]) -> Step:
    flush = [kind for kind in kinds if kind.is_flush]
    has_rivet = any(kind.hole.kind == "rivet" for kind in flush)
    is_hot = any(part.alloy == "7075" for part in layout.parts)
    lines = [trial_line({kind.hole.kind for kind in flush})]
    lines += [layer_line(kind.name, kind.layers, kind.hole, layout) for kind in flush]
    lines += [line(not_shown(kind.name, lack)) for kind in flush for lack in lacks_of(kind.layers)]
    depth, hot = ["depth_check"] if has_rivet else [], ["hot_dimple_materials"] if is_hot else []
    lines += map(asked, ("rule_head_vs_sheet", *depth, "dimple_cracks", "flush_head_level", *hot))
    before = (_hole_before_dimple(kind) for kind in flush if kind.is_dimpled)
    return Step(said("card.prepare.title"), tuple(lines), (said("card.prepare.trial_done"), *before))


def _hole_before_dimple(kind: _Kind) -> Value:
    drills = dict.fromkeys(str(layer.before_dimple) for layer in kind.layers if layer.before_dimple)
    id = "card.prepare.hole_before_dimple_of" if drills else "card.prepare.hole_before_dimple"
    return said(id, kind=kind.name, drills=Listed(tuple(drills), ","))


def _after_dimple(kind: _Kind, layout: Layout) -> Line:
    found = drilled(kind.name, kind.hole, layout)
    if any(layer.after_dimple for layer in kind.layers):
        return found
    return Line((*found.words, said("card.dimpled.only_tight")), found.rests_on)
