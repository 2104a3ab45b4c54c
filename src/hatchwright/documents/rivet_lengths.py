"""The one length that rivets of a kind are started with, the same on card, lists and trial sheet."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.rivet_length import RivetLength, ShopHead
from hatchwright.layout.survey import survey
from hatchwright.recipe.fastener_choice import RivetChoice, first_to_try, heads_asked
from hatchwright.rules.rivet_length import heads_by_reading, lengths_needed
from hatchwright.tables.driven_heads import DrivenHead
from hatchwright.tables.rivet_part import parse_rivet


class FirstLength(Struct, frozen=True):
    """What rivets of one kind are started with.

    Args:
        hole: one of theirs.
        length: what the documents make of their grip.
        head: the length to start with, and the shop head that it makes.
        is_chosen: whether the job chooses it.
        asks: what each document asks of the shop head.
    """

    hole: Hole
    length: RivetLength
    head: ShopHead
    is_chosen: bool
    asks: tuple[DrivenHead, ...]

    @property
    def in_order(self) -> tuple[ShopHead, ...]:
        """Every length that a document would choose, in the order in which they are tried: the first, then longer
        ones, then shorter ones."""
        others = [one for one in self.length.candidates if one.length_in != self.head.length_in]
        longer = [one for one in others if one.length_in > self.head.length_in]
        return (self.head, *longer, *reversed([one for one in others if one not in longer]))


def first_lengths(layout: Layout) -> tuple[FirstLength, ...]:
    """The length to start with for each kind of rivet that the tables list and each thickness of its stack."""
    choice = layout.job.choice("R501")
    found: dict[tuple[str, float], FirstLength] = {}
    for hole, length in lengths_needed(survey(layout).listed()):
        chosen = heads_by_reading(length).get(choice.reading) if choice else None
        asks = heads_asked(parse_rivet(hole.fastener), layout.shop)
        head = chosen or first_to_try(length, asks)
        # those that are alike through stacks as thick as one another, such as skin and plug, are told once
        found.setdefault(
            (hole.fastener, round(length.grip_in, 6)),
            FirstLength(hole, length, head, chosen is not None, asks),
        )
    return tuple(found.values())


def first_ear_length(choice: RivetChoice) -> ShopHead | None:
    """The length to start with for the rivets of nutplates; None where none that is made is long enough."""
    return next((one for one in choice.lengths if one.length_in >= choice.calculated_in - FLOAT_NOISE), None)
