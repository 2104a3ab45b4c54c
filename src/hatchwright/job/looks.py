"""Looks at the finished job over the years: when, by whom, what was read and how long each crack was."""

from collections import Counter
from collections.abc import Sequence
from typing import Annotated, Self

from msgspec import Struct
from msgspec.structs import replace
from pydantic import Field, StringConstraints, model_validator

from hatchwright.job.bracketed import Bracketed, in_brackets
from hatchwright.job.day import Day
from hatchwright.job.entry import (
    Coordinate,
    Count,
    Entered,
    NotNegative,
    Positive,
    Uncertainty,
    WrittenBy,
    refusal,
)
from hatchwright.said import said

Told = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=120)]

LOOKED_AT = ("corners", "end_rivets", "screws", "sealant")
"""What is looked at each time, in this order; each is an entry of a look."""


class LookReading(Bracketed):
    """One reading of a look, by the name that it has at every look."""

    name: str = Field(min_length=1, max_length=60)
    value: NotNegative
    uncertainty: Uncertainty | None = None


class CrackAtHole(Bracketed):
    """A crack at a hole, by the mark that it keeps at every look."""

    mark: str = Field(min_length=1, max_length=12)
    number: Count
    length: Positive
    uncertainty: Uncertainty | None = None


class CrackAtPlace(Bracketed):
    """A crack away from the holes, where its middle is, by the mark that it keeps at every look."""

    mark: str = Field(min_length=1, max_length=12)
    x: Coordinate
    y: Coordinate
    length: Positive
    uncertainty: Uncertainty | None = None


class ResolvedCrack(Bracketed):
    """A crack that somebody says is no more, by its mark: who says so, and on which data."""

    mark: str = Field(min_length=1, max_length=12)
    by: Told
    data: Told


_AS_TYPED = WrittenBy(Bracketed.as_typed)
Crack = CrackAtHole | CrackAtPlace
ReadingLine = Annotated[LookReading, in_brackets(LookReading, "job.look_reading"), _AS_TYPED]
HoleCrackLine = Annotated[CrackAtHole, in_brackets(CrackAtHole, "job.crack_at_hole"), _AS_TYPED]
PlaceCrackLine = Annotated[CrackAtPlace, in_brackets(CrackAtPlace, "job.crack_at_place"), _AS_TYPED]
ResolvedLine = Annotated[ResolvedCrack, in_brackets(ResolvedCrack, "job.crack_resolved"), _AS_TYPED]


class Look(Entered):
    """One look at the finished job, with what was found at each place that is looked at."""

    date: Day
    at: str = Field(default="", max_length=40)
    by: str = Field(default="", max_length=120)
    uncertainty: Uncertainty
    corners: str = Field(default="", max_length=300)
    end_rivets: str = Field(default="", max_length=300)
    screws: str = Field(default="", max_length=300)
    sealant: str = Field(default="", max_length=300)
    readings: tuple[ReadingLine, ...] = Field(default=(), max_length=500)
    cracks: tuple[HoleCrackLine, ...] = Field(default=(), max_length=200)
    cracks_elsewhere: tuple[PlaceCrackLine, ...] = Field(default=(), max_length=200)
    resolved: tuple[ResolvedLine, ...] = Field(default=(), max_length=200)

    @property
    def all_cracks(self) -> tuple[Crack, ...]:
        """At holes and elsewhere."""
        return (*self.cracks, *self.cracks_elsewhere)

    def crack(self, mark: str) -> Crack | None:
        """As it was read at this look, None where it wasn't."""
        return next((one for one in self.all_cracks if one.mark == mark), None)

    def u_in(self, reading: LookReading | Crack) -> float:
        """Of one reading: its own where it names one, else that of the whole look [in]."""
        return (self.uncertainty if reading.uncertainty is None else reading.uncertainty).inch

    @model_validator(mode="after")
    def _told_once(self) -> Self:
        for id, names in (
            ("job.look_twice", [one.name for one in self.readings]),
            ("job.crack_twice", [one.mark for one in self.all_cracks]),
            ("job.resolved_twice", [one.mark for one in (*self.all_cracks, *self.resolved)]),
        ):
            if twice := [name for name, many in Counter(names).items() if many > 1]:
                raise refusal(said(id, name=twice[0]), said(f"{id}.do"))
        return self


class CrackHistory(Struct, frozen=True):
    """What the looks say of one crack.

    Args:
        read: each look that read it since it was last resolved, or until then where it was not read again.
        resolved: the look that said so and what it said, None while the crack is open.
    """

    mark: str
    read: tuple[tuple[Look, Crack], ...]
    resolved: tuple[Look, ResolvedCrack] | None = None


def crack_histories(looks: Sequence[Look]) -> dict[str, CrackHistory]:
    """Every crack that was ever read, by its mark; one that is read again after it was resolved begins anew."""
    found: dict[str, CrackHistory] = {}
    for look in looks:
        for crack in look.all_cracks:
            before = found.get(crack.mark)
            earlier = before.read if before and before.resolved is None else ()
            found[crack.mark] = CrackHistory(crack.mark, (*earlier, (look, crack)))
        for one in look.resolved:
            if one.mark in found:
                found[one.mark] = replace(found[one.mark], resolved=(look, one))
    return found
