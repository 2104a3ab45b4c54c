"""A number that carries how it came about, back to the tables it rests on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hatchwright.said import Said, said
from hatchwright.workings import Grade, Quantity, Source, Working

STATICS = Source("STATICS")
"""For formulas that are equilibrium or elementary strength of materials."""

LOWER_DIRECTION = said("working.lower_direction")
"""Beside a tabulated strength: the grain is not given, so the weaker direction counts."""

TABULATED = said("working.tabulated")

_BY_TRUST = (Grade.PUBLISHED, Grade.COMPUTED, Grade.SHOP, Grade.RESTATED, Grade.PRACTICE, Grade.MEMORY)


@dataclass(frozen=True, slots=True)
class Worked:
    """A value with its workings.

    Args:
        value: the number [unit].
        working: how it came about, the last step last; each step that it rests on stands before it.
    """

    value: float
    unit: str
    working: tuple[Working, ...]

    @property
    def symbol(self) -> str:
        """Its symbol, as the last step names it."""
        return self.working[-1].result.symbol

    @property
    def quantity(self) -> Quantity:
        """The value as it goes into a further working."""
        return Quantity(self.symbol, self.value, self.unit)

    @property
    def grade(self) -> Grade:
        """The weakest grade among the steps."""
        return weakest(step.grade for step in self.working)

    @property
    def source(self) -> Source:
        """Where the last step is published."""
        return self.working[-1].source


def weakest(grades: Iterable[Grade]) -> Grade:
    """The grade that is least to be trusted.

    Args:
        grades: one or more.
    Returns:
        Grade: the weakest.
    """
    return max(grades, key=_BY_TRUST.index)


def work_out(
    value: float,
    unit: str,
    symbol: str,
    formula: str,
    *values: Quantity | Worked,
    source: Source = STATICS,
    grade: Grade = Grade.COMPUTED,
    note: Said | None = None,
) -> Worked:
    """Write down one step.

    Args:
        value: the result [unit].
        formula: in plain symbols.
        values: what was put in; the workings of those that have any come first.
        source: where the formula is published.
        grade: how far the formula is to be trusted.
        note: what the symbols cannot say.
    Returns:
        Worked: the result with all steps.
    """
    before: dict[Working, None] = {}
    put_in = []
    for one in values:
        if isinstance(one, Worked):
            before |= dict.fromkeys(one.working)
            put_in.append(one.quantity)
        else:
            put_in.append(one)
    step = Working(formula, tuple(put_in), Quantity(symbol, value, unit), source, grade, note)
    return Worked(value, unit, (*before, step))
