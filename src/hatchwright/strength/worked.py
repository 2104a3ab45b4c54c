"""A number that carries how it came about, back to the tables it rests on."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import lru_cache
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.ground import Ground
from hatchwright.judged import Figure
from hatchwright.said import Said, said
from hatchwright.tables.allowables import Allowables
from hatchwright.workings import Grade, Quantity, Rests, Source, Working

STATICS = Ground(Source("STATICS"))
"""For formulas that are equilibrium or elementary strength of materials."""

ELEMENTS = Ground(Source("ELASTICITY", "finite elements, docs/theory/fem.md"))
"""For answers of the finite elements."""

READ_OFF = Ground(ELEMENTS.source, Grade.RESTATED)
"""For numbers read off their solution, which can't be recomputed on paper."""

LOWER_DIRECTION = said("working.lower_direction")
"""Beside a tabulated strength: the grain is not given, so the weaker direction counts."""

TABULATED = said("working.tabulated")

_EQUATION = re.compile(r"(.+?)(?: = (.+?))?(?: \[([^\]]*)\])?")

_BY_TRUST = (Grade.PUBLISHED, Grade.COMPUTED, Grade.SHOP, Grade.RESTATED, Grade.PRACTICE, Grade.MEMORY)


class Worked(Struct, frozen=True):
    """A value with its workings.

    Args:
        value: the number [unit].
        working: how it came about, the last step last; each step that it rests on stands before it.
        best: the same where a number that is known within a range stands at its better end; the value above stands at
            its worse end. None where there is no such number.
    """

    value: float
    unit: str
    working: tuple[Working, ...]
    best: Worked | None = None

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
    """The grade that is least to be trusted."""
    return max(grades, key=_BY_TRUST.index)


def work_out(
    value: float, equation: str, *values: Quantity | Worked, by: Rests = STATICS, note: Said | None = None
) -> Worked:
    """Write down one step.

    Args:
        value: the result [unit of the equation].
        equation: in plain symbols, such as ``P = N cut [lbf]``; a symbol alone where its value was given or looked up.
        values: what was put in; the workings of those that have any come first.
        by: what gives the source of the formula and its grade.
        note: what the symbols cannot say.
    """
    symbol, formula, unit = _parts(equation)
    before: dict[Working, None] = {}
    put_in = []
    for one in values:
        if isinstance(one, Worked):
            before |= dict.fromkeys(one.working)
            put_in.append(one.quantity)
        else:
            put_in.append(one)
    step = Working(formula, tuple(put_in), Quantity(symbol, value, unit), by.source, by.grade, note)
    return Worked(value, unit, (*before, step))


def at_both_ends(make: Callable[..., Worked], *values: Worked) -> Worked:
    """Work one thing out of others, and again where any of them is known within a range, of its better end.

    Args:
        make: works it out; the more of each value the more comes out.
    """
    worked = make(*values)
    if all(one.best is None for one in values):
        return worked
    return replace(worked, best=make(*(one.best or one for one in values)))


@lru_cache(maxsize=1024)
def _parts(equation: str) -> tuple[str, str, str]:
    """Symbol, formula and unit of ``symbol = formula [unit]``; no brackets stand where there is no unit."""
    found = _EQUATION.fullmatch(equation)
    assert found  # any text that is not empty
    symbol, formula, unit = found.groups()
    return symbol, formula or symbol, unit or ""


def looked_up(figure: Figure, unit: str, symbol: str, note: Said | None = None) -> Worked:
    """A published number as the step that a working begins with.

    Args:
        figure: the number [unit].
        note: what its symbol cannot say.
    """
    return work_out(figure.value, f"{symbol} [{unit}]", by=figure, note=note)


def strength_of(allowed: Allowables, symbol: Literal["Ftu", "Fty", "Fcy", "Fsu"]) -> Worked:
    """A tabulated strength of a sheet as the step that a working begins with [psi]."""
    value_psi = {
        "Ftu": allowed.ftu_psi,
        "Fty": allowed.fty_psi,
        "Fcy": allowed.fcy_psi,
        "Fsu": allowed.fsu_psi,
    }
    note = TABULATED if symbol == "Fsu" else LOWER_DIRECTION
    return work_out(value_psi[symbol], f"{symbol} [psi]", by=allowed, note=note)


def inputs(unit: str, **values: float) -> tuple[Quantity, ...]:
    """Values of one unit that are put into a working, by their symbols; an underscore stands for a space.

    >>> [str(one) for one in inputs("in", t=0.032, t_doubler=0.04)]
    ['t = 0.032 in', 't doubler = 0.04 in']
    """
    return tuple([Quantity(symbol.replace("_", " "), value, unit) for symbol, value in values.items()])
