"""A hand through an opening: what passed a hand, and the opening at true size to try with one's own."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import held
from hatchwright.layout.named import size
from hatchwright.rules.passage import (
    CARDBOARD,
    HAND_OVAL,
    HAND_OVAL_IN,
    HAND_SQUARE,
    HAND_SQUARE_IN,
    hand_held,
)
from hatchwright.said import inch, said
from hatchwright.workflow.quick.answer import Answer, Bench, Quick, Told, TrueSize, listed, told
from hatchwright.workflow.quick.rectangle import RectangleAsked


class HandAsked(RectangleAsked):
    """A clear opening, inside the land where there is one."""


def _answer(asked: HandAsked, bench: Bench) -> Answer:
    opening = asked.loop
    x_min, y_min, x_max, y_max = opening.bounds
    x_in, y_in = x_max - x_min, y_max - y_min
    subject = said("passage.clear_opening", x=inch(x_in), y=inch(y_in))
    finding = held("R303", hand_held(x_in, y_in), subject, CARDBOARD)
    drawn = TrueSize(
        ((said("quick.hand.outline"), opening),), (said("quick.hand.cut_out"), said("quick.hand.tool"))
    )
    open_ = (said("quick.hand.open.corners"), said("quick.hand.open.arm"))
    return Answer((finding,), tuple(_told()), open_, drawn)


def _told() -> Iterator[Told]:
    least, greatest = HAND_OVAL
    yield told(
        "hand.oval",
        size(HAND_OVAL_IN),
        listed(least, "least", least.value),
        listed(greatest, "greatest", greatest.value),
    )
    yield told(
        "hand.square", size((HAND_SQUARE_IN, HAND_SQUARE_IN)), listed(HAND_SQUARE, "side", HAND_SQUARE.value)
    )


QUICK = Quick("hand", HandAsked, _answer)
