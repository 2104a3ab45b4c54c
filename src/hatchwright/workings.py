"""What an answer rests on: sources, how far each is to be trusted, and the arithmetic step by step."""

from __future__ import annotations

from enum import StrEnum
from typing import Protocol, Self

from msgspec import Struct

from hatchwright.said import Said


class Grade(StrEnum):
    """How far the number behind an answer is to be trusted."""

    PUBLISHED = "published"
    RESTATED = "seen only restated"
    COMPUTED = "computed"
    SHOP = "the shop's own"
    PRACTICE = "common practice, no source"
    MEMORY = "from memory, unverified"

    @property
    def may_stop(self) -> bool:
        """Whether a number of this grade may stop a job; one from memory may only caution."""
        return self is not Grade.MEMORY


class Source(Struct, frozen=True):
    """Where a number stands: a key of the bibliography and the place in that document."""

    key: str
    place: str = ""

    def __str__(self) -> str:
        return f"{self.key}, {self.place}" if self.place else self.key


class Rests(Protocol):
    """What rests on a source: a row of a table, a document's words, a `Ground`, a working."""

    @property
    def source(self) -> Source:
        """Where it stands."""

    @property
    def grade(self) -> Grade:
        """How far it is to be trusted."""


class Quantity(Struct, frozen=True):
    """One value that goes into a working: its symbol, its value and its unit."""

    symbol: str
    value: float
    unit: str

    def __str__(self) -> str:
        return f"{self.symbol} = {self.value:.6g} {self.unit.removeprefix('-')}".rstrip()


class Working(Struct, frozen=True):
    """How a number came about, so that it can be recomputed from paper.

    Args:
        formula: in plain symbols.
        result: what came out, symbol, value and unit.
        source: where the formula or the limit is published.
        grade: how far that is to be trusted.
        note: what the symbols cannot say, such as which column of a table was read; None for nothing.
        reading: key of the reading whose limit it is, where documents differ; "" elsewhere.
    """

    formula: str
    values: tuple[Quantity, ...]
    result: Quantity
    source: Source
    grade: Grade
    note: Said | None = None
    reading: str = ""

    @classmethod
    def resting_on(cls, rests: Rests, formula: str, result: Quantity, *values: Quantity) -> Self:
        """One whose formula, or limit, stands where something else rests."""
        return cls(formula, values, result, rests.source, rests.grade)

    def __str__(self) -> str:
        put_in = ", ".join(str(value) for value in self.values)
        return f"{self.formula}; {put_in}; {self.result} [{self.source}; {self.grade}]"
