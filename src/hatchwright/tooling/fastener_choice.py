"""What to drill and drive for each kind of hole: sizes, lengths, drills and preparation, documents side by side."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.errors import TableError
from hatchwright.finding import Grade, Quantity, Source, Working
from hatchwright.layout.layout import Hole, Layout, PartName
from hatchwright.layout.rivet_length import ShopHead, rivet_length
from hatchwright.tables.countersink import countersink_minimum
from hatchwright.tables.drill_chain import DrillStep, drill_chain
from hatchwright.tables.limits import limit
from hatchwright.tables.rivets import RivetPart, hole_drill, hole_range, next_rivet_diameter, parse_rivet
from hatchwright.tables.screws import clearance_drill, screw_size
from hatchwright.tables.table import ShopTables

SPARE_RATIO = 0.1
LEAST_SPARES = 5
"""Spares: a tenth more, at least five; common practice, no source."""


@dataclass(frozen=True, slots=True)
class LayerWork:
    """What is done to one sheet for one kind of hole.

    Args:
        part: the sheet.
        thickness_in: its thickness [in].
        preparation: "plain", "dimple" or "countersink"; "" when none is possible.
        why: the limits behind it.
        steps: drills in the order of the work.
    """

    part: PartName
    thickness_in: float
    preparation: str
    why: str
    steps: tuple[DrillStep, ...]


@dataclass(frozen=True, slots=True)
class RivetChoice:
    """One kind of rivet through one stack.

    Args:
        part: part number without the length.
        holes: their numbers.
        layers: each sheet from outside.
        grip_in: thickness of the stack [in].
        diameters: what each document says of the diameter.
        calculated_in: length by formula [in].
        lengths: stock lengths, each with the shop head it would make.
        drill: final drill, by name, with its diameter [in].
        hole_range_in: least and greatest finished hole [in].
        next_size_in: next oversize, None when there is none [in].
    """

    part: RivetPart
    holes: tuple[int, ...]
    layers: tuple[LayerWork, ...]
    grip_in: float
    diameters: tuple[Working, ...]
    calculated_in: float
    lengths: tuple[ShopHead, ...]
    drill: tuple[str, float]
    hole_range_in: tuple[float, float]
    next_size_in: float | None

    def numbered(self, head: ShopHead) -> str:
        """Part number in one of its lengths."""
        return f"{self.part}-{head.dash:g}"

    @property
    def order(self) -> int:
        """How many to order, spares with them."""
        return len(self.holes) + max(LEAST_SPARES, -(-len(self.holes) // round(1.0 / SPARE_RATIO)))


@dataclass(frozen=True, slots=True)
class ScrewChoice:
    """The screws of the cover.

    Args:
        thread: such as "8-32".
        holes: their numbers.
        grip_in: thickness of the stack [in].
        length_in: as entered, None when it was not [in].
        least_length_in: grip and one thread; the nut comes on top [in].
        drill: clearance drill by name, with its diameter [in].
        grade: how far the drill is to be trusted.
        source: where it stands.
    """

    thread: str
    holes: tuple[int, ...]
    grip_in: float
    length_in: float | None
    least_length_in: float
    drill: tuple[str, float]
    grade: Grade
    source: Source


def rivet_choices(layout: Layout) -> tuple[RivetChoice, ...]:
    """The rivets of a job, one choice for each kind and stack.

    Args:
        layout: as derived.
    Returns:
        tuple: in the order of their first hole.
    Raises:
        TableError: a size is not in the tables.
    """
    kinds: dict[tuple[str, tuple[PartName, ...]], list[Hole]] = {}
    for hole in layout.holes_of("rivet"):
        kinds.setdefault((hole.fastener, hole.stack), []).append(hole)
    return tuple(_rivet(layout, holes) for holes in kinds.values())


def _rivet(layout: Layout, holes: list[Hole]) -> RivetChoice:
    part = parse_rivet(holes[0].fastener)
    thickness = {sheet.name: sheet.thickness_in for sheet in layout.parts}
    grip_in = sum(thickness[name] for name in holes[0].stack)
    drill = hole_drill(part.diameter_in, shop=layout.shop)
    allowed = hole_range(part.diameter_in, layout.shop)
    length = rivet_length(
        grip_in=grip_in,
        diameter_in=part.diameter_in,
        hole_in=drill.diameter_in,
        allowance_ratio=layout.limit("upset_allowance").value,
    )
    try:
        next_in = next_rivet_diameter(part.diameter_in, above=True).value
    except TableError:
        next_in = None
    return RivetChoice(
        part=part,
        holes=tuple(hole.number for hole in holes),
        layers=tuple(_layer(layout, part, name) for name in holes[0].stack),
        grip_in=grip_in,
        diameters=diameter_readings(max(thickness[name] for name in holes[0].stack), layout.shop),
        calculated_in=length.calculated_in,
        lengths=length.candidates,
        drill=(str(drill), drill.diameter_in),
        hole_range_in=(allowed.least_in, allowed.greatest_in),
        next_size_in=next_in,
    )


def diameter_readings(thickest_in: float, shop: ShopTables | None = None) -> tuple[Working, ...]:
    """What each document says of the diameter for a thickest sheet.

    Args:
        thickest_in: thickest sheet of the stack [in].
        shop: a shop's own rows, when there are any.
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


def _layer(layout: Layout, rivet: RivetPart, part: PartName) -> LayerWork:
    """Plain for protruding heads; for flush ones a countersink where the sheet is thick enough, else a dimple."""
    shop, sheet = layout.shop, layout.part(part)
    assert sheet is not None  # a hole goes through parts of the layout
    thickness_in = sheet.thickness_in
    if not rivet.is_flush:
        return LayerWork(
            part, thickness_in, "plain", "protruding head", drill_chain(rivet.diameter_in, shop=shop)
        )
    least, dimple = countersink_minimum(rivet.diameter_in, shop), layout.limit("dimple_best_max_thickness")
    why = f"countersink from {least.value:g} [{least.source}], dimple to {dimple.value:g} [{dimple.source}]"
    if thickness_in >= least.value - 1e-9:
        return LayerWork(part, thickness_in, "countersink", why, drill_chain(rivet.diameter_in, shop=shop))
    if thickness_in <= dimple.value + 1e-9:
        steps = drill_chain(rivet.diameter_in, "dimpled", method="undersize", shop=shop)
        return LayerWork(part, thickness_in, "dimple", why, steps)
    return LayerWork(part, thickness_in, "", why, ())


def screw_choice(layout: Layout) -> ScrewChoice | None:
    """The screws of the cover.

    Args:
        layout: as derived.
    Returns:
        ScrewChoice | None: None without screws.
    Raises:
        TableError: the thread is not in the tables.
    """
    holes, cover = layout.holes_of("screw"), layout.job.cover
    if not holes or cover is None or cover.screws is None:
        return None
    thickness = {sheet.name: sheet.thickness_in for sheet in layout.parts}
    grip_in = sum(thickness[name] for name in holes[0].stack)
    size = screw_size(cover.screws.size, layout.shop)
    drill = clearance_drill(cover.screws.size, shop=layout.shop)
    return ScrewChoice(
        thread=size.thread,
        holes=tuple(hole.number for hole in holes),
        grip_in=grip_in,
        length_in=cover.screws.length.inch if cover.screws.length else None,
        least_length_in=grip_in + layout.limit("thread_protrusion").value / size.threads_per_in,
        drill=(str(drill), drill.diameter_in),
        grade=drill.grade,
        source=drill.source,
    )
