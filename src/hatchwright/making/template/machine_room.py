"""Room for the template: does the blank hold it, does the machine's travel hold it and its clamps."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.judged import FLOAT_NOISE
from hatchwright.units import Unit, length_words

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

    def words(self, unit: Unit) -> str:
        """What is left, in words.

        Returns:
            str: such as ``only .425 in and .725 in to spare: clamps at the edges collide``.
        """
        if not self.holds:
            return f"the template is {length_words(-self.tight_in, unit)} too large"
        spare = f"{length_words(self.tight_in, unit)} and {length_words(self.ample_in, unit)} to spare"
        return spare if self.holds_clamps else f"only {spare}: clamps at the edges collide"


def room_for(outline_in: tuple[float, float], given_in: tuple[float, float]) -> Room:
    """Lay a template on a blank or in a machine.

    Args:
        outline_in: width and height that the template needs [in].
        given_in: width and height that there are [in].
    Returns:
        Room: long side along long side, which is never the worse way for a rectangle.

    >>> room_for((11.375, 6.375), (11.8, 7.1)).words("in")
    'only .425 in and .725 in to spare: clamps at the edges collide'
    """
    spare = [given - needed for needed, given in zip(sorted(outline_in), sorted(given_in), strict=True)]
    return Room(min(spare), max(spare))
