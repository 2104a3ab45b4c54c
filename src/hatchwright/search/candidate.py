"""One change of a job that may be tried, what it is tried for, and the new lengths that it may take."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from fractions import Fraction

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.job.retyped_job import retyped_job
from hatchwright.layout.layout import Hole, Layout
from hatchwright.remedy import EntryChange, PartChange
from hatchwright.said import Said, Value, inch, said
from hatchwright.units import Length, Unit, parse_length

_STEP = {"in": Fraction(1, 200), "mm": Fraction(1, 10)}
"""Drawn sizes end on this, .005 in or .1 mm: rounded away from the old size, so that what is missing is never cut
short. Common practice, no source."""
_FINEST = 10**7
"""What is missing is known to this part of an inch; the rest is the rounding of the arithmetic."""
_TIMES = (Fraction(1), Fraction(3, 2), Fraction(2), Fraction(3))
"""What is missing is added once, then more, for a shape or a pitch does not follow it one to one [-]."""
_FEWER = (1, 2, 4, 6, 8)
"""Rivets or screws of a row more or less: two, four and eight keep four sides alike [-]."""


class Candidate(Struct, frozen=True):
    """One change that may be tried.

    Args:
        entries: to be typed anew together.
        what: a noun phrase of old and new.
        parts: what is put in or taken away whole after that.
        brings: cautions that come with it by its nature, each as code and as the sentence that tells it beside the
            change.
    """

    entries: tuple[EntryChange, ...]
    what: Said
    parts: tuple[PartChange, ...] = ()
    brings: tuple[tuple[str, Said], ...] = ()

    @property
    def planned(self) -> tuple[str, ...]:
        """What it enters as made that is only planned: it is open until somebody has done and measured it."""
        typed_anew = (entry.field for entry in self.entries)
        put_in = (part.field for part in self.parts if part.new is not None)
        return tuple(field for field in (*typed_anew, *put_in) if field.startswith("as_made."))

    def on(self, job: Job) -> Job:
        """The job with the change.

        Raises:
            JobError: it can't be made on this job.
        """
        return retyped_job(job, {entry.field: entry.new for entry in self.entries}, self.parts)


class Concern(Struct, frozen=True):
    """What a cause is about.

    Args:
        missing_in: by how much the worst of it misses its limit, uncertainty included [in].
        rows: places in the job of the rows of rivets concerned, without those that are drilled already.
        edges: names of the edges that it is told of.
        drilled: holes that it names and that are drilled, in its order.
        named: every hole that it names.
        strays: numbers of the stray holes that it names.
    """

    layout: Layout
    missing_in: float
    rows: tuple[int, ...]
    edges: frozenset[str]
    drilled: tuple[Hole, ...] = ()
    named: tuple[Hole, ...] = ()
    strays: frozenset[int] = frozenset()

    @property
    def job(self) -> Job:
        """The job."""
        return self.layout.job

    @property
    def unit(self) -> Unit:
        """Of the job."""
        return self.job.unit

    @property
    def is_mandated(self) -> bool:
        """Whether somebody else gave size and place of the opening: then they are not the mechanic's to change."""
        mandate = self.job.mandate
        return mandate.kind != "owner" or bool(mandate.opening_x or mandate.opening_y)


def concern_of(layout: Layout, findings: Iterable[Finding]) -> Concern:
    """What the findings of one cause are about; where they name no rivet, every row is concerned."""
    told = tuple(findings)
    numbers = {number for finding in told for number in finding.holes}
    rows = layout.rows()
    named = {name for name, holes in rows.items() if numbers & {hole.number for hole in holes}}
    are_rivets = any(hole.number in numbers for hole in layout.holes_of("rivet"))
    short_in = (one.judged.shortfall + one.judged.uncertainty for one in told if one.unit == "in")
    own = ((at, row.name) for at, row in enumerate(layout.job.rows) if row.name in named or not are_rivets)
    undrilled = tuple(at for at, name in own if not is_drilled(rows.get(name, ())))
    edges = frozenset(one.cause for one in told)
    by_number = {hole.number: hole for hole in layout.holes}
    all_named = tuple(by_number[one] for one in dict.fromkeys(_told_numbers(told)) if one in by_number)
    drilled = tuple(hole for hole in all_named if hole.is_drilled)
    strays = frozenset(number for finding in told for number in finding.strays)
    return Concern(layout, max(short_in, default=0.0), undrilled, edges, drilled, all_named, strays)


