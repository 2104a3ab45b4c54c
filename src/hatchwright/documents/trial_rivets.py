"""Rivets on the trial sheet: the lengths in the order in which they are tried, and what the shop head must measure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hatchwright.documents.rivet_lengths import first_ear_length, first_lengths
from hatchwright.documents.rivet_steps import shop_head_limits
from hatchwright.documents.trial_row import TrialRow, TrialSection
from hatchwright.layout.layout import Layout
from hatchwright.recipe.cover_hardware import cover_hardware
from hatchwright.recipe.fastener_choice import unlisted_rivets
from hatchwright.said import Listed, Said, Value, inch, said
from hatchwright.tables.driven_heads import DrivenHead
from hatchwright.tables.rivet_part import RivetPart


def rivet_section(layout: Layout) -> TrialSection | None:
    """What two rivets of each kind must look like on scrap of the same stack; None without rivets."""
    rows = (*_rows(layout), *_ear_rows(layout))
    if not rows:
        return None
    feeler = said("trial_sheet.seated.must", feeler=inch(layout.limit("head_gap_feeler").value))
    seated = TrialRow(said("trial_sheet.seated"), feeler, is_measured=False)
    cracks = TrialRow(said("trial_sheet.driven"), said("trial_sheet.driven.must"), is_measured=False)
    how = said("trial_sheet.rivets.how"), said("card.rivet.comes_short")
    return TrialSection(said("trial_sheet.rivets"), how, (*rows, seated, cracks))


def _rows(layout: Layout) -> Iterator[TrialRow]:
    for one in first_lengths(layout):
        first, *others = [head.rivet for head in one.in_order]
        yield _length(one.hole.fastener, one.length.grip_in, first, others)
        yield from _head(one.hole.fastener, one.asks)
    for rivets in unlisted_rivets(layout):
        must = said("trial_sheet.length.not_known")
        yield TrialRow(_of(rivets.name, rivets.grip_in), must)


def _ear_rows(layout: Layout) -> Iterator[TrialRow]:
    """The rivets of the nutplates."""
    hardware = cover_hardware(layout)
    choice = hardware.rivets.choice if hardware and hardware.rivets else None
    if choice is None:
        return
    first, name = first_ear_length(choice), str(choice.part)
    if first is None:
        yield TrialRow(_of(name, choice.grip_in), said("trial_sheet.length.not_known"))
        return
    others = [head.rivet for head in choice.lengths if head.length_in > first.length_in]
    yield _length(name, choice.grip_in, first.rivet, others)
    yield from _head(name, choice.heads)


def _of(rivet: str, grip_in: float) -> Said:
    return said("trial_sheet.length", rivet=rivet, grip=inch(grip_in))


def _length(rivet: str, grip_in: float, first: RivetPart, others: Sequence[RivetPart]) -> TrialRow:
    """The first length to try, and the next ones in order."""
    if not others:
        return TrialRow(_of(rivet, grip_in), said("trial_sheet.length.start", first=str(first)))
    then = Listed(tuple(one.length_called for one in others), ",")
    return TrialRow(_of(rivet, grip_in), said("trial_sheet.length.then", first=str(first), others=then))


def _head(rivet: str, asks: Sequence[DrivenHead]) -> Iterator[TrialRow]:
    """What holds in every document; each document's own where no head can be within all of them."""
    if not asks:
        yield TrialRow(said("trial_sheet.head", rivet=rivet), said("trial_sheet.head.not_listed"))
        return
    limits = shop_head_limits(asks)
    if limits is not None:
        yield from _sizes(rivet, limits)
        return
    for one in asks:
        yield from _sizes(
            said("trial_sheet.by", rivet=rivet, document=one.document), shop_head_limits([one]) or []
        )


def _sizes(rivet: Value, limits: Sequence[Said]) -> Iterator[TrialRow]:
    """Diameter and height, each a line of its own."""
    for size in ("diameter", "height"):
        begins = f"card.head.{size}_"
        ends = (
            Said(f"trial_sheet.head.{one.id.removeprefix(begins)}", one.values)
            for one in limits
            if one.id.startswith(begins)
        )
        if told := tuple(ends):
            must = said("trial_sheet.head.must", limits=Listed(told, ","))
            yield TrialRow(said(f"trial_sheet.head_size.{size}", rivet=rivet), must)
