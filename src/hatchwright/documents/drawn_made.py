"""One number as drawn beside the same as made, with what was judged of each."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.judged import Status
from hatchwright.said import Value


class DrawnMade(Struct, frozen=True):
    """One number of a job that what was measured changes.

    Args:
        group: what kind of number it is: id `as_built.group.<group>` heads it.
        what: it is a number of.
        drawn, made: None where only the other is there [unit].
        unit: "in" for lengths, "" for ratios.
        u: expanded uncertainty of the number as made, 0 where none is known [unit].
        was, now: what was judged of each; None where nothing judges it.
    """

    group: str
    what: Value
    drawn: float | None
    made: float | None
    unit: str
    u: float = 0.0
    was: Status | None = None
    now: Status | None = None

    @property
    def change(self) -> float | None:
        """From drawn to made, None where one of them is missing [unit]."""
        return None if self.drawn is None or self.made is None else self.made - self.drawn
