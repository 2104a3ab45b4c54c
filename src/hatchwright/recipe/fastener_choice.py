"""What to drill and drive for each kind of hole: sizes, lengths and drills, documents side by side."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from contextlib import suppress
from typing import TypeVar

from msgspec import Struct

from hatchwright.errors import TableError
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.rivet_length import RivetLength, ShopHead, rivet_length
from hatchwright.recipe.hole_drills import final_drills
from hatchwright.recipe.sheet_work import LayerWork, hole_work, lacking, lacks_of
from hatchwright.recipe.spares import Ordered, spares_for
from hatchwright.said import Amount, Listed, Said, inch, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.countersink import dimple_spread
from hatchwright.tables.drills import Drill
from hatchwright.tables.driven_heads import DrivenHead, driven_head_limits
from hatchwright.tables.limits import limit
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.tables.rivets import hole_drill, hole_range, next_rivet_diameter
from hatchwright.tables.table import ShopTables
from hatchwright.tables.temporary_fasteners import TemporaryFastener, loose_over_in, temporary_fastener
from hatchwright.units import Unit
from hatchwright.workings import Quantity, Working

_Found = TypeVar("_Found")


class DiameterReading(Struct, frozen=True):
    """What one document says of a rivet's diameter: in words, and worked out for the thickest sheet."""

    says: Said
    working: Working


class HeldBy(Struct, frozen=True):
    """A temporary fastener for a hole.

    Args:
        loose_over_in: the greatest hole that it is meant for, where the hole is larger; None where it fits [in].
    """

    fastener: TemporaryFastener
    loose_over_in: float | None


class RivetChoice(Ordered, frozen=True):
    """One kind of rivet through one stack.

    Args:
        diameters: what each document says of the diameter; empty when they end below the sheet.
        calculated_in: length by formula [in].
        final_drills: as a rule one, the largest first; none while that of a sheet is not known.
        hole_range_in: least and greatest finished hole [in]; None when none is listed.
        spreads: how far dimpling opens the holes of the sheets that are dimpled, each said once.
    """

    part: RivetPart
    holes: tuple[int, ...]
    layers: tuple[LayerWork, ...]
    grip_in: float
    diameters: tuple[DiameterReading, ...]
    calculated_in: float
    lengths: tuple[ShopHead, ...]
    final_drills: tuple[Drill, ...]
    hole_range_in: tuple[float, float] | None
    next_size_in: float | None
    heads: tuple[DrivenHead, ...]
    held_by: tuple[HeldBy, ...]
    spreads: tuple[Said, ...]
    lacks: tuple[Said, ...]


class UnlistedRivets(Ordered, frozen=True):
    """One kind of rivet, by its name as entered, that no table lists, through one stack: its size and length are not
    known, nor a drill but those of the job, only the thickness of the stack [in]; `what` says that it is not listed."""

    name: str
    what: Said
    holes: tuple[int, ...]
    layers: tuple[LayerWork, ...]
    grip_in: float


def unlisted_rivets(layout: Layout) -> tuple[UnlistedRivets, ...]:
    """The rivets of a job's rows that no table lists, one for each kind and stack."""
    kinds: dict[tuple[str, tuple[LayerWork, ...]], list[Hole]] = {}
    for hole in layout.holes_of("rivet"):
        if hole.nominal_in is None:
            kinds.setdefault((hole.fastener, hole_work(hole, layout)), []).append(hole)
    found = []
    for (name, layers), holes in kinds.items():
        what, numbers = said("unlisted.rivet", name=name), tuple(hole.number for hole in holes)
        grip_in = sum(layer.thickness_in for layer in layers)
        spares = spares_for(len(holes), layout.shop)
        found.append(UnlistedRivets(len(holes), spares, name, what, numbers, layers, grip_in))
    return tuple(found)


def rivet_choices(layout: Layout) -> tuple[RivetChoice, ...]:
    """The rivets of a job that the tables list, one choice for each kind, stack and way of taking the head,
    in the order of their first hole; what the tables lack is said in each."""
    kinds: dict[tuple[str, tuple[LayerWork, ...]], list[Hole]] = {}
    for hole in layout.holes_of("rivet"):
        if hole.nominal_in is not None:
            kinds.setdefault((hole.fastener, hole_work(hole, layout)), []).append(hole)
    found = []
    for (fastener, layers), holes in kinds.items():
        part, numbers = parse_rivet(fastener), tuple(hole.number for hole in holes)
        grip_in = sum(layer.thickness_in for layer in layers)
        found.append(rivet_choice(part, layers, holes=numbers, grip_in=grip_in, layout=layout))
    return tuple(found)


