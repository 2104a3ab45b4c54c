"""Lines of the work card about one kind of hole: its final drill, its limits, and how each sheet takes the head."""

from __future__ import annotations

from collections.abc import Collection

from hatchwright.documents.step import PRACTICE, Line, Sourced, line
from hatchwright.drawings.hole_table import drills_of
from hatchwright.errors import TableError
from hatchwright.layout.layout import Hole, Layout
from hatchwright.making.hole_work import LayerWork
from hatchwright.said import Listed, Said, Value, inch, said
from hatchwright.tables.countersink import countersink_diameter, countersink_minimum
from hatchwright.tables.limits import limit
from hatchwright.tables.rivets import hole_range
from hatchwright.tables.table import ShopTables


def drilled(name: Value, hole: Hole, layout: Layout, *, only_in: Listed | None = None) -> Line:
    """The final drill of a hole, and what its finished size must lie between.

    Args:
        only_in: the sheets that are drilled so, None for all of them.
    """
    final = drills_of(hole, layout).final
    if final is None:
        return line(said("card.to_size.not_known", kind=name))
    if only_in:
        told = said("card.to_size.final_only_in", kind=name, drill=final.said, parts=only_in)
    else:
        told = said("card.to_size.final", kind=name, drill=final.said)
    if hole.kind == "screw" or only_in or hole.nominal_in is None:
        return line(told)
    limits = limits_line(hole.diameter_in, layout.shop)
    return Line((told, *limits.words), limits.rests_on)


def limits_line(diameter_in: float, shop: ShopTables | None) -> Line:
    """Between what the finished hole of a rivet must lie.

    Args:
        diameter_in: of the rivet [in].
    """
    try:
        found = hole_range(diameter_in, shop)
    except TableError:
        return line(said("card.to_size.no_range"))
    low, high = inch(found.least_in), inch(found.greatest_in)
    return line(said("card.to_size.range", low=low, high=high), rests_on=(found,))


def trial_line(kinds: Collection[str]) -> Line:
    """How a dimple or a countersink is proved before the part is touched, by the fastener that it is for."""
    which = "both" if len(kinds) > 1 else next(iter(kinds))
    return line(said("card.coupon.same_sheets"), said(f"card.coupon.set.{which}"), rests_on=(PRACTICE,))


def layer_line(name: Value | None, layers: tuple[LayerWork, ...], hole: Hole | None, layout: Layout) -> Line:
    """How each sheet takes a head.

    Args:
        name: of the fastener, None where the step speaks of one alone.
        hole: of the layout; None for one that is not numbered.
    """
    told: list[Said] = []
    rests_on: list[Sourced] = []
    for layer in layers:
        one, sourced = _layer(layer, hole, layout.shop)
        told.append(one)
        rests_on += sourced
    work = Listed(tuple(told), ";")
    if name is None:
        return line(said("card.layer.work", work=work), rests_on=rests_on)
    return line(said("card.layer.work_of", kind=name, work=work), rests_on=rests_on)


def not_shown(name: Value, lack: Said) -> Said:
    """What the tables lack of a hole."""
    return said("card.prepare.not_shown", kind=name, lack=lack)


def _layer(layer: LayerWork, hole: Hole | None, shop: ShopTables | None) -> tuple[Said, list[Sourced]]:
    why, rests_on = _why(layer, hole, shop)
    part, thickness = said(f"part.{layer.part}"), inch(layer.thickness_in)
    if layer.preparation == "dimple":
        note = next((step.note for step in layer.steps if step.operation == "dimple" and step.note), "")
        if layer.before_dimple is None:
            return said("card.layer.dimpled_by_trial", part=part, thickness=thickness, why=why), rests_on
        drill = str(layer.before_dimple)
        if not note:
            return said("card.layer.dimpled", part=part, thickness=thickness, drill=drill, why=why), rests_on
        return said(
            "card.layer.dimpled_note", part=part, thickness=thickness, drill=drill, note=note, why=why
        ), rests_on
    if layer.preparation != "countersink":
        return said("card.layer.unknown", part=part, thickness=thickness, why=why), rests_on
    if hole is not None and hole.kind == "rivet":
        try:
            found = countersink_diameter(hole.diameter_in, shop)
        except TableError:
            pass
        else:
            low, high = inch(found.least_in), inch(found.greatest_in)
            told = said(
                "card.layer.countersunk_to", part=part, thickness=thickness, low=low, high=high, why=why
            )
            return told, [found, *rests_on]
    return said("card.layer.countersunk", part=part, thickness=thickness, why=why), rests_on


def _why(layer: LayerWork, hole: Hole | None, shop: ShopTables | None) -> tuple[Said, list[Sourced]]:
    """Why a sheet takes a head so, in the card's words: the sources stand with those of the step."""
    name = layer.why.id.removeprefix("head.")
    told = Said(f"card.why.{name}", layer.why.values)
    if not name.startswith("by_thickness"):
        return told, []
    rests_on: list[Sourced] = [limit("dimple_best_max_thickness", shop)]
    if hole is not None and name == "by_thickness":
        rests_on.append(countersink_minimum(hole.diameter_in, shop))
    return told, rests_on
