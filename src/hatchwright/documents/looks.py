"""The sheet of repeat looks: what to look at and what was found last, readings and cracks side by side."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import hypot
from typing import Any

from hatchwright.documents.made_table import MadeTable, signed, tables_on_paper
from hatchwright.documents.paper_head import paper_head
from hatchwright.documents.typst_pdf import Part
from hatchwright.job.day import Day
from hatchwright.job.looks import LOOKED_AT, Crack, CrackAtPlace, CrackHistory, Look, crack_histories
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
    if any(look.readings for look in looks):
        yield _readings(looks, unit)
    if histories := crack_histories(looks):
        yield _cracks(looks, histories, unit)
    if any(look.resolved for look in looks):
        yield _resolved(looks, unit)
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
            (tell(said(f"looks.at.{name}")), tell(places_of(layout, name), layout.job.unit), tell(last), "")
        )
    heads = _heads("look_at", "places", "last", "today")
    return MadeTable(said("looks.look_at"), heads, (1.1, 2.6, 2.2, 1.7), tuple(rows))


def places_of(layout: Layout, name: str) -> Value:
    """Where one of `LOOKED_AT` is looked at, by the numbers of a job's own holes."""
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
        read = [
            (look, one.value, look.u_in(one)) for look in looks for one in look.readings if one.name == name
        ]
        cells = dict.fromkeys((look.date for look in looks), "")
        cells |= {look.date: _read(value, u_in, unit) for look, value, u_in in read}
        rows.append((name, *_side_by_side(cells), *_growth(read, unit)))
    return _table("looks.readings", looks, tuple(rows), _heads("reading"), (2.2,))


def _cracks(looks: Sequence[Look], histories: Mapping[str, CrackHistory], unit: Unit) -> MadeTable:
    """A crack a line, whenever it was read, and what it grew since it was read before and not resolved."""
    rows = []
    for mark, history in histories.items():
        cells = {}
        for look in looks:
            crack = look.crack(mark)
            cells[look.date] = _read(crack.length, look.u_in(crack), unit) if crack else ""
            if any(one.mark == mark for one in look.resolved):
                cells[look.date] = tell(said("looks.resolved_then"))
        read = [(look, crack.length, look.u_in(crack)) for look, crack in history.read]
        growth = _NO_GROWTH if history.resolved else _growth(read, unit)
        rows.append((mark, tell(_where(history.read[-1][1]), unit), *_side_by_side(cells), *growth))
    heads = _heads("mark", "where")
    return _table("looks.cracks", looks, tuple(rows), heads, (0.7, 1.8), said("looks.cracks.how"))


def _resolved(looks: Sequence[Look], unit: Unit) -> MadeTable:
    """Who said of which crack that it was resolved, when and on which data, as entered."""
    rows = []
    for number, look in enumerate(looks):
        before = crack_histories(looks[:number])
        rows += [
            (
                one.mark,
                tell(_where(before[one.mark].read[-1][1]), unit),
                look.date.isoformat(),
                one.by,
                one.data,
            )
            for one in look.resolved
        ]
    heads = _heads("mark", "where", "date", "by", "data")
    how = said("looks.resolved.how")
    return MadeTable(said("looks.resolved"), heads, (0.7, 1.6, 1.0, 1.8, 2.6), tuple(rows), how)


def _where(crack: Crack) -> Said:
    if isinstance(crack, CrackAtPlace):
        return said("R426.at", x=inch(crack.x.inch), y=inch(crack.y.inch))
    return said("looks.hole", number=crack.number)


def _table(
    id: str,
    looks: Sequence[Look],
    rows: tuple[tuple[str, ...], ...],
    first: tuple[Said, ...],
    widths: tuple[float, ...],
    how: Said | None = None,
) -> MadeTable:
    days = tuple(said("looks.day", on=look.date.isoformat()) for look in looks[-_SIDE_BY_SIDE:])
    before = _heads("before") if len(looks) > _SIDE_BY_SIDE else ()
    heads = (*first, *before, *days, *_heads("growth", "growth_u", "answer"))
    every = (*widths, *(1.2,) * len((*before, *days)), 0.9, 0.8, 1.3)
    return MadeTable(said(id), heads, every, rows, how or said("looks.readings.how"))


def _read(value: Length, u_in: float, unit: Unit) -> str:
    return tell(said("looks.value", value=inch(value.inch), u=inch(u_in)), unit)


def _side_by_side(cells: Mapping[Day, str]) -> tuple[str, ...]:
    """What the latest looks tell, and before it what was told last by those that are too many to stand beside them."""
    told = tuple(cells.items())
    side_by_side = tuple(cell for _, cell in told[-_SIDE_BY_SIDE:])
    if len(told) <= _SIDE_BY_SIDE:
        return side_by_side
    earlier = (
        tell(said("looks.last", on=day.isoformat(), found=cell))
        for day, cell in told[-_SIDE_BY_SIDE - 1 :: -1]
        if cell
    )
    return (next(earlier, ""), *side_by_side)


_NO_GROWTH = ("", "", "")


def _growth(read: Sequence[tuple[Look, Length, float]], unit: Unit) -> tuple[str, str, str]:
    """Between the last two readings, its u, and whether it is shown."""
    if len(read) < 2:
        return _NO_GROWTH
    (_, before, u_before), (_, last, u_last) = read[-2:]
    grown_in, u_in = last.inch - before.inch, hypot(u_before, u_last)
    shown = "looks.changed" if abs(grown_in) > u_in else "status.unknown"
    return signed(grown_in, unit), figure(u_in, unit), tell(said(shown))
