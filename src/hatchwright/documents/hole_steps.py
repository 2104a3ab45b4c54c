"""Steps of the work card for the holes: pilot, open, dimple or countersink, and open what was dimpled."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hatchwright.documents.step import Step, cited, led_holes, quoted
from hatchwright.drawings.figures import Unit, figure, unit_of
from hatchwright.drawings.hole_table import drills_of, fastener_words
from hatchwright.drawings.template_holes_view import spans
from hatchwright.errors import TableError
from hatchwright.layout.layout import Hole, Layout
from hatchwright.making.hole_work import LayerWork, hole_work, lacks_of
from hatchwright.making.making import Making
from hatchwright.tables.countersink import countersink_diameter
from hatchwright.tables.rivets import hole_range
from hatchwright.tables.table import ShopTables
from hatchwright.units import length_words
from hatchwright.words.tell import tell

TRIAL = (
    "Try it first on scrap of the same sheets, drilled and prepared in the same order, with the {} itself set in it: "
    "its head lies level, and no crack shows under a 10x glass. [common practice, no source]"
)
"""How a dimple or a countersink is proved before the part is touched, by the fastener that it is for."""


@dataclass(frozen=True, slots=True)
class _Kind:
    """Holes of one fastener that are made in one way; named by its rows where the same fastener is made in others."""

    words: str
    name: str
    hole: Hole
    layers: tuple[LayerWork, ...]
    count: int

    @property
    def is_flush(self) -> bool:
        return any(layer.preparation != "plain" for layer in self.layers)

    @property
    def is_open(self) -> bool:
        """Whether it is not said how a sheet takes the head, so that no drill after the pilot can be named."""
        return any(not layer.preparation for layer in self.layers)

    @property
    def is_dimpled(self) -> bool:
        return any(layer.preparation == "dimple" for layer in self.layers)


def hole_steps(layout: Layout, making: Making | None) -> Iterator[Step]:
    """How every hole is made, up to its finished size, in the order that each sheet asks for.

    Yields:
        Step: those that apply to the job.
    """
    if not layout.holes:
        return
    unit, kinds = unit_of(layout.job), _kinds(layout)
    led = {one.hole.number for one in led_holes(making)}
    if led or layout.job.doubler is not None:
        yield _mark(layout, led)
    yield _pin_and_drill(layout, kinds)
    yield _open(layout, kinds, unit)
    if any(kind.is_flush for kind in kinds):
        yield _prepare(layout, kinds, unit)
    if dimpled := [kind for kind in kinds if kind.is_dimpled]:
        yield Step(
            "Open the dimpled holes to the final size, and judge them",
            tuple(_after_dimple(kind, layout, unit) for kind in dimpled),
            ("holes over size, numbers",),
        )


def _mark(layout: Layout, led: set[int]) -> Step:
    """What of the skin is not piloted through the template, and how all of it gets into the doubler."""
    others = {hole.number for hole in layout.holes if "skin" in hole.stack} - led
    lines = []
    if led:
        lines.append(f"Piloted through the template already: no. {spans(led)}. Mark none of them again.")
    if others:
        lines.append(
            f"Mark {f'no. {spans(others)}' if led else 'each hole'} on the skin from both datums, look at "
            f"{'their' if led else 'its'} distance to the edge that is there, and pilot {'them' if led else 'it'}."
        )
    lines.append(
        (
            "Transfer them to the doubler; a doubler can be made again. "
            if layout.job.doubler is not None
            else ""
        )
        + "[common practice, no source]"
    )
    first = "Mark and pilot the skin first" if others else "Look at the pilot holes of the skin"
    then = ", then transfer to the doubler" if layout.job.doubler is not None else ""
    return Step(f"{first}{then}", (*lines, *((quoted("centre_punch"),) if others else ())))


def _kinds(layout: Layout) -> tuple[_Kind, ...]:
    groups: dict[tuple[str, tuple[LayerWork, ...]], list[Hole]] = {}
    for hole in layout.holes:
        groups.setdefault((fastener_words(hole, layout), hole_work(hole, layout)), []).append(hole)
    fasteners = [holes[0].fastener for holes in groups.values()]
    kinds = []
    for (words, layers), holes in groups.items():
        fastener, rows = holes[0].fastener, dict.fromkeys(hole.row for hole in holes)
        in_rows = f" ({', '.join(rows)})" if fasteners.count(fastener) > 1 else ""
        kinds.append(_Kind(f"{words}{in_rows}", f"{fastener}{in_rows}", holes[0], layers, len(holes)))
    return tuple(kinds)


def _pin_and_drill(layout: Layout, kinds: tuple[_Kind, ...]) -> Step:
    stay = "What is dimpled stays at the drill before the dimple until then."
    return Step(
        "Pin and match-drill outward",
        (
            *(f"{kind.count} x {kind.words}." for kind in kinds),
            *((stay,) if any(kind.is_dimpled for kind in kinds) else ()),
            quoted("pilot_practice"),
            quoted("drill_from_centre_out"),
            f"A temporary fastener in one of {layout.limit('temporary_fastener_every_min').value:g} to "
            f"{layout.limit('temporary_fastener_every_max').value:g} holes, no screws as clamps. "
            f"{quoted('backing_block')}",
        ),
    )


def _open(layout: Layout, kinds: tuple[_Kind, ...], unit: Unit) -> Step:
    """The final size of every sheet that is not dimpled; those that are keep their small hole."""
    deburr = layout.limit("deburr_depth_max_fraction")
    lines = [line for kind in kinds if (line := _open_words(kind, layout, unit))]
    return Step(
        "Open to the final size, take apart, deburr" if lines else "Take apart, deburr",
        (
            *lines,
            f"{quoted('hole_round_straight_crack_free')} Deburr no deeper than {deburr.value:.0%} of the sheet, nor "
            f"than {figure(layout.limit('deburr_depth_max_abs').value, unit)} {unit}. "
            f"{cited(deburr.source, deburr.grade)}",
        ),
        ("holes over size, numbers",) if lines else (),
    )


def _open_words(kind: _Kind, layout: Layout, unit: Unit) -> str:
    if kind.is_open:
        return f"{kind.name}: stays at the pilot until it is said how its head is taken."
    if not kind.is_dimpled:
        return f"{_final_words(kind, layout, unit)}{_range_words(kind.hole, layout.shop, unit)}."
    now = [layer.part for layer in kind.layers if layer.preparation != "dimple"]
    return f"{_final_words(kind, layout, unit)}, in the {' and the '.join(now)} alone." if now else ""


def _final_words(kind: _Kind, layout: Layout, unit: Unit) -> str:
    final = drills_of(kind.hole, layout).final
    return f"{kind.name}: " + (f"final drill {final.words(unit)}" if final else "drill not listed")


def _range_words(hole: Hole, shop: ShopTables | None, unit: Unit) -> str:
    """Between what the finished hole of a rivet must lie; nothing for a screw's."""
    return "" if hole.kind == "screw" else f", {rivet_range(hole.diameter_in, shop, unit)}"


