"""What the paths of evidence say of one part, side by side: the share of the solid skin that each finds restored."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum
from typing import Literal

from msgspec import Struct

from hatchwright.judged import FLOAT_NOISE
from hatchwright.said import Said
from hatchwright.strength.worked import Worked
from hatchwright.workings import Grade, Source

PartName = Literal["rivets", "doubler", "first_row"]
Direction = Literal["X", "Y", "shear"]
DIRECTIONS: tuple[Direction, ...] = ("X", "Y", "shear")
"""Of load."""


class Agreement(StrEnum):
    """How the paths of one row stand to each other."""

    AGREE = "agree"
    EXPLAINED = "differ, explained"
    OPEN = "differ, open"


class TableCount(Struct, frozen=True):
    """Rivets of one side by the circular's table, with the reading that the job goes by.

    Args:
        side: X+, X-, Y+ or Y-.
        has: rivets that count and are there [-].
        needed: asked for by the reading, rounded up [-].
        share: of the table's rivets that the note of the reading leaves, 1 without one; the whole table stands for the
            solid skin [-].
        reading: key of the reading.
    """

    side: str
    has: int
    needed: int
    share: float
    reading: str
    source: Source
    grade: Grade


class Path(Struct, frozen=True):
    """What one path of evidence finds of a part.

    Args:
        restored: share of the solid skin [-].
        asked: share that it asks for, None where it asks for none [-].
        told: what it stands on, such as "19 of 19 by table 4-10, note c".
    """

    restored: Worked
    asked: float | None
    told: Said

    @property
    def passes(self) -> bool:
        """Whether what is there is as much as is asked for."""
        return self.asked is None or self.restored.value >= self.asked - FLOAT_NOISE

    @property
    def uses(self) -> float:
        """What is asked for over what is there: above 1 it is short; 0 where nothing is asked for [-]."""
        return (self.asked or 0.0) / self.restored.value if self.restored.value > 0.0 else float("inf")


class EvidenceRow(Struct, frozen=True):
    """One part in one direction of load.

    Args:
        circular, hand, elements: the paths in the order of evidence; None where one says nothing.
        bay: what the best of the bay's rows across the load leaves of the solid skin [-]; None where no row is entered
            with pitch and rivet.
        why: where the difference comes from, or that there is none.
    """

    part: PartName
    direction: Direction
    circular: Path | None
    hand: Path | None
    elements: Path | None
    bay: Worked | None
    agreement: Agreement
    why: Said

    @property
    def paths(self) -> tuple[Path, ...]:
        """Those that say something, in the order of evidence."""
        return tuple(path for path in (self.circular, self.hand, self.elements) if path)

    @property
    def is_doubted(self) -> bool:
        """Whether one path is enough and another is short, and no reading, load or hole accounts for it."""
        return self.agreement is Agreement.OPEN and len({path.passes for path in self.paths}) > 1


class Evidence(Struct, frozen=True):
    """The table of evidence and what a mechanic is told of it, the rivets first."""

    rows: tuple[EvidenceRow, ...]
    told: tuple[Said, ...]


NO_EVIDENCE = Evidence((), ())
"""Without loads nothing is compared."""


def least(paths: Sequence[Path]) -> Path | None:
    """The path that is nearest to being short, or the shortest; None without any."""
    return min(paths, key=lambda path: (-path.uses, path.restored.value), default=None)
