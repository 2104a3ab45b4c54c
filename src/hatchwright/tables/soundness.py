"""Whether the rows of a table can be true: filled in, in their unit, named once, rising where they must."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import inf, isfinite
from typing import Any

from hatchwright.errors import Fault
from hatchwright.number import BY_HEADING, BY_UNIT, Range
from hatchwright.said import Listed, said
from hatchwright.tables.columns import unit_of
from hatchwright.tables.row import Row
from hatchwright.tables.table import Order, Table

_ANY = Range(-inf, inf)

_LONGEST_TEXT = 40


def faults_of(table: Table[Any], rows: Iterable[Row], *, beside: Iterable[Row] = ()) -> Iterator[Fault]:
    """Everything that is wrong with the rows of one file.

    Args:
        beside: sound rows of the same table that stay in use, which the new ones must run on from.
    Yields:
        Fault: field, what, what was given, what would do, and the line in the file.
    """
    readable = []
    seen: dict[tuple[str | float, ...], int] = {}
    for row in rows:
        faults = tuple(_cell_faults(table, row))
        yield from faults
        if faults:
            continue
        readable.append(row)
        first = seen.setdefault(table.name_of(row), row.line)
        if first != row.line:
            what, remedy = said("error.row_same", line=first), said("error.keep_one")
            yield Fault(", ".join(table.key), what, remedy=remedy, line=row.line)
    kept = [row for row in beside if table.name_of(row) not in seen]
    for order in table.orders:
        yield from _order_faults(order, table.within(order), readable, kept)


def _cell_faults(table: Table[Any], row: Row) -> Iterator[Fault]:
    columns = {one.heading: one for one in table.columns.values()}
    for heading, cell in row.cells.items():
        given, column = cell[:_LONGEST_TEXT], columns.get(heading)  # the citation is no column of its record
        if not cell:
            if column is None or not column.may_be_empty:
                yield Fault.saying(heading, "error.row_empty", line=row.line)
            continue
        if column and column.words and cell not in column.words:
            remedy = said("error.one_of", words=Listed(column.words, ","))
            yield Fault(heading, said("error.row_word"), given, remedy, row.line)
        unit = row.cells.get("unit", "") if heading == "value" else unit_of(heading)
        if not unit:
            continue
        value = _number(cell)
        if value is None:
            what = said("error.row_number", unit=unit)
            yield Fault(heading, what, given, said("error.row_number.do"), row.line)
            continue
        within = BY_HEADING.get(heading) or BY_UNIT.get(unit, _ANY)
        if value not in within:
            what = said("error.row_bounds", low=f"{within.least:g}", high=f"{within.most:g}")
            yield Fault(heading, what, given, said("error.row_bounds.do", unit=unit), row.line)


def _order_faults(
    order: Order, within: tuple[str, ...], rows: list[Row], beside: list[Row]
) -> Iterator[Fault]:
    runs: dict[tuple[str | float, ...], list[Row]] = {}
    for row in (*rows, *beside):
        if row.cells[order.value]:
            runs.setdefault(tuple(row.meant(heading) for heading in within), []).append(row)
    sign, must = (-1.0, "error.row_falls") if order.falls else (1.0, "error.row_rises")
    own = {id(row) for row in rows}
    for run in runs.values():
        run.sort(key=lambda row: row.number(order.along))
        for before, after in pairwise(run):
            new = after if id(after) in own else before
            if id(new) in own and sign * (after.number(order.value) - before.number(order.value)) < 0.0:
                first, then = (
                    said("error.row_at", value=row.cells[order.value], at=row.cells[order.along])
                    for row in (before, after)
                )
                what = said(must, along=order.along, first=first, then=then)
                yield Fault(order.value, what, remedy=said("error.row_rises.do"), line=new.line)


def _number(cell: str) -> float | None:
    if not cell.isascii() or "_" in cell:  # which the language takes for a number
        return None
    try:
        value = float(cell)
    except ValueError:
        return None
    return value if isfinite(value) else None