def rivet_choice(
    part: RivetPart, layers: tuple[LayerWork, ...], *, holes: tuple[int, ...], grip_in: float, layout: Layout
) -> RivetChoice:
    """What the documents say of one kind of rivet."""
    lacks = [*lacks_of(layers)]

    def listed(found: Callable[[], _Found]) -> _Found | None:
        try:
            return found()
        except TableError as error:
            lacks.append(lacking(error))
            return None

    listed(lambda: hole_drill(part.diameter_in, shop=layout.shop))
    drills = final_drills(layer for layer in layers if layer.part != "ears")
    allowed = listed(lambda: hole_range(part.diameter_in, layout.shop))
    thickest_in = max(layer.thickness_in for layer in layers)
    size_in, upset = part.diameter_in, layout.limit("upset_allowance").value
    hole_in = drills[0].diameter_in if drills else size_in
    length = rivet_length(part, grip_in=grip_in, hole_in=hole_in, allowance_ratio=upset)
    next_in = None  # of the largest there is none above, which is nothing that a table lacks
    with suppress(TableError):
        next_in = next_rivet_diameter(part.diameter_in, part.unit, above=True).value
    return RivetChoice(
        count=len(holes),
        spares=spares_for(len(holes), layout.shop),
        part=part,
        holes=holes,
        layers=layers,
        grip_in=grip_in,
        diameters=listed(lambda: diameter_readings(thickest_in, part.unit, layout.shop)) or (),
        calculated_in=length.calculated_in,
        lengths=length.candidates,
        final_drills=drills,
        hole_range_in=(allowed.least_in, allowed.greatest_in) if allowed else None,
        next_size_in=next_in,
        heads=heads_asked(part, layout.shop),
        held_by=held_by(layers, layout.shop),
        spreads=tuple(dict.fromkeys(filter(None, (dimple_opens(layer, layout.shop) for layer in layers)))),
        lacks=tuple(dict.fromkeys(lacks)),
    )


def diameter_readings(
    thickest_in: float, unit: Unit = "in", shop: ShopTables | None = None
) -> tuple[DiameterReading, ...]:
    """What each document says of the diameter for a thickest sheet [in]: the circular's aim, the Navy's
    largest and smallest, and the structural minimum; TableError where no standard rivet is that large."""
    aim, most = limit("diameter_rule", shop), limit("diameter_max_navy", shop)
    least, structural = limit("diameter_min_navy", shop), limit("diameter_min_structural", shop)
    values = (Quantity("t", thickest_in, "in"),)
    aimed_in = next_rivet_diameter(aim.value * thickest_in, unit).value

    def reading(says: str, cited: Cited, formula: str, diameter_in: float) -> DiameterReading:
        result = Quantity("D", diameter_in, "in")
        working = Working.resting_on(cited, formula, result, *values, Quantity("k", cited.value, ""))
        return DiameterReading(said(f"diameter.{says}", times=Amount(cited.value, "")), working)

    return (
        reading("about", aim, "D >= k t, a standard size", aimed_in),
        reading("at_most", most, "D <= k t", most.value * thickest_in),
        reading("at_least", least, "D >= k t", least.value * thickest_in),
        reading("in_structure", structural, "D >= k", structural.value),
    )


def heads_asked(part: RivetPart, shop: ShopTables | None = None) -> tuple[DrivenHead, ...]:
    """What each document asks of the shop head, side by side; empty for a size that none lists."""
    try:
        return driven_head_limits(part.diameter_in, letters=part.letters, shop=shop)
    except TableError:
        return ()


def sizes_asked(head: DrivenHead) -> Listed:
    """Aim, least and greatest size of a shop head, as far as a document says."""
    asks = (
        ("driven_head.target", head.head_aim_in, head.height_aim_in),
        ("driven_head.least", head.head_min_in, head.height_min_in),
        ("driven_head.greatest", head.head_max_in, head.height_max_in),
    )
    which = {
        (True, True): "driven_head.wide_and_high",
        (True, False): "driven_head.wide",
        (False, True): "driven_head.high",
    }
    sizes = tuple(
        said(id, size=said(which[bool(wide), bool(high)], wide=inch(wide or 0.0), high=inch(high or 0.0)))
        for id, wide, high in asks
        if wide or high
    )
    return Listed(sizes, ",")


def missed_by(head: ShopHead, asked: Iterable[DrivenHead]) -> tuple[str, ...]:
    """Names of the documents whose least or greatest diameter a head half a rivet diameter high would miss."""
    return tuple(
        one.document
        for one in asked
        if head.diameter_in < (one.head_min_in or 0.0) - FLOAT_NOISE
        or head.diameter_in > (one.head_max_in or math.inf) + FLOAT_NOISE
    )


def first_to_try(length: RivetLength, asks: Iterable[DrivenHead]) -> ShopHead:
    """The next half step; where its shop head would be outside a document's limits, the longest that meets them all."""
    asked = tuple(asks)
    meets = [head for head in length.candidates if not missed_by(head, asked)]
    return length.next_half if length.next_half in meets or not meets else meets[-1]


def held_by(layers: Iterable[LayerWork], shop: ShopTables | None = None) -> tuple[HeldBy, ...]:
    """The temporary fasteners for the holes that a stack gets on its way, each size once, the smallest first;
    a hole that none is listed for is left out."""
    found: dict[float, HeldBy] = {}
    for hole_in in sorted({step.drill.diameter_in for layer in layers for step in layer.steps if step.drill}):
        with suppress(TableError):
            one = temporary_fastener(hole_in, shop)
            found[one.diameter_in] = HeldBy(one, loose_over_in(hole_in, one, shop))
    return tuple(found[diameter_in] for diameter_in in sorted(found))


def dimple_opens(layer: LayerWork, shop: ShopTables | None = None) -> Said | None:
    """How far dimpling opens the hole of a sheet, with its source, or that a trial piece must give it; None
    where nothing is dimpled."""
    before = layer.before_dimple
    if before is None:
        return None
    try:
        after = dimple_spread(str(before), shop)
    except TableError:
        return said("dimple.not_listed", drill=str(before))
    opened = inch(after.value, fine=True)
    return said("dimple.opens", drill=str(before), opened=opened, source=str(after.source), grade=after.grade)