def rivet_range(diameter_in: float, shop: ShopTables | None, unit: Unit) -> str:
    """Between what the finished hole of a rivet must lie.

    Returns:
        str: with its source.
    """
    try:
        found = hole_range(diameter_in, shop)
    except TableError:
        return "no hole limits are listed for this rivet"
    low, high = figure(found.least_in, unit), figure(found.greatest_in, unit)
    return f"finished hole {low} to {high} {unit} {cited(found.source, found.grade)}"


def _prepare(layout: Layout, kinds: tuple[_Kind, ...], unit: Unit) -> Step:
    flush = [kind for kind in kinds if kind.is_flush]
    what = " or ".join(dict.fromkeys(kind.hole.kind for kind in flush))
    return Step(
        "Dimple or countersink",
        (
            TRIAL.format(what),
            *(_kind_words(kind, layout.shop, unit) for kind in flush),
            *(
                f"NOT SHOWN of {kind.name}: {tell(said, unit)}"
                for kind in flush
                for said in lacks_of(kind.layers)
            ),
            quoted("rule_head_vs_sheet"),
            *((quoted("depth_check"),) if any(kind.hole.kind == "rivet" for kind in flush) else ()),
            quoted("dimple_cracks"),
            quoted("flush_head_level"),
            *((quoted("hot_dimple_materials"),) if any(p.alloy == "7075" for p in layout.parts) else ()),
        ),
        (
            "trial on scrap, heads level",
            *(f"hole before the dimple, {kind.name}{_expected(kind)}" for kind in flush if kind.is_dimpled),
        ),
    )


def _kind_words(kind: _Kind, shop: ShopTables | None, unit: Unit) -> str:
    layers = "; ".join(layer_words(layer, kind.hole, shop, unit) for layer in kind.layers)
    return f"{kind.name}: {layers}."


def _expected(kind: _Kind) -> str:
    drills = dict.fromkeys(str(layer.before_dimple) for layer in kind.layers if layer.before_dimple)
    return f" ({', '.join(drills)})" if drills else ""


def layer_words(layer: LayerWork, hole: Hole | None, shop: ShopTables | None, unit: Unit) -> str:
    """How one sheet takes a head.

    Args:
        hole: of the layout; None for one that is not numbered.
    Returns:
        str: such as ``skin .032 dimpled from a #32 hole (as entered)``.
    """
    sheet, why = (
        f"{layer.part} {length_words(layer.thickness_in, unit)}",
        f" ({tell(layer.why, unit)})",
    )
    if layer.preparation == "dimple":
        before = layer.before_dimple
        note = next(
            (f", {step.note}" for step in layer.steps if step.operation == "dimple" and step.note), ""
        )
        return f"{sheet} dimpled from {f'a {before} hole' if before else 'the hole that the trial gave'}{note}{why}"
    if layer.preparation == "countersink":
        return f"{sheet} countersunk after the final drill{_across(hole, shop, unit)}{why}"
    return f"{sheet} not said how{why}"


def _across(hole: Hole | None, shop: ShopTables | None, unit: Unit) -> str:
    """The diameter of a countersink, where it is listed; else the trial with the fastener gives it."""
    if hole is not None and hole.kind == "rivet":
        try:
            found = countersink_diameter(hole.diameter_in, shop)
        except TableError:
            pass
        else:
            low, high = figure(found.least_in, unit), figure(found.greatest_in, unit)
            return f", {low} to {high} {unit} across {cited(found.source, found.grade)}"
    return ", as deep as the trial gave"


def _after_dimple(kind: _Kind, layout: Layout, unit: Unit) -> str:
    said = f"{_final_words(kind, layout, unit)}{_range_words(kind.hole, layout.shop, unit)}"
    is_opened = any(layer.after_dimple for layer in kind.layers)
    return f"{said}." if is_opened else f"{said}. The dimple opens it: drill only a hole that is still tight."
