"""Headings and units above pasted rows: which column is which, and what a bare length in it means."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from hatchwright.errors import Fault, JobError
from hatchwright.job.pasted_rows import LENGTHS, Column, Row, names_of
from hatchwright.said import Listed, Said, said
from hatchwright.units import UNIT_MARKS

_HEADINGS: Mapping[str, frozenset[str]] = {
    "number": frozenset(("number", "no", "nr", "num", "hole", "n", "#")),
    "x": frozenset(("x",)),
    "y": frozenset(("y",)),
    "radius": frozenset(("radius", "rad", "r")),
    "angle": frozenset(("angle", "ang", "theta", "phi")),
    "diameter": frozenset(("diameter", "dia", "diam", "d", "ø", "⌀", "size")),
    "height": frozenset(("height", "h")),
    "depth": frozenset(("depth",)),
    "length": frozenset(("length", "l")),
    "uncertainty": frozenset(("u", "uncertainty", "±")),
    "filled": frozenset(("filled", "rivet")),
    "part": frozenset(("part", "sheet")),
    "side": frozenset(("side", "edge")),
    "corner": frozenset(("corner",)),
    "place": frozenset(("place", "position", "at")),
    "thickness": frozenset(("thickness", "t")),
    "registration": frozenset(("registration", "reg", "n-number", "tail", "aircraft", "mark")),
    "serial": frozenset(("serial", "s", "sn", "msn")),
    "pieces": frozenset(("pieces", "count", "qty", "quantity", "on")),
}
"""How people head the columns that a list takes, by the name of the entry."""

_OTHER_UNITS = frozenset(("cm", "m", "ft", "feet", "thou", "mil", "mils", "µm", "um"))
_OTHER_ANGLES = frozenset(
    ("rad", "radian", "radians", "mrad", "gon", "grad", "grads", "arcmin", "arcsec", "turns")
)
_UNIT_OF_HEAD = re.compile(
    r".*?[\s,/]*[\[(](?P<unit>[^\])]*)[\])]\s*|.*[\s,/](?P<bare>\S+)\s*|(?P<alone>\S+)"
)
_NOWHERE = 1_000_000
"""Where the cells of a column stand that no heading names; no row has as many."""


def order_of(heads: Sequence[Row], columns: Sequence[Column]) -> tuple[int, ...]:
    """Where the cells of each column stand, by their headings where these name every column."""
    names = [column.name for column in columns]
    for row in heads:
        told = [heading_of(cell) for cell in row.cells]
        known = [name for name in told if name in names]
        if not known or told[: len(names)] == names[: len(told)] or _is_of_units(row):
            continue
        is_clear = len(set(known)) == len(known) == len(told) >= sum(column.required for column in columns)
        if is_clear:
            return tuple(told.index(name) if name in told else _NOWHERE for name in names)
        if any(name in names and name != names[at] for at, name in enumerate(told[: len(names)])):
            raise JobError(
                (Fault.saying("", "paste.other_order", line=row.number, columns=names_of(columns)),)
            )
    return tuple(range(len(columns)))


def heading_of(cell: str) -> str:
    """The entry that a heading names, "" for none that is known."""
    word = re.split(r"[\s(\[,:/]", cell.strip().lower() + " ", maxsplit=1)[0].rstrip(".")
    return next((name for name, words in _HEADINGS.items() if word in words), "")


def units_of(heads: Sequence[Row], columns: Sequence[Column]) -> dict[int, str]:
    """The unit that heads each column of lengths, where one does.

    Raises:
        JobError: a column is in a unit that no job takes.
    """
    found: dict[int, str] = {}
    order = order_of(heads, columns)
    for row in heads:
        for at, column in enumerate(columns):
            cell = row.cells[order[at]] if order[at] < len(row.cells) else ""
            mark = _mark_of(cell)
            if column.kind == "amount" and mark in _OTHER_ANGLES:
                raise JobError(
                    (Fault.saying(column.label, "paste.angle_unit", cell, line=row.number, mark=mark),)
                )
            mark = _unit_of(cell)
            if column.kind not in LENGTHS or not mark:
                continue
            if mark in _OTHER_UNITS:
                raise JobError(
                    (Fault.saying(column.label, "error.length_unit", cell, line=row.number, mark=mark),)
                )
            found[at] = UNIT_MARKS[mark]
    return found


def _mark_of(cell: str) -> str:
    """What stands where a heading has its unit, "" for nothing."""
    told = _UNIT_OF_HEAD.fullmatch(cell.strip().lower())
    return next((one for one in told.groups() if one), "").strip() if told else ""


def _unit_of(cell: str) -> str:
    """The unit of length that a heading ends with, "" for none."""
    mark = _mark_of(cell)
    return mark if mark in UNIT_MARKS or mark in _OTHER_UNITS else ""


def _is_of_units(row: Row) -> bool:
    """Whether the units of length in a row stand alone in their cells, and there are any."""
    units = [(unit, cell.strip("()[] ").lower()) for cell in row.cells if (unit := _unit_of(cell))]
    return bool(units) and all(unit == alone for unit, alone in units)


def head_note(row: Row) -> Said:
    """What is told of a row above the values."""
    id = "paste.unit_row" if _is_of_units(row) else "paste.head_row"
    return said(id, row=row.number, cells=Listed(tuple(filter(None, row.cells)), ","))


def ordered(row: Row, order: tuple[int, ...]) -> Row:
    """The same row in the order of the columns; further cells stay behind."""
    if order == tuple(range(len(order))):
        return row
    cells = tuple(row.cells[at] if at < len(row.cells) else "" for at in order)
    further = tuple(cell for at, cell in enumerate(row.cells) if at not in order)
    return Row(row.number, cells + further)
