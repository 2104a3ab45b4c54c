"""Margins of safety: allowable against applied, at ultimate load or at limit load against yield."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.strength.worked import Worked, weakest
from hatchwright.workings import Grade, Source, Working


class Level(StrEnum):
    """The load at which a margin is taken."""

    ULTIMATE = "ultimate"
    LIMIT = "limit, yield"


@dataclass(frozen=True, slots=True)
class Margin:
    """One line of the strength report.

    Args:
        code: stable code of the check, such as ``S201``.
        subject: what is loaded, in the trade's words.
        case: name of the load case.
        level: ultimate, or limit against yield.
        applied: what it carries, factors included; None when it could not be had.
        allowable: what it may carry; None when no value may be used.
        holes: numbers of the holes concerned.
    """

    code: str
    subject: str
    case: str
    level: Level
    applied: Worked | None
    allowable: Worked | None
    advice: str = ""
    holes: tuple[int, ...] = ()

    @property
    def ratio(self) -> float | None:
        """Margin of safety, allowable / applied - 1; None when it cannot be had [-]."""
        if self.applied is None or self.allowable is None:
            return None
        if self.applied.value <= FLOAT_NOISE:
            return float("inf")
        return self.allowable.value / self.applied.value - 1.0

    @property
    def grade(self) -> Grade:
        """The weakest grade that the margin rests on."""
        return (
            weakest(one.grade for one in (self.applied, self.allowable) if one)
            if self.working
            else Grade.MEMORY
        )

    @property
    def source(self) -> Source:
        """Where the allowable's formula is published."""
        known = self.allowable or self.applied
        return known.source if known else Source("STATICS")

    @property
    def status(self) -> Status:
        """Pass at zero or above; a number from memory neither passes nor fails silently."""
        if self.ratio is None:
            return Status.UNKNOWN
        from_memory = self.grade is Grade.MEMORY
        if self.ratio >= -FLOAT_NOISE:
            return Status.CAUTION if from_memory else Status.PASS
        return Status.UNKNOWN if from_memory else Status.STOP

    @property
    def working(self) -> tuple[Working, ...]:
        """Every step behind applied and allowable, once."""
        steps: dict[Working, None] = {}
        for one in (self.applied, self.allowable):
            if one:
                steps |= dict.fromkeys(one.working)
        return tuple(steps)

    @property
    def from_memory(self) -> tuple[Working, ...]:
        """The steps that rest on memory, to be confirmed before the margin is used."""
        return tuple(step for step in self.working if step.grade is Grade.MEMORY)


def leading(margins: tuple[Margin, ...]) -> tuple[Margin, ...]:
    """The lowest margin of every check, and all that stop or cannot be had.

    Args:
        margins: the worst first.
    Returns:
        tuple: in the same order.
    """
    seen: set[str] = set()
    shown = []
    for margin in margins:
        if margin.code not in seen or margin.status in (Status.STOP, Status.UNKNOWN):
            shown.append(margin)
        seen.add(margin.code)
    return tuple(shown)


def worst_first(margins: tuple[Margin, ...]) -> tuple[Margin, ...]:
    """Sort margins: those that cannot be had, then the lowest first.

    Args:
        margins: in any order.
    Returns:
        tuple: sorted.
    """
    return tuple(
        sorted(margins, key=lambda m: (float("-inf") if m.ratio is None else m.ratio, m.code, m.case))
    )
