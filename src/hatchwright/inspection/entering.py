"""Readings put into the text of a job as what was made: comments, order and all other readings stay."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from hatchwright.errors import Fault, JobError
from hatchwright.inspection.best_fit import BestFit
from hatchwright.inspection.readings import Reading
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.bounds import first_of
from hatchwright.job.job_text import added, with_values_at
from hatchwright.job.list_lines import with_lines
from hatchwright.units import MM_PER_IN, Unit, decimal_inch

_HOLES = "as_made.holes"
_STRAYS = "as_made.strays"


def entered(text: str, fit: BestFit, *, u: str, unit: Unit) -> str:
    """The text with the readings of a set: those of holes by their numbers, all others as holes of no row.

    A hole that was measured before gets its new reading in the same line. The set goes in as it was read: what is
    doubtful in it is for the caller to refuse.

    Args:
        u: expanded uncertainty of readings that name none, as typed.
        unit: of the job.
    Raises:
        JobError: a hole of no row has no diameter, or the text can't take the lines; nothing is to be written then.
    """
    numbers = {at: int(fit.pattern.numbers[hole]) for at, hole in fit.matching.pairs}
    told = [(one.number or numbers.get(at), one) for at, one in enumerate(fit.readings)]
    strays = [one for number, one in told if number is None]
    if faults := first_of(_without_diameter(strays)):
        raise JobError(faults)
    data = raw_data(text)
    if standing_at(data, "as_made") is None:
        text = added(text, {"as_made": {"uncertainty": u}})
        data = raw_data(text)
    common = str(standing_at(data, "as_made.uncertainty") or u)
    held = standing_at(data, _HOLES) or []
    at = {line[0]: k for k, line in enumerate(held) if isinstance(line, list) and line}
    lines = {number: [number, *_line(one, u, common, unit)] for number, one in told if number is not None}
    changed = {f"{_HOLES}.{at[number]}": line for number, line in lines.items() if number in at}
    text = with_values_at(text, changed)
    text = with_lines(text, _HOLES, [line for number, line in sorted(lines.items()) if number not in at])
    return with_lines(text, _STRAYS, [_line(one, u, common, unit) for one in strays])


def _without_diameter(strays: Sequence[Reading]) -> Iterator[Fault]:
    for one in strays:
        if not one.diameter:
            yield Fault.saying("", "measure.no_diameter", line=one.row)


def _line(reading: Reading, u: str, common: str, unit: Unit) -> list[Any]:
    """Place, diameter and own uncertainty as a job takes them; an empty text holds a place before another value."""
    places = reading.typed or tuple(_figure(one, unit) for one in reading.place)
    own = reading.own_u or ("" if u == common else u)
    values = [*places, reading.diameter, own]
    while not values[-1]:
        values.pop()
    return values


def _figure(value_in: float, unit: Unit) -> str:
    """A place that was worked out, to a tenth of what any gauge on an aircraft shows."""
    return decimal_inch(value_in, 4) if unit == "in" else f"{value_in * MM_PER_IN:.3f}"
