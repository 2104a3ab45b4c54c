"""What to drill and drive for each kind of hole: sizes, lengths and drills, documents side by side."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from hatchwright.errors import TableError
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.rivet_length import ShopHead, rivet_length
from hatchwright.making.hole_aids import heads_asked, held_by, spread_words
from hatchwright.making.hole_work import LayerWork, hole_work, lacks_of
from hatchwright.tables.driven_heads import DrivenHead
from hatchwright.tables.limits import limit
from hatchwright.tables.rivets import RivetPart, hole_drill, hole_range, next_rivet_diameter, parse_rivet
from hatchwright.tables.table import ShopTables
from hatchwright.tables.temporary_fasteners import TemporaryFastener
from hatchwright.workings import Grade, Quantity, Source, Working

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
        spreads: how far dimpling opens the hole of each sheet, "" where it is not dimpled.
        lacks: what the tables don't say of it, with what to do.
    """

    part: RivetPart
    holes: tuple[int, ...]
    layers: tuple[LayerWork, ...]
    grip_in: float
    diameters: tuple[Working, ...]
    calculated_in: float
    lengths: tuple[ShopHead, ...]
    drill: tuple[str, float] | None
    hole_range_in: tuple[float, float] | None
    next_size_in: float | None
    heads: tuple[DrivenHead, ...]
    held_by: tuple[TemporaryFastener, ...]
    spreads: tuple[str, ...]
    lacks: tuple[str, ...]

    def numbered(self, head: ShopHead) -> str:
        """Part number in one of its lengths."""
        return f"{self.part}-{head.dash:g}"

    @property
    def order(self) -> int:
        """How many to order, spares with them."""
        return with_spares(len(self.holes))


def rivet_choices(layout: Layout) -> tuple[RivetChoice, ...]:
    """The rivets of a job, one choice for each kind, stack and way of taking the head.

    Returns:
        tuple: in the order of their first hole; what the tables lack is said in each.
    """
    kinds: dict[tuple[str, tuple[LayerWork, ...]], list[Hole]] = {}
    for hole in layout.holes_of("rivet"):
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
    lacks = list(lacks_of(layers))

    def listed(found: Callable[[], _Found]) -> _Found | None:
        try:
            return found()
        except TableError as error:
            lacks.append(f"{error.what}. {error.remedy}")
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
        spreads=tuple(spread_words(layer, layout.shop) for layer in layers),
        lacks=tuple(dict.fromkeys(lacks)),
    )


def diameter_readings(thickest_in: float, shop: ShopTables | None = None) -> tuple[Working, ...]:
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

    def reading(formula: str, diameter_in: float, source: Source, grade: Grade) -> Working:
        return Working(formula, values, Quantity("D", diameter_in, "in"), source, grade)

    return (
        reading(f"D about {aim.value:g} t, next standard size up", aimed_in, aim.source, aim.grade),
        reading(f"D at most {most.value:g} t", most.value * thickest_in, most.source, most.grade),
        reading(f"D at least {least.value:g} t", least.value * thickest_in, least.source, least.grade),
        reading("D at least, in structure", structural.value, structural.source, structural.grade),
    )
