"""Rivet dash and shop head: which length for a stack, and the head that each document asks for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from hatchwright.errors import TableError
from hatchwright.finding import held
from hatchwright.job.entry import Entered, SameAs
from hatchwright.job.fasteners import RivetName
from hatchwright.job.rivet_rows import OffsetRow
from hatchwright.job.stack import Sheets, Stacked
from hatchwright.judged import Status
from hatchwright.layout.rivet_length import RivetLength, ShopHead, rivet_length
from hatchwright.recipe.fastener_choice import (
    diameter_readings,
    first_to_try,
    heads_asked,
    missed_by,
    sizes_asked,
)
from hatchwright.remedy import ASK
from hatchwright.rules.rivet_length import heads_by_reading, length_held
from hatchwright.rules.sheet_and_rivet import diameter_held
from hatchwright.rules.spoilt_holes import usual_hole_in
from hatchwright.said import Amount, Listed, Said, Value, inch, said
from hatchwright.tables.driven_heads import DrivenHead
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.words.readings import reading_called
from hatchwright.workflow.quick.answer import Answer, Bench, Quick, Told, listed, told
from hatchwright.workings import Quantity, Working


class RivetAsked(Entered):
    """A rivet and the sheets that it goes through."""

    rivet: Annotated[RivetName, SameAs(OffsetRow, "rivet")]
    sheets: Annotated[Sheets, SameAs(Stacked, "sheets")]


def _answer(asked: RivetAsked, bench: Bench) -> Answer:
    part, grip_in = parse_rivet(asked.rivet), asked.sheets.grip_in
    hole_in = usual_hole_in(part.diameter_in, bench.shop)
    upset = bench.limit("upset_allowance")
    length = rivet_length(part, grip_in=grip_in, hole_in=hole_in, allowance_ratio=upset.value)
    judged = length_held(length, part.diameter_in, hole_in, bench.limit)
    heads = heads_asked(part, bench.shop)
    first = first_to_try(length, heads)
    finding = held("R501", judged, said("quick.rivet.subject", rivet=str(part), first=str(first.rivet)), ASK)
    open_ = [said("quick.rivet.open.hole", hole=inch(hole_in, fine=True)), said("quick.rivet.open.drive_two")]
    if not heads:
        open_.insert(0, said("quick.rivet.open.no_limits", rivet=str(part)))
    size = diameter_held(part, max(asked.sheets.each_in), bench.limit, in_structure=True)
    too_small = said("R401.too_small_for_structure", least=inch(size.limit or 0.0))
    do = too_small if size.status is Status.STOP else said("R401.follow_the_aircraft")
    fits = held("R401", size, said("quick.rivet.against_sheet", rivet=str(part)), do)
    return Answer((finding, fits), tuple(_told(asked, part, length, first, heads, bench)), tuple(open_))


def _told(
    asked: RivetAsked,
    part: RivetPart,
    length: RivetLength,
    first: ShopHead,
    heads: tuple[DrivenHead, ...],
    bench: Bench,
) -> Iterator[Told]:
    upset, names = bench.limit("upset_allowance"), _readings(length)
    d, grip = Quantity("D", part.diameter_in, "in"), Quantity("grip", length.grip_in, "in")
    wanted = Quantity("L", length.calculated_in, "in")
    formula = Working.resting_on(upset, f"L = grip + {upset.value:g} D", wanted, grip, d)
    yield told("rivet.first", str(first.rivet), formula)
    yield told("rivet.calculated", inch(length.calculated_in, fine=True), formula)
    for head in length.candidates:
        id = "rivet.head" if not (missed := missed_by(head, heads)) else "rivet.head_misses"
        value = said(
            "quick.rivet.makes",
            wide=inch(head.diameter_in),
            ratio=Amount(head.diameter_in / part.diameter_in, "D"),
            out=inch(head.protrusion_in),
        )
        called: dict[str, Value] = {"part": str(head.rivet), "readings": Listed(names[head.length_in])}
        called |= {"documents": Listed(missed)} if missed else {}
        yield told(id, value, _by_volume(head, part, length, bench), **called)
    for one in heads:
        sizes = sizes_asked(one)
        wide = one.head_min_in or one.head_aim_in or 0.0
        yield told("rivet.asks", sizes, listed(one, "head", wide), document=one.document)
    yield from _diameters(asked, part, bench)


def _readings(length: RivetLength) -> dict[float, tuple[Said, ...]]:
    """The readings that take each length."""
    found: dict[float, tuple[Said, ...]] = {}
    for name, head in heads_by_reading(length).items():
        found[head.length_in] = (*found.get(head.length_in, ()), reading_called(name))
    return found


def _by_volume(head: ShopHead, part: RivetPart, length: RivetLength, bench: Bench) -> Working:
    return Working.resting_on(
        bench.limit("shop_head_height_nominal"),
        "head = sqrt((D^2 (L - grip) - (hole^2 - D^2) grip) / 0.5 D), half a D high",
        Quantity("head", head.diameter_in, "in"),
        Quantity("L", head.length_in, "in"),
        Quantity("grip", length.grip_in, "in"),
        Quantity("D", part.diameter_in, "in"),
        Quantity("hole", usual_hole_in(part.diameter_in, bench.shop), "in"),
    )


def _diameters(asked: RivetAsked, part: RivetPart, bench: Bench) -> Iterator[Told]:
    """What each document says of the diameter for the thickest sheet."""
    try:
        found = diameter_readings(max(asked.sheets.each_in), part.unit, bench.shop)
    except TableError:
        return
    for one in found:
        size = inch(one.working.result.value, fine=True)
        yield Told(one.says, size, (one.working,))


QUICK = Quick("rivet", RivetAsked, _answer)
