"""Lines at length about one kind of hole: its final drill, its limits, and how each sheet takes the head."""

from __future__ import annotations

from collections.abc import Collection

from hatchwright.documents.countersink_limits import countersunk_across
from hatchwright.documents.step import PRACTICE, Line, line
from hatchwright.layout.layout import Hole, Layout
from hatchwright.recipe.hole_drills import drill_named
from hatchwright.recipe.sheet_work import LayerWork
from hatchwright.said import Listed, Said, Value, inch, said
from hatchwright.tables.countersink import countersink_minimum
from hatchwright.tables.limits import limit
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.table import ShopTables
from hatchwright.words.of_job import said_of
from hatchwright.workings import Rests


def trial_line(kinds: Collection[str]) -> Line:
    """How a dimple or a countersink is proved before the part is touched, by the fastener that it is for."""
    which = "both" if len(kinds) > 1 else next(iter(kinds))
    return line(said(f"card.coupon.set.{which}"), rests_on=(PRACTICE,))


def layer_line(name: Value | None, layers: tuple[LayerWork, ...], hole: Hole | None, layout: Layout) -> Line:
    """How each sheet takes a head.

    Args:
        name: of the fastener, None where the step speaks of one alone.
        hole: of the layout; None for one that is not numbered.
    """
    found = [_layer(layer, layers, hole, layout) for layer in layers]
    work = Listed(tuple(told for told, _ in found), ";")
    id = "card.layer.work" if name is None else "card.layer.work_of"
    return line(said(id, kind=name or "", work=work), rests_on=(one for _, rests in found for one in rests))


def not_shown(name: Value, lack: Said) -> Said:
    """What the tables lack of a hole."""
    return said("card.prepare.not_shown", kind=name, lack=lack)


def _layer(
    layer: LayerWork, layers: tuple[LayerWork, ...], hole: Hole | None, layout: Layout
) -> tuple[Said, list[Rests]]:
    shop = layout.shop
    why, rests_on = _why(layer, hole, shop)
    sheet: dict[str, Value] = {
        "part": said_of(layout.job.kind, said(f"part.{layer.part}")),
        "thickness": inch(layer.thickness_in),
        "why": why,
    }
    if layer.preparation == "dimple":
        note = next((step.note for step in layer.steps if step.operation == "dimple" and step.note), "")
        if layer.before_dimple is None:
            return said("card.layer.dimpled_by_trial", **sheet), rests_on
        id = "card.layer.dimpled_note" if note else "card.layer.dimpled"
        return said(id, drill=drill_named(layer.before_dimple), note=note, **sheet), rests_on
    if layer.preparation != "countersink":
        return said("card.layer.unknown", **sheet), rests_on
    is_rivet = hole is not None and hole.kind == "rivet"
    rivet = parse_rivet(hole.fastener) if hole and is_rivet else None
    across = countersunk_across(rivet, layer, layers, shop) if rivet else None
    if across is not None:
        ends = {"low": inch(across.least_in), "high": inch(across.greatest_in)}
        return said("card.layer.countersunk_to", **ends, **sheet), [*across.rests_on, *rests_on]
    return said("card.layer.countersunk", **sheet), rests_on


def _why(layer: LayerWork, hole: Hole | None, shop: ShopTables | None) -> tuple[Said, list[Rests]]:
    """Why a sheet takes a head so, in the card's words: the sources stand with those of the step."""
    name = layer.why.id.removeprefix("head.")
    told = Said(f"card.why.{name}", layer.why.values)
    if not name.startswith("by_thickness"):
        return told, []
    rests_on: list[Rests] = [limit("dimple_best_max_thickness", shop)]
    if hole is not None and name == "by_thickness":
        rests_on.append(countersink_minimum(hole.diameter_in, shop))
    return told, rests_on
