"""Readings of drilled holes, out of a table in any frame: a number or none, a place, a diameter, a u of its own."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Collection, Iterator, Sequence

from msgspec import Struct

from hatchwright.errors import Fault, JobError
from hatchwright.job.as_made import MadeHole, PolarHole
from hatchwright.job.bounds import first_of
from hatchwright.job.bracketed import Bracketed
from hatchwright.job.job_fields import fields_of
from hatchwright.job.pasted_heads import heading_of
from hatchwright.job.pasted_rows import Column, Row
from hatchwright.job.pasted_table import Table, read_table
from hatchwright.number import MOST_HOLES, UNCERTAINTY_IN
from hatchwright.said import Said, said
from hatchwright.tables.drills import drill_sizes
from hatchwright.units import Unit, parse_length

MOST_STRAYS = 1000
"""Readings of holes that the job does not have, at most; the job file takes as many [-]."""

Point = tuple[float, float]


class ReadingFrame(Struct, frozen=True):
    """Where readings were taken from, in the job's frame.

    Args:
        zero_in: their zero (x, y); None for that of the job, or for the opening's center where they are by radius and
            angle [in].
        turn_deg: from the job's X toward its Y to their own X [deg].
        flipped: whether their Y runs to the other side than the job's does, seen from the same face.
    """

    zero_in: Point | None = None
    turn_deg: float = 0.0
    flipped: bool = False

    def placed(self, x_in: float, y_in: float, zero_in: Point = (0.0, 0.0)) -> Point:
        """A reading in the job's frame (x, y) [in].

        Args:
            zero_in: where nothing else was entered (x, y) [in].
        """
        zero_in = self.zero_in or zero_in
        y_in = -y_in if self.flipped else y_in
        c, s = math.cos(math.radians(self.turn_deg)), math.sin(math.radians(self.turn_deg))
        return zero_in[0] + c * x_in - s * y_in, zero_in[1] + s * x_in + c * y_in


JOB_FRAME = ReadingFrame()


class Reading(Struct, frozen=True):
    """One drilled hole as measured.

    Args:
        row: of the table, counted from 1.
        number: of the hole, None where the row names none.
        x_in, y_in: center in the job's frame [in].
        u_in: expanded uncertainty of the place along each axis, its own [in].
        diameter: as typed, "" where it was not measured.
        own_u: as typed, "" where the common one holds.
        typed: x and y as they may stand in a job of that unit; none where they were typed in another frame.
    """

    row: int
    number: int | None
    x_in: float
    y_in: float
    u_in: float
    diameter: str = ""
    diameter_in: float | None = None
    own_u: str = ""
    typed: tuple[str, ...] = ()

    @property
    def place(self) -> Point:
        """Its center [in]."""
        return self.x_in, self.y_in


class Readings(Struct, frozen=True):
    """What was measured, and what is to be told of how the table was read."""

    all: tuple[Reading, ...]
    notes: tuple[Said, ...]


def read_readings(
    text: str,
    *,
    unit: Unit,
    job_unit: Unit,
    u_in: float | None,
    known: Collection[int],
    center_in: Point,
    frame: ReadingFrame = JOB_FRAME,
    is_polar: bool = False,
    commas_are_decimal: bool = False,
) -> Readings:
    """Read a table of drilled holes.

    Columns are number, X, Y, or radius and angle where the heading says so, then diameter and u, the first and the last
    two where they were measured. The heading may put them in any order.

    Args:
        unit: of a bare length of the table.
        job_unit: of one in the job.
        u_in: expanded uncertainty of a reading that names none, None where nobody gave it [in].
        known: numbers of the job's holes.
        center_in: about which radius and angle are taken, in the job's frame [in].
        frame: of X and Y, or of the line from which angles are taken.
        is_polar: whether the columns are radius and angle though no heading says so.
    Raises:
        JobError: every row that can't be read, its number as the fault's line and the column as its field; or nothing
            says how far off a reading may be.
    """
    is_polar = is_polar or _is_polar(text)
    model = PolarHole if is_polar else MadeHole
    table, numbered = _table(text, model, unit=unit, commas_are_decimal=commas_are_decimal)
    if faults := first_of(_faults(table.rows, numbered, known, unit)):
        raise JobError(faults)
    if u_in is None and not all(_cells(row, numbered)[4] for row in table.rows):
        raise JobError.about("u", "measure.no_u")
    found = []
    for row in table.rows:
        number, one, other, diameter, own_u = _cells(row, numbered)
        first_in = parse_length(one, unit=unit, signed=True).inch
        if is_polar:
            angle = math.radians(float(other.replace(",", ".")))
            place = frame.placed(first_in * math.cos(angle), first_in * math.sin(angle), center_in)
        else:
            place = frame.placed(first_in, parse_length(other, unit=unit, signed=True).inch)
        is_as_typed = frame == JOB_FRAME and not is_polar
        found.append(
            Reading(
                row=row.number,
                number=int(number) if number else None,
                x_in=place[0],
                y_in=place[1],
                u_in=parse_length(own_u, unit=unit).inch if own_u else u_in or 0.0,
                diameter=borne(diameter, unit, job_unit),
                diameter_in=parse_length(diameter, unit=unit, drills=drill_sizes()).inch
                if diameter
                else None,
                own_u=borne(own_u, unit, job_unit),
                typed=tuple(borne(cell, unit, job_unit) for cell in (one, other)) if is_as_typed else (),
            )
        )
    return Readings(tuple(found), (*table.notes, *_notes(text, numbered, unit)))


_NAMED = re.compile(r"[a-z#\"″]", re.IGNORECASE)


def borne(cell: str, unit: Unit, job_unit: Unit) -> str:
    """A length as it may stand in the job: with its unit where that is another and the cell names none."""
    return cell if not cell or unit == job_unit or _NAMED.search(cell) else f"{cell} {unit}"


_HEADS = 4
"""Lines at the top among which headings are looked for."""


def _heads(text: str) -> set[str]:
    """The columns that the top of a table names."""
    lines = [line for line in text.splitlines() if line.strip()][:_HEADS]
    words = (
        word for line in lines for word in line.replace("\t", " ").replace(";", " ").replace(",", " ").split()
    )
    return {name for word in words if (name := heading_of(word))}


def _is_polar(text: str) -> bool:
    return {"radius", "angle"} <= _heads(text)


def _columns(model: type[Bracketed], numbered: bool) -> tuple[Column, ...]:
    """Those of a hole in the job file, where a reading may do without a number."""
    return tuple(
        Column(field.name, field.label, field.kind, field.required and field.name != "number")
        for field in fields_of(model)
        if numbered or field.name != "number"
    )


def _table(text: str, model: type[Bracketed], *, unit: Unit, commas_are_decimal: bool) -> tuple[Table, bool]:
    """The rows, and whether the first column is the number: it is wherever it can be read so."""
    refused: list[JobError] = []
    for numbered in (True, False):
        try:
            table = read_table(
                text,
                _columns(model, numbered),
                unit=unit,
                most=MOST_HOLES + MOST_STRAYS,
                commas_are_decimal=commas_are_decimal,
            )
        except JobError as error:
            refused.append(error)
            continue
        return table, numbered
    raise min(refused, key=lambda error: len(error.faults))


def _cells(row: Row, numbered: bool) -> tuple[str, str, str, str, str]:
    cells = row.cells if numbered else ("", *row.cells)
    number, one, other, diameter, u = (*cells, "", "", "", "", "")[:5]
    return number, one, other, diameter, u


def _faults(rows: Sequence[Row], numbered: bool, known: Collection[int], unit: Unit) -> Iterator[Fault]:
    label = fields_of(MadeHole)[0].label
    times = Counter(_cells(row, numbered)[0] for row in rows)
    first: dict[str, int] = {}
    for row in rows:
        number = _cells(row, numbered)[0]
        if not number:
            continue
        if int(number) not in known:
            yield Fault.saying(label, "readings.no_hole", number, line=row.number)
        elif times[number] > 1:
            other = first.setdefault(number, row.number)
            if other != row.number:
                yield Fault.saying(label, "readings.twice", number, line=row.number, other=other)
    for row in rows:
        u = _cells(row, numbered)[4]
        if u and parse_length(u, unit=unit).inch not in UNCERTAINTY_IN:
            yield Fault.saying("u", "readings.no_u", u, line=row.number)


def _notes(text: str, numbered: bool, unit: Unit) -> Iterator[Said]:
    """What was taken for granted, because the table does not say it."""
    if numbered and "number" not in _heads(text):
        yield said("readings.first_is_number")
    yield from bare_note(text, unit)


def bare_note(text: str, unit: Unit) -> Iterator[Said]:
    """In which unit the lengths of a table were read that names none."""
    if not _UNIT.search(text):
        yield said("readings.bare", unit=said(f"paste.unit.{unit}"))


_UNIT = re.compile(r"(?<![a-z])(?:in|inch|inches|mm)(?![a-z])|[\"″]", re.IGNORECASE)
