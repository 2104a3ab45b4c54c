"""Room for the template: does the blank hold it, does the machine's travel hold it and its clamps."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.judged import FLOAT_NOISE
from hatchwright.said import Said, missing, room, said

CLAMP_IN = 0.75
"""Room that a clamp takes at an edge of the blank [in]. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Room:
    """What is left beside a template, in the better of the two ways to lay it.

    Args:
        tight_in: to spare in the tighter direction, negative when it does not fit [in].
        ample_in: to spare in the other direction [in].
    """

    tight_in: float
    ample_in: float

    @property
    def holds(self) -> bool:
        """Whether the template fits at all."""
        return self.tight_in >= -FLOAT_NOISE

    @property
    def holds_clamps(self) -> bool:
        """Whether clamps fit too, at two opposite sides."""
        return self.holds and self.ample_in >= 2.0 * CLAMP_IN - FLOAT_NOISE

    @property
    def words(self) -> Said:
        """What is left."""
        if not self.holds:
            return said("room.too_large", by=missing(-self.tight_in))
        id = "room.spare" if self.holds_clamps else "room.no_clamps"
        return said(id, tight=room(self.tight_in), ample=room(self.ample_in))


def room_for(outline_in: tuple[float, float], given_in: tuple[float, float]) -> Room:
    """Lay a template on a blank or in a machine.

    Returns:
        Room: long side along long side, which is never the worse way for a rectangle.

    >>> found = room_for((11.375, 6.375), (11.8, 7.1))
    >>> round(found.tight_in, 4), round(found.ample_in, 4), found.holds_clamps
    (0.425, 0.725, False)
    """
    spare = [given - needed for needed, given in zip(sorted(outline_in), sorted(given_in), strict=True)]
    return Room(min(spare), max(spare))
