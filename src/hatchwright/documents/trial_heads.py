"""Dimples and countersinks on the trial sheet: the hole before the die, what a good one looks like, how wide."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from hatchwright.documents.countersink_limits import countersunk_across
from hatchwright.documents.trial_row import TrialRow, TrialSection
from hatchwright.errors import TableError
from hatchwright.layout.layout import Layout
from hatchwright.recipe.hole_drills import drill_said, final_drills
from hatchwright.recipe.nutplate_seat import nutplate_seat
from hatchwright.recipe.recipe import Recipe
from hatchwright.recipe.sheet_work import LayerWork
from hatchwright.said import Listed, Said, Value, inch, missing, room, said
from hatchwright.tables.countersink import dimple_spread
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.tables.rivets import hole_range
from hatchwright.words.of_job import said_of

_LEVEL = TrialRow(said("trial_sheet.level"), said("trial_sheet.level.must"), is_measured=False)
"""What every flush head must do."""


class FlushKind(Struct, frozen=True):
    """Flush heads whose sheets are prepared in one way.

    Args:
        rivet: None of a screw.
    """

    name: str
    layers: tuple[LayerWork, ...]
    rivet: RivetPart | None

    def of(self, how: str) -> tuple[LayerWork, ...]:
        """The sheets that take the head so."""
        return tuple(layer for layer in self.layers if layer.preparation == how)


def head_sections(layout: Layout, recipe: Recipe) -> Iterator[TrialSection]:
    """What is proved of dimples and of countersinks, where the job has any."""
    kinds = tuple(_flush_kinds(layout, recipe))
    dimples = tuple(row for kind in kinds if kind.of("dimple") for row in _dimples(kind, layout))
    if dimples:
        cracks = TrialRow(said("trial_sheet.cracks"), said("trial_sheet.cracks.must"), is_measured=False)
        how = said("trial_sheet.dimples.how"), said("trial_sheet.dimples.fails")
        yield TrialSection(said("trial_sheet.dimples"), how, (*dimples, cracks, _LEVEL))
    countersinks = tuple(
        row for kind in kinds if kind.of("countersink") for row in _countersinks(kind, layout)
    )
    if countersinks:
        how = said("trial_sheet.countersinks.how"), said("trial_sheet.countersinks.fails")
        yield TrialSection(said("trial_sheet.countersinks"), how, (*countersinks, _LEVEL))


def _flush_kinds(layout: Layout, recipe: Recipe) -> Iterator[FlushKind]:
    """Those of the holes that the tables list, each way once, then that of the rivets of the nutplates."""
    found: dict[FlushKind, None] = {}
    for kind in recipe.kinds:
        hole = kind.holes[0]
        if kind.is_listed and any(layer.preparation in ("dimple", "countersink") for layer in kind.layers):
            rivet = parse_rivet(hole.fastener) if hole.kind == "rivet" else None
            found[FlushKind(hole.fastener, kind.layers, rivet)] = None
    seat = nutplate_seat(layout)
    if seat is not None and seat.rivet is not None and seat.rivet.is_flush:
        found[FlushKind(str(seat.rivet), seat.ear_layers, seat.rivet)] = None
    yield from found


def _dimples(kind: FlushKind, layout: Layout) -> Iterator[TrialRow]:
    by_drill: dict[Value, list[LayerWork]] = {}
    for layer in kind.of("dimple"):
        drill = layer.before_dimple
        by_drill.setdefault(drill_said(drill) if drill else "", []).append(layer)
    for named, layers in by_drill.items():
        parts = _parts(layers, layout)
        must = said("trial_sheet.before.must", drill=named) if named else said("trial_sheet.before.not_known")
        yield TrialRow(said("trial_sheet.before", kind=kind.name, parts=parts), must)
        if opened := _opened(layers[0], layout):
            yield TrialRow(said("trial_sheet.opened", kind=kind.name), opened)
    if kind.rivet is not None and (finished := _finished(kind, kind.rivet.diameter_in, layout)):
        yield TrialRow(said("trial_sheet.finished", kind=kind.name), finished)


def _opened(layer: LayerWork, layout: Layout) -> Said | None:
    """How large the die leaves the hole, where that is listed."""
    if layer.before_dimple is None:
        return None
    try:
        after = dimple_spread(str(layer.before_dimple), layout.shop)
    except TableError:
        return None
    return said("trial_sheet.opened.must", size=inch(after.value, fine=True))


def _finished(kind: FlushKind, diameter_in: float, layout: Layout) -> Said | None:
    """Between what the finished hole of a rivet must lie, and its drill."""
    try:
        allowed = hole_range(diameter_in, layout.shop)
    except TableError:
        return None
    ends = {"least": missing(allowed.least_in), "most": room(allowed.greatest_in)}
    drills = final_drills(layer for layer in kind.layers if layer.part != "ears")
    if not drills:
        return said("trial_sheet.finished.between", **ends)
    return said("trial_sheet.finished.must", drill=drill_said(drills[0]), **ends)


def _countersinks(kind: FlushKind, layout: Layout) -> Iterator[TrialRow]:
    land = layout.limit("machine_countersink_land_min")
    for layer in kind.of("countersink"):
        what = said("trial_sheet.across", kind=kind.name, parts=_parts([layer], layout))
        across = None
        if kind.rivet is not None:
            across = countersunk_across(kind.rivet, layer, kind.layers, layout.shop)
        if across is None:
            yield TrialRow(what, said("trial_sheet.across.by_head"))
        else:
            ends = {"least": missing(across.least_in), "most": room(across.greatest_in)}
            yield TrialRow(what, said("trial_sheet.across.must", **ends))
    must = said("trial_sheet.land.must", least=missing(land.value))
    yield TrialRow(said("trial_sheet.land", kind=kind.name), must)


def _parts(layers: list[LayerWork], layout: Layout) -> Listed:
    """Sheets by name and gauge."""
    job = layout.job
    return Listed(
        tuple(
            said(
                "trial_sheet.sheet",
                part=said_of(job.kind, said(f"part.{layer.part}")),
                thickness=inch(layer.thickness_in),
            )
            for layer in layers
        ),
        "+",
    )
