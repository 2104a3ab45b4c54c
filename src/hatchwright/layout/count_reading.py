"""The two readings of which rivets carry a load round the opening, and where each comes from."""

from __future__ import annotations

from enum import StrEnum
from functools import cached_property

from hatchwright.tables.instructions import Instruction, instruction

COUNT_RULE = "R602"
"""The rule under which a job chooses between the two; it stands here because strength counts by the same choice."""


class CountReading(StrEnum):
    """Which rivets count on a side of the cut; the value is the name that a job chooses it by."""

    HALF = "all of the half"
    AHEAD = "ahead of the edge"

    @property
    def key(self) -> str:
        """Name of the document's words that count so."""
        return f"count_{self.name.lower()}"

    @cached_property
    def basis(self) -> Instruction:
        """The document that counts so."""
        return instruction(self.key)


def count_readings(*, has_straight_edge: bool) -> tuple[CountReading, CountReading]:
    """Both readings, the default first.

    Args:
        has_straight_edge: whether a straight edge of the opening lies across the load on that side.
    Returns:
        tuple: across a straight edge the stricter comes first, since the tables ask for rivets an inch of such an edge;
            elsewhere all of the half, since no edge lies there to be ahead of.
    """
    both = (CountReading.AHEAD, CountReading.HALF)
    return both if has_straight_edge else both[::-1]
