"""What an answer stands on where it is no row of a table: our own closed forms, the shop's measurements, practice."""

from __future__ import annotations

from typing import TypedDict, Unpack

from msgspec import Struct

from hatchwright.judged import Bound, Judgement, Measure, Numbers, Status
from hatchwright.workings import Grade, Quantity, Source, Working


class How(TypedDict, total=False):
    """How a measure is held to its limit; see `Judgement`."""

    fails_as: Status
    strict: bool


class Ground(Struct, frozen=True):
    """What an answer stands on, and how far that is to be trusted."""

    source: Source
    grade: Grade = Grade.COMPUTED

    def bound(self, limit: Numbers) -> Bound:
        """Make a bound of a limit [unit of the measure]."""
        return Bound(limit, self.source, self.grade)

    def at_least(self, measure: Measure, limit: Numbers, *more: Working, **how: Unpack[How]) -> Judgement:
        """Hold a measure to a least value [unit of the measure]; see `Judgement`."""
        return Judgement(measure, (self.bound(limit),), more=more, **how)

    def at_most(self, measure: Measure, limit: Numbers, *more: Working, **how: Unpack[How]) -> Judgement:
        """Hold a measure to a greatest value [unit of the measure]; see `Judgement`."""
        return Judgement(measure, (self.bound(limit),), at_least=False, more=more, **how)

    def working(self, formula: str, result: Quantity, *values: Quantity) -> Working:
        """Show how a number came about."""
        return Working.resting_on(self, formula, result, *values)

    def lengths(self, formula: str, **values_in: float) -> Working:
        """Show how a length came about of lengths: the result, then what goes in, each by its symbol [in]."""
        result, *put_in = (Quantity(symbol, value_in, "in") for symbol, value_in in values_in.items())
        return self.working(formula, result, *put_in)


def computed(place: str) -> Ground:
    """What follows by geometry alone, at a place of our own theory."""
    return Ground(Source("GEOMETRY", place), Grade.COMPUTED)


def practice(of: str) -> Ground:
    """Common practice without a source."""
    return Ground(Source("PRACTICE", of), Grade.PRACTICE)


CLOSED_FORM = computed("docs/theory/guide_template.md")
"""The closed forms of the template."""

SHOP = Ground(Source("PRACTICE", "the shop's own measurement of the tool"), Grade.SHOP)
"""What a shop measured on its own tool."""
