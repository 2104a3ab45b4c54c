"""The sheet of repeat looks: what to look at and what was found last, readings and cracks side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot
from typing import Any

from hatchwright.documents.made_table import MadeTable, signed, tables_on_paper
from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.typst_pdf import Part
from hatchwright.job.looks import LOOKED_AT, CrackAtPlace, Look, LookReading
from hatchwright.layout.layout import Layout, is_closed, points_of
from hatchwright.said import Said, Value, inch, said
from hatchwright.units import Length, Unit, figure
from hatchwright.words.tell import tell

_SIDE_BY_SIDE = 4
"""Looks that stand beside each other on a sheet, the latest of them [-]."""

_BLANK_ROWS = 6


def looks_part(layout: Layout, *, date: str, stop: str) -> Part:
    """The sheet of repeat looks as a paper.

    Args:
        stop: what holds back; "" where nothing does.
    """
    job = layout.job
    tables = tuple(looks_tables(layout))
    data: dict[str, Any] = {
        "head": paper_head(job, said("looks.title"), date=date),
        "stop": stop,
        "lead": [tell(said("looks.lead")), tell(said("looks.today"))],
        "tables": tables_on_paper(tables, job.unit),
        "sign": [tell(said("looks.sign.by")), tell(said("looks.sign.inspected"))],
    }
    return Part("tables", data)


def looks_tables(layout: Layout) -> Iterator[MadeTable]:
    """What to look at, when it was looked at, readings and cracks, and room for those of today."""
    looks, unit = layout.job.looks, layout.job.unit
    yield _what_to_look_at(layout)
    if looks:
        yield _when(looks)
    shown = looks[-_SIDE_BY_SIDE:]
    if any(look.readings for look in shown):
        yield _readings(shown, unit)
    if any(look.all_cracks for look in shown):
        yield _cracks(shown, unit)
    blank = MadeTable(
        said("looks.found_today"), _heads("mark", "where", "length", "u"), (0.8, 3.4, 1.2, 1.2), ()
    )
    yield blank.empty(_BLANK_ROWS)


def _heads(*names: str) -> tuple[Said, ...]:
    return tuple(said(f"looks.heading.{name}") for name in names)


def _what_to_look_at(layout: Layout) -> MadeTable:
    rows = []
    for name in LOOKED_AT:
        found = next(
            ((look, text) for look in reversed(layout.job.looks) if (text := getattr(look, name))), None
        )
        last = (
            said("looks.last", on=found[0].date.isoformat(), found=found[1])
            if found
            else said("looks.nothing_yet")
        )
        rows.append(
            (tell(said(f"looks.at.{name}")), tell(_places(layout, name), layout.job.unit), tell(last), "")
        )
    heads = _heads("look_at", "places", "last", "today")
    return MadeTable(said("looks.look_at"), heads, (1.1, 2.6, 2.2, 1.7), tuple(rows))


def _places(layout: Layout, name: str) -> Value:
    match name:
        case "end_rivets":
            ends = [
                f"{row}: {holes[0].number}, {holes[-1].number}"
                for row, holes in layout.rows().items()
                if holes[0].kind == "rivet" and not is_closed(points_of(holes))
            ]
            return "; ".join(ends) if ends else said("looks.places.no_ends")
        case "screws":
            count = len(layout.holes_of("screw"))
            return said("looks.places.screws", n=count) if count else said("looks.places.no_screws")
        case _:
            return said(f"looks.places.{name}")


def _when(looks: Sequence[Look]) -> MadeTable:
    rows = tuple((look.date.isoformat(), look.at, look.by) for look in looks)
    return MadeTable(said("looks.when"), _heads("date", "hours", "by"), (1.2, 2.0, 4.0), rows)


def _readings(looks: Sequence[Look], unit: Unit) -> MadeTable:
    """A reading a line, a look a column, and what it changed since it was read before."""
    names = dict.fromkeys(one.name for look in looks for one in look.readings)
    rows = []
    for name in names:
        read: list[tuple[Length, float] | None] = [_reading(look, name) for look in looks]
        rows.append((name, *_side_by_side(read, unit)))
    return _table("looks.readings", looks, tuple(rows), _heads("reading"), (2.2,))


def _reading(look: Look, name: str) -> tuple[Length, float] | None:
    one: LookReading | None = next((one for one in look.readings if one.name == name), None)
    return (one.value, look.u_in(one)) if one else None


def _cracks(looks: Sequence[Look], unit: Unit) -> MadeTable:
    marks = dict.fromkeys(crack.mark for look in looks for crack in look.all_cracks)
    rows = []
    for mark in marks:
        found = [next((one for one in look.all_cracks if one.mark == mark), None) for look in looks]
        place = next(one for one in found if one is not None)
        if isinstance(place, CrackAtPlace):
            where = said("R426.at", x=inch(place.x.inch), y=inch(place.y.inch))
        else:
            where = said("looks.hole", number=place.number)
        read = [(one.length, look.u_in(one)) if one else None for look, one in zip(looks, found, strict=True)]
        rows.append((mark, tell(where, unit), *_side_by_side(read, unit)))
    heads = _heads("mark", "where")
    return _table("looks.cracks", looks, tuple(rows), heads, (0.7, 1.8), said("looks.cracks.how"))


def _table(
    id: str,
    looks: Sequence[Look],
    rows: tuple[tuple[str, ...], ...],
    first: tuple[Said, ...],
    widths: tuple[float, ...],
    how: Said | None = None,
) -> MadeTable:
    days = tuple(said("looks.day", on=look.date.isoformat()) for look in looks)
    heads = (*first, *days, *_heads("growth", "growth_u", "answer"))
    every = (*widths, *(1.2,) * len(looks), 0.9, 0.8, 1.3)
    return MadeTable(said(id), heads, every, rows, how or said("looks.readings.how"))


def _side_by_side(read: Sequence[tuple[Length, float] | None], unit: Unit) -> tuple[str, ...]:
    """Each value with its u, then the growth between the last two that were read, its u, and whether it is shown."""
    cells = tuple(
        "" if one is None else tell(said("looks.value", value=inch(one[0].inch), u=inch(one[1])), unit)
        for one in read
    )
    known = [one for one in read if one is not None]
    if len(known) < 2:
        return (*cells, "", "", "")
    (before, u_before), (last, u_last) = known[-2:]
    grown_in, u_in = last.inch - before.inch, hypot(u_before, u_last)
    shown = "looks.changed" if abs(grown_in) > u_in else "status.unknown"
    return (*cells, signed(grown_in, unit), figure(u_in, unit), tell(said(shown)))
