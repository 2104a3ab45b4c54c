"""The hardware that a job takes: rivets, screws and nuts by their public numbers, with spares."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hatchwright.documents.mount_steps import SCREWS as BASE_SCREWS
from hatchwright.documents.rivet_lengths import first_ear_length, first_lengths
from hatchwright.errors import TableError
from hatchwright.job.fasteners import Screws, cover_nuts
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.named import head_named, nut_named
from hatchwright.recipe.cover_hardware import CoverHardware, cover_hardware
from hatchwright.recipe.spares import Ordered, spares_for
from hatchwright.said import Listed, Said, Value, inch, said
from hatchwright.tables.nutplates import CLIP_NUTS, NUTPLATE_FAMILIES, NUTPLATE_THREADS
from hatchwright.tables.rivet_part import RivetPart
from hatchwright.tables.screws import SCREW_FAMILIES, screw_size
from hatchwright.tables.table import Record, ShopTables
from hatchwright.workings import Grade

_FAMILY_HEADS = {"100 degree flush": "100 deg flat", "pan": "pan", "washer": "washer"}
"""A head as a job enters it, and as the families of screws name it."""

_SURE = (Grade.PUBLISHED, Grade.SHOP)


class PartLine(Ordered, frozen=True):
    """Hardware of one kind.

    Args:
        item: what it is.
        number: of a public standard, or the shop's own; "" where none is known.
        description: what tells it from others.
        holes: numbers of the holes that it goes through; empty for what goes through none of its own.
    """

    item: Said
    number: str
    description: Value
    holes: tuple[int, ...] = ()


def parts_list(layout: Layout) -> tuple[PartLine, ...]:
    """The hardware of one side of a job; a hole is counted once, by what goes through it."""
    return (*_rivets(layout), *_cover(layout), *_mount(layout), *_edging(layout))


def standard_number(part: RivetPart) -> str:
    """The part number of a rivet; "" for one in millimeters, which has none of its own here."""
    return str(part) if part.unit == "in" else ""


def _rivets(layout: Layout) -> Iterator[PartLine]:
    """The rivets of each kind and thickness of its stack, in the length that they are started with."""
    thickness = {part.name: part.thickness_in for part in layout.parts}
    firsts = {(one.hole.fastener, round(one.length.grip_in, 6)): one for one in first_lengths(layout)}
    groups: dict[tuple[str, float], list[Hole]] = {}
    for hole in layout.holes_of("rivet"):
        grip_in = sum(thickness[name] for name in hole.stack)
        groups.setdefault((hole.fastener, round(grip_in, 6)), []).append(hole)
    for (fastener, grip_in), holes in groups.items():
        first = firsts.get((fastener, grip_in))
        numbers, item = tuple(hole.number for hole in holes), said("lists.rivet")
        count, spares, grip = len(holes), spares_for(len(holes), layout.shop), inch(grip_in)
        if first is None:
            told = said("lists.rivet.not_listed", rivet=fastener, grip=grip)
            yield PartLine(count, spares, item, "", told, numbers)
            continue
        part, others = first.head.rivet, tuple(one.rivet.length_called for one in first.in_order[1:])
        told = _rivet_said(part, grip_in)
        if others:
            told = said("lists.rivet.or", rivet=told, lengths=Listed(others, "or"))
        yield PartLine(count, spares, item, standard_number(part), told, numbers)


def _rivet_said(part: RivetPart, grip_in: float) -> Said:
    """Alloy, head and grip; one in millimeters, which has no number of its own here, by its size too."""
    told = said("lists.rivet.grip", alloy=part.alloy.alloy, head=part.head.head, grip=inch(grip_in))
    return told if standard_number(part) else said("lists.rivet.metric", rivet=str(part), words=told)


def _cover(layout: Layout) -> Iterator[PartLine]:
    hardware, cover = cover_hardware(layout), layout.job.cover
    if hardware is None or cover is None or cover.screws is None:
        return
    screws, shop = cover.screws, layout.shop
    count, spares = hardware.screws.count, hardware.screws.spares
    carries = layout.job.skin.stressed and layout.job.loads.cover.carries != "nothing"
    told = _screw_said(hardware, screws, shop, is_structural=carries)
    yield PartLine(count, spares, said("lists.screw"), "", told, hardware.holes)
    number, told = _nut(screws, shop)
    yield PartLine(hardware.nuts.count, hardware.nuts.spares, said("lists.nut"), number, told)
    if washers := hardware.washers:
        told = said("lists.washer.where", washer=washers.name, where=washers.only or "")
        yield PartLine(washers.count, washers.spares, said("lists.washer"), "", told)
    if rivets := hardware.rivets:
        number, told = "", said("lists.nut_rivet.not_entered")
        if rivets.choice:
            first = first_ear_length(rivets.choice)
            part = first.rivet if first else rivets.choice.part
            number, told = standard_number(part) if first else "", _rivet_said(part, rivets.choice.grip_in)
        elif rivets.seat.screws.nut_rivet:
            told = said("lists.not_listed", name=rivets.seat.screws.nut_rivet)
        yield PartLine(rivets.count, rivets.spares, said("lists.nut_rivet"), number, told)


def _screw_said(
    hardware: CoverHardware, screws: Screws, shop: ShopTables | None, *, is_structural: bool
) -> Said:
    """A screw by size, length and head, with the families that have such a head; where the cover carries load, those
    that are meant for structure. No table gives their dash numbers."""
    name = said("lists.screw.of_head", screw=hardware.screws.name, head=head_named(screws))
    if screws.length is None:
        name = said("lists.screw.no_length", screw=name)
    try:
        if screw_size(screws.size, shop).is_metric:
            return name  # the families are sized in inches
    except TableError:
        return said("lists.not_listed", name=name)
    rows = SCREW_FAMILIES.all(shop, head=_FAMILY_HEADS.get(screws.head, screws.head))
    fitting = [row for row in rows if row.is_structural or not is_structural]
    if not fitting:
        return name
    families = Listed(tuple(row.family for row in fitting), "or")
    return said("lists.screw.family", screw=name, families=families, grade=_weakest(fitting))


def _nut(screws: Screws, shop: ShopTables | None) -> tuple[str, Said]:
    """Number and description of the nut: family and dash of its thread, or the shop's own clip nut."""
    name = nut_named(screws)
    if screws.nut not in cover_nuts():
        return "", name
    thread = screws.size.strip().removeprefix("#")
    kind = screws.nutplate
    if kind is None:
        own = CLIP_NUTS.all(shop, thread=thread)
        return (own[0].name if own else "", name)
    families, dashes = NUTPLATE_FAMILIES.all(shop, kind=kind.kind), NUTPLATE_THREADS.all(shop, thread=thread)
    if not (families and dashes):
        return "", name
    grade = _weakest((families[0], dashes[0]))
    told = name if grade in _SURE else said("lists.nut.check", nut=name, grade=grade)
    return f"{families[0].family}{dashes[0].suffix}", told


def _weakest(rows: Sequence[Record]) -> Grade:
    """The grade that rows are worth together."""
    return max((row.grade for row in rows), key=list(Grade).index)


def _mount(layout: Layout) -> Iterator[PartLine]:
    mount = layout.job.mount
    if mount is None:
        return
    yield PartLine(1, 0, said("lists.mount"), "", said("lists.mount.is", kind=mount.kind))
    size = (
        said("lists.base_screw.size", size=mount.screw_size) if mount.screw_size else said("lists.not_known")
    )
    told = said("lists.base_screw.is", size=size)
    yield PartLine(BASE_SCREWS, spares_for(BASE_SCREWS, layout.shop), said("lists.base_screw"), "", told)


def _edging(layout: Layout) -> Iterator[PartLine]:
    """The grommet of a hole that stays open, by the edge that it guards."""
    hole = layout.job.plain_hole
    if hole is not None and hole.edge == "grommet":
        told = said(
            "lists.grommet.is", skin=inch(layout.parts[0].thickness_in), edge=inch(layout.wanted.length_in)
        )
        yield PartLine(1, 0, said("lists.grommet"), "", told)
