"""The fastener symbol of drawings: a cross with a code in each quarter, restated, never authoritative."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.tables.rivet_part import RivetPart
from hatchwright.tables.table import Record, Table
from hatchwright.workings import Grade, Source


@dataclass(frozen=True, slots=True)
class _Code(Record):
    quarter: str
    code: str
    meaning: str


NAS523_CODES = Table(_Code, "nas523_codes", named_by=2, is_open=False, title="NAS523 codes", otherwise=True)


@dataclass(frozen=True, slots=True)
class FastenerSymbol:
    """What stands in the four quarters of the cross; the plain part number is always printed beside it.

    Args:
        upper_left: code of head and alloy.
        upper_right: diameter in 32nds and the side of the manufactured head.
        lower_left: preparation, "" for a plain hole.
        lower_right: length in 16ths, "" when open.
    """

    upper_left: str
    upper_right: str
    lower_left: str
    lower_right: str
    source: Source
    grade: Grade


def fastener_symbol(part: RivetPart, *, head: str = "N", preparation: str = "") -> FastenerSymbol:
    """The symbol of a rivet.

    Args:
        head: "N" manufactured head on the near side, "F" on the far side.
        preparation: "", "D" dimple, "D2" dimple both sheets or "C" countersink.
    Raises:
        TableError: there is no code for the rivet, the side or the preparation.

    >>> from hatchwright.tables.rivet_part import parse_rivet
    >>> symbol = fastener_symbol(parse_rivet("MS20426AD4-5"), preparation="D2")
    >>> symbol.upper_left, symbol.upper_right, symbol.lower_left, symbol.lower_right
    ('BB', '4N', 'D2', '5')
    """
    family = part.head.replaced_by or part.family
    found = NAS523_CODES.one(quarter="upper left", meaning=f"{family}{part.letters}")
    side = NAS523_CODES.one(quarter="upper right", code=head)
    return FastenerSymbol(
        upper_left=found.code,
        upper_right=f"{part.diameter_32nds}{side.code}",
        lower_left=NAS523_CODES.one(quarter="lower left", code=preparation).code if preparation else "",
        lower_right="" if part.length_16ths is None else f"{part.length_16ths:g}",
        source=found.source,
        grade=found.grade,
    )
