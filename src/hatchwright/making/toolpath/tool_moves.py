"""What a machine is told to do, knowing no words of any control: moves in inches from the blank's corner and top."""

from __future__ import annotations

from msgspec import Struct

Place = tuple[float, float, float]
"""X, Y and Z; Z is 0 at the top of the blank and negative in it [in]."""


class Move(Struct, frozen=True):
    """One move of the tool's tip.

    Args:
        feed_in: None for a quick move that cuts nothing: across at the safe height, or straight up or down, never
            mixed [in/min].
        center: of an arc of at most a half circle, which may rise or sink evenly on the way (x, y); None where the
            move is straight [in].
        is_left: whether an arc turns to the left, counter-clockwise seen from above.
    """

    to: Place
    feed_in: float | None = None
    center: tuple[float, float] | None = None
    is_left: bool = False


class Drilling(Struct, frozen=True):
    """One hole drilled by a cycle of the control, reached at the height where the tool is and left at that height.

    Args:
        at: its center (x, y) [in].
        bottom_in: where the drill's point turns back, negative [in].
        approach_in: height at which feed begins [in].
        peck_in: depth after which it is drawn out to clear, None to drill in one go [in].
        feed_in: feed [in/min].
    """

    at: tuple[float, float]
    bottom_in: float
    approach_in: float
    peck_in: float | None
    feed_in: float
