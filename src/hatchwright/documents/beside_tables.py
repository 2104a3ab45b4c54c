"""Two states of a job in a table for each kind of number: drawn beside made, or as it is beside as it would be."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from hatchwright.documents.drawn_made import DrawnMade
from hatchwright.documents.made_table import MadeTable, signed
from hatchwright.job.job import Job
from hatchwright.said import Said, missing, said
from hatchwright.units import Unit, figure
from hatchwright.words.amounts import value_text
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

_WIDTHS = (3.6, 0.85, 0.85, 0.85, 0.7, 1.0, 1.0)


def beside_tables(
    job: Job, numbers: Sequence[DrawnMade], states: tuple[Said, Said], titled: Callable[[str], Said]
) -> Iterator[MadeTable]:
    """A table for each kind of number, in their order.

    Args:
        states: what heads the two states.
        titled: what heads a table, by the group of its numbers.
    """
    unit = job.unit
    answers = (said(f"as_built.heading.{name}") for name in ("change", "u", "was", "now"))
    heads = (said("as_built.heading.what"), *states, *answers)
    groups: dict[str, list[DrawnMade]] = {}
    for one in numbers:
        groups.setdefault(one.group, []).append(one)
    for group, alike in groups.items():
        rows = tuple(_row(one, job, unit) for one in alike)
        yield MadeTable(titled(group), heads, _WIDTHS, rows)


def _row(one: DrawnMade, job: Job, unit: Unit) -> tuple[str, ...]:
    return (
        tell(in_words_of(job.kind, one.what), unit),
        _number(one.drawn, one, unit),
        _number(one.made, one, unit),
        _change(one, unit),
        tell(missing(one.u, one.unit), unit, how="b") if one.u else "",
        tell(said(f"status.{one.was}")) if one.was else "",
        tell(said(f"status.{one.now}")) if one.now else "",
    )


def _number(value: float | None, one: DrawnMade, unit: Unit) -> str:
    if value is None:
        return ""
    return figure(value, unit) if one.unit == "in" else value_text(value, one.unit, unit)


def _change(one: DrawnMade, unit: Unit) -> str:
    change = one.change
    if change is None:
        return ""
    if one.unit == "in":
        return signed(change, unit)
    text = value_text(change, one.unit, unit)
    return text if text.startswith("-") else f"+{text}"
