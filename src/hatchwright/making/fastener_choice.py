"""What to drill and drive for each kind of hole: sizes, lengths and drills, documents side by side."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from hatchwright.errors import TableError
from hatchwright.layout.layout import Hole, Layout, PartName
from hatchwright.layout.rivet_length import ShopHead, rivet_length
from hatchwright.making.hole_aids import dimple_opens, heads_asked, held_by
from hatchwright.making.hole_work import LayerWork, hole_work, lacking, lacks_of
from hatchwright.said import Amount, Said, said
from hatchwright.tables.cited import Cited
from hatchwright.tables.driven_heads import DrivenHead
from hatchwright.tables.limits import limit
from hatchwright.tables.rivets import RivetPart, hole_drill, hole_range, next_rivet_diameter, parse_rivet
from hatchwright.tables.table import ShopTables
from hatchwright.tables.temporary_fasteners import TemporaryFastener
from hatchwright.workings import Quantity, Working

SPARE_RATIO = 0.1
LEAST_SPARES = 5
"""Spares: a tenth more, at least five; common practice, no source."""

_Found = TypeVar("_Found")


def with_spares(count: int) -> int:
    """How many to order.

    Args:
        count: how many the job takes.
    Returns:
        int: with a tenth more, and five more at least.

    >>> with_spares(14), with_spares(64)
    (19, 71)
    """
    return count + max(LEAST_SPARES, -(-count // round(1.0 / SPARE_RATIO)))


@dataclass(frozen=True, slots=True)
class DiameterReading:
    """What one document says of a rivet's diameter: in words, and worked out for the thickest sheet."""

    says: Said
    working: Working


@dataclass(frozen=True, slots=True)
class RivetChoice:
    """One kind of rivet through one stack.

    Args:
        part: part number without the length.
        holes: their numbers.
        layers: each sheet from outside.
        grip_in: thickness of the stack [in].
        diameters: what each document says of the diameter; empty when they end below the sheet.
        calculated_in: length by formula [in].
        lengths: stock lengths, each with the shop head it would make.
        drill: final drill, by name, with its diameter [in]; None when none is listed.
        hole_range_in: least and greatest finished hole [in]; None when none is listed.
        next_size_in: next oversize, None when there is none [in].
        heads: what each document asks of the shop head.
        held_by: temporary fasteners for its holes, the smallest first.
        spreads: how far dimpling opens the holes of the sheets that are dimpled, each said once.
        lacks: what the tables don't say of it, with what to do.
    """

    part: RivetPart
    holes: tuple[int, ...]
    layers: tuple[LayerWork, ...]
    grip_in: float
    diameters: tuple[DiameterReading, ...]
    calculated_in: float
    lengths: tuple[ShopHead, ...]
    drill: tuple[str, float] | None
    hole_range_in: tuple[float, float] | None
    next_size_in: float | None
    heads: tuple[DrivenHead, ...]
    held_by: tuple[TemporaryFastener, ...]
    spreads: tuple[Said, ...]
    lacks: tuple[Said, ...]

    def numbered(self, head: ShopHead) -> str:
        """Part number in one of its lengths."""
        return f"{self.part}-{head.dash:g}"

    @property
    def order(self) -> int:
        """How many to order, spares with them."""
        return with_spares(len(self.holes))


@dataclass(frozen=True, slots=True)
class UnlistedRivets:
    """One kind of rivet that no table lists, through one stack: its size, drills and length are not known.

    Args:
        name: as it is entered.
        what: that it is not listed.
        count: how many the job takes.
        holes: their numbers.
        grip_in: thickness of the stack [in].
    """

    name: str
    what: Said
    count: int
    holes: tuple[int, ...]
    grip_in: float

    @property
    def order(self) -> int:
        """How many to order, spares with them."""
        return with_spares(self.count)


def unlisted_rivets(layout: Layout) -> tuple[UnlistedRivets, ...]:
    """The rivets of a job's rows that no table lists, one for each kind and stack."""
    thickness = {part.name: part.thickness_in for part in layout.parts}
    kinds: dict[tuple[str, tuple[PartName, ...]], list[Hole]] = {}
    for hole in layout.holes_of("rivet"):
        if hole.nominal_in is None:
            kinds.setdefault((hole.fastener, hole.stack), []).append(hole)
    return tuple(
        UnlistedRivets(
            name,
            said("unlisted.rivet", name=name),
            len(holes),
            tuple(hole.number for hole in holes),
            sum(thickness[part] for part in stack),
        )
        for (name, stack), holes in kinds.items()
    )


