"""Readings put into the text of a job as what was made: comments, order and all other readings stay."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from hatchwright.errors import Fault, JobError
from hatchwright.inspection.other_readings import placed
from hatchwright.inspection.readings import Reading
from hatchwright.job.as_typed import raw_data, standing_at
from hatchwright.job.bounds import first_of
from hatchwright.job.job_text import added, with_values_at
from hatchwright.job.list_lines import with_lines
from hatchwright.units import Unit

_HOLES = "as_made.holes"
_STRAYS = "as_made.strays"


def entered(text: str, readings: Sequence[Reading], numbers: Mapping[int, int], *, u: str, unit: Unit) -> str:
    """The text with the readings of a set: those of holes by their numbers, all others as holes of no row.

    A hole that was measured before gets its new reading in the same line. The set goes in as it was read: what is
    doubtful in it is for the caller to refuse.

    Args:
        numbers: of the holes next to which readings without a number lie, by the place of the reading in the set.
        u: expanded uncertainty of readings that name none, as typed.
        unit: of the job.
    Raises:
        JobError: a hole of no row has no diameter, or the text can't take the lines; nothing is to be written then.
    """
    told = [(one.number or numbers.get(at), one) for at, one in enumerate(readings)]
    strays = [one for number, one in told if number is None]
    if faults := first_of(_without_diameter(strays)):
        raise JobError(faults)
    text, common = with_common_u(text, u)
    lines = {number: [number, *_line(one, u, common, unit)] for number, one in told if number is not None}
    text = with_numbered(text, _HOLES, lines)
    return with_lines(text, _STRAYS, [_line(one, u, common, unit) for one in strays])


def with_common_u(text: str, u: str) -> tuple[str, str]:
    """The text with a section for what was made, and the uncertainty of readings in it that name none, as typed."""
    if standing_at(raw_data(text), "as_made") is None:
        text = added(text, {"as_made": {"uncertainty": u}})
    return text, str(standing_at(raw_data(text), "as_made.uncertainty") or u)


def with_numbered(text: str, field: str, lines: Mapping[int, list[Any]]) -> str:
    """The text with lines that begin with the number of a hole: in the place of that hole's line, else at the end."""
    held = standing_at(raw_data(text), field) or []
    at = {line[0]: k for k, line in enumerate(held) if isinstance(line, list) and line}
    text = with_values_at(
        text, {f"{field}.{at[number]}": line for number, line in lines.items() if number in at}
    )
    return with_lines(text, field, [line for number, line in sorted(lines.items()) if number not in at])


def own_or_typed(own_u: str, u: str, common: str) -> str:
    """The uncertainty that a line names: its own, else that of its set where the job's readings have another."""
    return own_u or ("" if u == common else u)


def _without_diameter(strays: Sequence[Reading]) -> Iterator[Fault]:
    for one in strays:
        if not one.diameter:
            yield Fault.saying("", "measure.no_diameter", line=one.row)


def _line(reading: Reading, u: str, common: str, unit: Unit) -> list[Any]:
    """Place, diameter and own uncertainty as a job takes them; an empty text holds a place before another value."""
    places = reading.typed or tuple(placed(one, unit) for one in reading.place)
    return without_end([*places, reading.diameter, own_or_typed(reading.own_u, u, common)])


def without_end(values: list[Any]) -> list[Any]:
    """A line without the empty texts at its end."""
    while not values[-1]:
        values.pop()
    return values