def _told_numbers(told: Iterable[Finding]) -> Iterator[int]:
    return (number for finding in told for number in finding.holes)


def is_drilled(holes: tuple[Hole, ...]) -> bool:
    """Whether any of some holes was measured on the aircraft."""
    return any(hole.is_drilled for hole in holes)


def typed(value: Fraction, unit: Unit) -> str:
    """A length as it is typed into a job of that unit."""
    return f"{float(value):.{3 if unit == 'in' else 2}f}".rstrip("0").rstrip(".")


def in_unit(length: Length, unit: Unit) -> Fraction:
    """A length, exact, in the unit of the job [in or mm]."""
    return length.exact_in * (Fraction(127, 5) if unit == "mm" else 1)


def rounded(value: Fraction, unit: Unit, *, up: bool) -> Fraction:
    """The next step at or above a value, or at or below it [unit of the job]."""
    step = _STEP[unit]
    return (math.ceil(value / step) if up else math.floor(value / step)) * step


def steps(concern: Concern) -> Iterator[Fraction]:
    """What is missing, then more, never less than a step [unit of the job]."""
    unit = concern.unit
    of_unit = Fraction(127, 5) if unit == "mm" else 1
    missing = Fraction(concern.missing_in).limit_denominator(_FINEST) * of_unit
    yield from dict.fromkeys(max(missing * times, _STEP[unit]) for times in _TIMES)


def stepped_in(value_in: float, unit: Unit) -> float:
    """The next step at or above a length [in]."""
    of_unit = Fraction(127, 5) if unit == "mm" else 1
    return float(rounded(Fraction(value_in).limit_denominator(_FINEST) * of_unit, unit, up=True) / of_unit)


def steps_in(concern: Concern) -> Iterator[float]:
    """What is missing, then more, each on a step [in]."""
    of_unit = Fraction(127, 5) if concern.unit == "mm" else 1
    yield from (float(rounded(by, concern.unit, up=True) / of_unit) for by in steps(concern))


def moved(length: Length, by: Fraction, unit: Unit) -> Length:
    """A place larger or smaller by that much, on a step."""
    value = rounded(in_unit(length, unit) + by, unit, up=by > 0)
    return parse_length(typed(value, unit), unit=unit, signed=True)


def changed_length(length: Length, by: Fraction, unit: Unit) -> Length | None:
    """The same of a size; None where nothing is left of it."""
    new = moved(length, by, unit)
    return new if new.exact_in > 0 else None


def entry_change(field: str, old: Length | int, new: Length | int) -> EntryChange:
    """An entry with its old and its new text."""
    return EntryChange(field, *(one.text if isinstance(one, Length) else str(one) for one in (old, new)))


def one_entry(field: str, old: Length | int, new: Length | int, id: str, **names: Value) -> Candidate:
    """A candidate of one entry, told with its old number and its new one beside other names."""
    was, will_be = (inch(one.inch) if isinstance(one, Length) else one for one in (old, new))
    return Candidate((entry_change(field, old, new),), said(id, **names, old=was, new=will_be))


def either_way(concern: Concern, field: str, old: Length, id: str, **names: Value) -> Iterator[Candidate]:
    """A length larger and smaller by each step; see `one_entry`."""
    for by in steps(concern):
        for signed in (by, -by):
            new = changed_length(old, signed, concern.unit)
            if new is not None:
                yield one_entry(field, old, new, id, **names)


def numbers(count: int) -> Iterator[int]:
    """A few rivets or screws less and more, never under two."""
    for by in _FEWER:
        yield from (number for number in (count - by, count + by) if number > 1)


def pitches(pitch: Length, count: int, unit: Unit) -> Iterator[Length]:
    """The pitch at which a run has a few holes less, or more."""
    old = in_unit(pitch, unit)
    for number in numbers(count):
        value = rounded(old * count / number, unit, up=number < count)
        if value > 0:
            yield parse_length(typed(value, unit), unit=unit)