def rivet_choices(layout: Layout) -> tuple[RivetChoice, ...]:
    """The rivets of a job that the tables list, one choice for each kind, stack and way of taking the head.

    Returns:
        tuple: in the order of their first hole; what the tables lack is said in each.
    """
    kinds: dict[tuple[str, tuple[LayerWork, ...]], list[Hole]] = {}
    for hole in layout.holes_of("rivet"):
        if hole.nominal_in is None:
            continue
        kinds.setdefault((hole.fastener, hole_work(hole, layout)), []).append(hole)
    return tuple(
        rivet_choice(
            parse_rivet(fastener),
            layers,
            holes=tuple(hole.number for hole in holes),
            grip_in=sum(layer.thickness_in for layer in layers),
            layout=layout,
        )
        for (fastener, layers), holes in kinds.items()
    )


def rivet_choice(
    part: RivetPart, layers: tuple[LayerWork, ...], *, holes: tuple[int, ...], grip_in: float, layout: Layout
) -> RivetChoice:
    """What the documents say of one kind of rivet.

    Args:
        part: part number without the length.
        layers: each sheet from outside.
        holes: their numbers.
        grip_in: thickness of the stack [in].
    Returns:
        RivetChoice: with what the tables lack.
    """
    lacks = [*lacks_of(layers)]

    def listed(found: Callable[[], _Found]) -> _Found | None:
        try:
            return found()
        except TableError as error:
            lacks.append(lacking(error))
            return None

    drill = listed(lambda: hole_drill(part.diameter_in, shop=layout.shop))
    allowed = listed(lambda: hole_range(part.diameter_in, layout.shop))
    thickest_in = max(layer.thickness_in for layer in layers)
    length = rivet_length(
        grip_in=grip_in,
        diameter_in=part.diameter_in,
        hole_in=drill.diameter_in if drill else part.diameter_in,
        allowance_ratio=layout.limit("upset_allowance").value,
    )
    try:
        next_in = next_rivet_diameter(part.diameter_in, above=True).value
    except TableError:
        next_in = None
    return RivetChoice(
        part=part,
        holes=holes,
        layers=layers,
        grip_in=grip_in,
        diameters=listed(lambda: diameter_readings(thickest_in, layout.shop)) or (),
        calculated_in=length.calculated_in,
        lengths=length.candidates,
        drill=(str(drill), drill.diameter_in) if drill else None,
        hole_range_in=(allowed.least_in, allowed.greatest_in) if allowed else None,
        next_size_in=next_in,
        heads=heads_asked(part, layout.shop),
        held_by=held_by(layers, layout.shop),
        spreads=tuple(dict.fromkeys(filter(None, (dimple_opens(layer, layout.shop) for layer in layers)))),
        lacks=tuple(dict.fromkeys(lacks)),
    )


def diameter_readings(thickest_in: float, shop: ShopTables | None = None) -> tuple[DiameterReading, ...]:
    """What each document says of the diameter for a thickest sheet.

    Args:
        thickest_in: thickest sheet of the stack [in].
    Returns:
        tuple: the circular's aim, the Navy's largest and smallest, and the structural minimum.
    Raises:
        TableError: no standard rivet is that large.
    """
    aim, most = limit("diameter_rule", shop), limit("diameter_max_navy", shop)
    least, structural = limit("diameter_min_navy", shop), limit("diameter_min_structural", shop)
    values = (Quantity("t", thickest_in, "in"),)
    aimed_in = next_rivet_diameter(aim.value * thickest_in).value

    def reading(says: str, cited: Cited, formula: str, diameter_in: float) -> DiameterReading:
        result = Quantity("D", diameter_in, "in")
        working = Working(
            formula, (*values, Quantity("k", cited.value, "")), result, cited.source, cited.grade
        )
        return DiameterReading(said(f"diameter.{says}", times=Amount(cited.value, "")), working)

    return (
        reading("about", aim, "D >= k t, a standard size", aimed_in),
        reading("at_most", most, "D <= k t", most.value * thickest_in),
        reading("at_least", least, "D >= k t", least.value * thickest_in),
        reading("in_structure", structural, "D >= k", structural.value),
    )
