"""Readings besides the places of holes, out of a table: edges, corners, thicknesses, and what was found at holes."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence

from msgspec import Struct

from hatchwright.errors import Fault, JobError
from hatchwright.inspection.kinds import Kind
from hatchwright.inspection.readings import JOB_FRAME, ReadingFrame, bare_note, borne
from hatchwright.job.as_made import MadeSize
from hatchwright.job.bounds import first_of
from hatchwright.job.bracketed import Bracketed
from hatchwright.job.frame import OPPOSITE, Frame
from hatchwright.job.hole_readings import DimpleCrack, MadeCountersink, MadeHead, StrayHole
from hatchwright.job.job_fields import Kind as JobKind
from hatchwright.job.job_fields import fields_of
from hatchwright.job.pasted_rows import LENGTHS, Column
from hatchwright.job.pasted_table import read_table
from hatchwright.number import MOST_HOLES, UNCERTAINTY_IN
from hatchwright.said import Said, said
from hatchwright.units import MM_PER_IN, Unit, decimal_inch, parse_length
from hatchwright.words.tell import tell

_MODELS: Mapping[Kind, type[Bracketed]] = {
    "diameter": MadeSize,
    "head": MadeHead,
    "countersink": MadeCountersink,
    "dimple": DimpleCrack,
    "stray": StrayHole,
}
"""The line of the job file that a row of each kind becomes."""

OUTLINES: Mapping[str, str] = {"opening": "opening", "outer": "doubler_outer", "inner": "doubler_inner"}
"""The measured outlines by the words of a table: the opening's edge, the doubler's outer one and its inner one."""

SHEETS: Mapping[str, str] = {"skin": "skin", "doubler": "doubler", "cover": "cover", "plug": "patch.plug"}
"""The sheets whose thickness is measured, by the words of a table."""

SIDES = ("x_from", "x_to", "y_from", "y_to")
ALL = "all"
"""In the place of the number of a corner: every corner that is not named."""

_CORNERS = (ALL, "1", "2", "3", "4")


class OtherReading(Struct, frozen=True):
    """One row.

    Args:
        row: of the table, counted from 1.
        cells: as they may stand in a job of its unit, in the order of the columns of its kind.
    """

    kind: Kind
    row: int
    cells: tuple[str, ...]

    @property
    def own_u(self) -> str:
        """Its own uncertainty as typed, "" without."""
        at = _U_AT[self.kind]
        return self.cells[at] if at < len(self.cells) else ""


_U_AT: Mapping[Kind, int] = {
    "diameter": 2,
    "head": 3,
    "countersink": 3,
    "dimple": 2,
    "stray": 3,
    "edge": 3,
    "corner": 3,
    "thickness": 2,
}


def read_others(
    tables: Mapping[Kind, str],
    *,
    unit: Unit,
    job_unit: Unit,
    known: Collection[int],
    axes: Frame,
    frame: ReadingFrame = JOB_FRAME,
    commas_are_decimal: bool = False,
) -> tuple[tuple[OtherReading, ...], tuple[Said, ...]]:
    """Read the rows of every kind but holes.

    Args:
        tables: of `kinds.by_kind`.
        unit: of a bare length of the table.
        job_unit: of one in the job.
        known: numbers of the job's holes.
        axes: of the job, by whose directions a side may be named.
        frame: of X and Y of edges and stray holes.
    Returns:
        tuple: the readings, and what is to be told of how they were read.
    Raises:
        JobError: every row that can't be read, its number as the fault's line and the column as its field.
    """
    found: list[OtherReading] = []
    notes: list[Said] = []
    for kind in _U_AT:
        if kind not in tables:
            continue
        columns = tuple(_columns(kind, axes))
        table = read_table(
            tables[kind], columns, unit=unit, most=MOST_HOLES, commas_are_decimal=commas_are_decimal
        )
        rows = [OtherReading(kind, row.number, row.cells) for row in table.rows]
        if faults := first_of(_faults(rows, columns, known, unit)):
            raise JobError(faults)
        borne_rows = (_borne(one, columns, unit, job_unit) for one in rows)
        found += [_in_job_frame(one, frame, job_unit, axes) for one in borne_rows]
        notes += [*table.notes, *bare_note(tables[kind], unit)]
    return tuple(found), tuple(notes)


def _columns(kind: Kind, axes: Frame) -> Iterator[Column]:
    if model := _MODELS.get(kind):
        for field in fields_of(model):
            yield Column(field.name, field.label, field.kind, field.required, field.choices)
        return
    if kind == "thickness":
        yield _column("part", "one of", tuple(SHEETS))
        yield _column("thickness", LENGTHS[0])
    else:
        yield _column("part", "one of", tuple(OUTLINES))
        if kind == "edge":
            yield _column("side", "one of", (*_sides_of(axes), *SIDES))
            yield _column("place", LENGTHS[1])
        else:
            yield _column("corner", "one of", _CORNERS)
            yield _column("radius", LENGTHS[0])
    yield Column("uncertainty", tell(said("readings.column.uncertainty")), "length", False)


def _column(name: str, kind: JobKind, choices: tuple[str, ...] = ()) -> Column:
    return Column(name, tell(said(f"readings.column.{name}")), kind, True, choices)


def _sides_of(axes: Frame) -> tuple[str, ...]:
    """What a mechanic calls the sides, in the order of `SIDES`."""
    return tuple(way.lower() for way in (OPPOSITE[axes.x], axes.x, OPPOSITE[axes.y], axes.y))


def side_of(word: str, axes: Frame) -> str:
    """The entry of a side by the word of a table."""
    return dict(zip(_sides_of(axes), SIDES, strict=True)).get(word, word)


def _faults(
    rows: Sequence[OtherReading], columns: Sequence[Column], known: Collection[int], unit: Unit
) -> Iterator[Fault]:
    is_numbered, times = columns[0].name == "number", Counter(map(_named, rows))
    first: dict[tuple[str, ...], int] = {}
    for one in rows:
        if is_numbered and int(one.cells[0]) not in known:
            yield Fault.saying(columns[0].label, "readings.no_hole", one.cells[0], line=one.row)
        elif one.kind != "stray" and times[_named(one)] > 1:
            other = first.setdefault(_named(one), one.row)
            if other != one.row:
                given = " ".join(_named(one))
                yield Fault.saying(columns[0].label, "readings.read_twice", given, line=one.row, other=other)
        if one.own_u and parse_length(one.own_u, unit=unit).inch not in UNCERTAINTY_IN:
            yield Fault.saying("u", "readings.no_u", one.own_u, line=one.row)


def _named(one: OtherReading) -> tuple[str, ...]:
    """What is measured, in the cells that say so."""
    return one.cells[: 2 if one.kind in ("edge", "corner", "stray") else 1]


def _borne(one: OtherReading, columns: Sequence[Column], unit: Unit, job_unit: Unit) -> OtherReading:
    cells = (
        borne(cell, unit, job_unit) if column.kind in LENGTHS else cell
        for cell, column in zip(one.cells, columns, strict=False)
    )
    return OtherReading(one.kind, one.row, tuple(cells))


def _in_job_frame(one: OtherReading, frame: ReadingFrame, unit: Unit, axes: Frame) -> OtherReading:
    """An edge or a stray hole where it is in the job's frame.

    Raises:
        JobError: an edge was read in a turned or flipped frame, where it is no edge along the job's axes.
    """
    if frame == JOB_FRAME or one.kind not in ("edge", "stray"):
        return one
    if one.kind == "stray":
        x, y, *rest = one.cells
        x_in, y_in = (parse_length(at, unit=unit, signed=True).inch for at in (x, y))
        places = frame.placed(x_in, y_in)
        return OtherReading(one.kind, one.row, (*(placed(at, unit) for at in places), *rest))
    if frame.turn_deg or frame.flipped:
        raise JobError((Fault.saying("", "readings.edge_turned", line=one.row),))
    part, side, place, *rest = one.cells
    axis = SIDES.index(side_of(side, axes)) // 2
    at_in = parse_length(place, unit=unit, signed=True).inch + (frame.zero_in or (0.0, 0.0))[axis]
    return OtherReading(one.kind, one.row, (part, side, placed(at_in, unit), *rest))


def placed(value_in: float, unit: Unit, *, rounds_up: bool = False) -> str:
    """A place that was worked out, to a tenth of what any gauge on an aircraft shows.

    Args:
        rounds_up: as an uncertainty is.
    """
    value, places = (value_in, 4) if unit == "in" else (value_in * MM_PER_IN, 3)
    if rounds_up:
        value = math.ceil(value * 10**places - _EVEN) / 10**places
    return decimal_inch(value, places) if unit == "in" else f"{value:.{places}f}"


_EVEN = 1e-6
"""So much beyond an even figure is the rounding of the arithmetic [last place]."""
