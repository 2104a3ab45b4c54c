"""Aircraft and stock counts as they come out of a spreadsheet or a message, and as they stand in a fleet file."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from typing import Literal

from msgspec import Struct

from hatchwright.errors import Fault, JobError
from hatchwright.job.entry_words import label_of
from hatchwright.job.fleet.fleet import REGISTRATION, FleetAircraft
from hatchwright.job.fleet.line import Line, Stock
from hatchwright.job.pasted_rows import Column
from hatchwright.job.pasted_table import read_table
from hatchwright.words.tell import tell

SIDES: tuple[Literal["left", "right"], ...] = ("left", "right")
_MOST_AIRCRAFT, _MOST_STOCK = 500, 1000


class PastedAircraft(Struct, frozen=True):
    """One row: an aircraft and its sides that get the opening."""

    registration: str
    serial: str
    sides: tuple[str, ...]


def aircraft_columns() -> tuple[Column, ...]:
    """Registration and serial number, and the side where not both get the opening."""
    return (
        Column("registration", tell(label_of(FleetAircraft, "registration")), "words", True),
        Column("serial", tell(label_of(FleetAircraft, "serial")), "words", True),
        Column("side", tell(label_of(Line, "side")), "one of", False, (*SIDES, "both")),
    )


def stock_columns() -> tuple[Column, ...]:
    """Part number and pieces."""
    return (
        Column("number", tell(label_of(Stock, "number")), "words", True),
        Column("pieces", tell(label_of(Stock, "count")), "words", True),
    )


def read_aircraft(pasted: str) -> tuple[PastedAircraft, ...]:
    """Read rows of registration, serial number and side.

    Raises:
        JobError: a row can't be read, or a registration is none; each fault with the number of its row as its line.
    """
    columns = aircraft_columns()
    rows = read_table(pasted, columns, unit="in", most=_MOST_AIRCRAFT).rows
    label = columns[0].label
    faults = tuple(
        Fault.saying(label, "fleet.no_registration", row.cells[0][:40], line=row.number)
        for row in rows
        if not re.fullmatch(REGISTRATION, row.cells[0], re.ASCII)
    )
    if faults:
        raise JobError(faults)
    return tuple(_aircraft(row.cells) for row in rows)


def _aircraft(cells: Sequence[str]) -> PastedAircraft:
    side = cells[2] if len(cells) > 2 else ""
    return PastedAircraft(cells[0].upper(), cells[1], (side,) if side in SIDES else SIDES)


def aircraft_text(aircraft: Sequence[PastedAircraft]) -> str:
    """The same as they stand in a fleet file."""
    return "".join(line for one in aircraft for line in _lines(one))


def _lines(one: PastedAircraft) -> Iterator[str]:
    yield f"\n[[aircraft]]\nregistration = {_quoted(one.registration)}\nserial = {_quoted(one.serial)}\n"
    for side in one.sides:
        yield f"\n[[aircraft.lines]]\nside = {_quoted(side)}\n"


def read_stock(pasted: str) -> list[dict[str, str | int]]:
    """Read rows of part number and pieces; nothing pasted is an empty stock. JobError as of `read_aircraft`."""
    if not pasted.strip():
        return []
    columns = stock_columns()
    rows = read_table(pasted, columns, unit="in", most=_MOST_STOCK).rows
    faults = tuple(
        Fault.saying(columns[1].label, "fleet.no_stock", row.cells[1][:40], line=row.number)
        for row in rows
        if not re.fullmatch(r"\d{1,6}", row.cells[1], re.ASCII)
    )
    if faults:
        raise JobError(faults)
    return [{"number": row.cells[0], "count": int(row.cells[1])} for row in rows]


def stock_rows(stock: Sequence[Stock]) -> str:
    """The stock as it may be pasted again."""
    return "".join(f"{one.number}\t{one.count}\n" for one in stock)


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
