"""The fastener symbol of drawings: a cross with a code in each quarter, restated, never authoritative."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from hatchwright.errors import TableError
from hatchwright.tables.catalog import NAS523_CODES
from hatchwright.tables.rivet_part import RivetPart
from hatchwright.workings import Grade, Source


@dataclass(frozen=True, slots=True)
class FastenerSymbol:
    """What stands in the four quarters of the cross; the plain part number is always printed beside it.

    Args:
        upper_left: code of head and alloy.
        upper_right: diameter in 32nds and the side of the manufactured head.
        lower_left: preparation, "" for a plain hole.
        lower_right: length in 16ths, "" when open.
        source: where the codes were seen restated.
        grade: how far they are to be trusted.
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
        part: the rivet.
        head: "N" manufactured head on the near side, "F" on the far side.
        preparation: "", "D" dimple, "D2" dimple both sheets or "C" countersink.
    Returns:
        FastenerSymbol: the four quarters.
    Raises:
        TableError: there is no code for the rivet, the side or the preparation.

    >>> from hatchwright.tables.rivet_part import parse_rivet
    >>> symbol = fastener_symbol(parse_rivet("MS20426AD4-5"), preparation="D2")
    >>> symbol.upper_left, symbol.upper_right, symbol.lower_left, symbol.lower_right
    ('BB', '4N', 'D2', '5')
    """
    family = part.head.replaced_by or part.family
    codes = {meaning: code for (quarter, code), meaning in _meanings().items() if quarter == "upper left"}
    rivet = f"{family}{part.letters}"
    if rivet not in codes:
        raise TableError(
            f"no symbol code is listed for {rivet}",
            where="NAS523 codes",
            remedy=f"Listed: {', '.join(codes)}; print the part number alone",
        )
    _must_be_known("upper right", head)
    if preparation:
        _must_be_known("lower left", preparation)
    first = NAS523_CODES.rows()[0]
    return FastenerSymbol(
        upper_left=codes[rivet],
        upper_right=f"{part.diameter_32nds}{head}",
        lower_left=preparation,
        lower_right="" if part.length_16ths is None else f"{part.length_16ths:g}",
        source=first.source,
        grade=first.grade,
    )


def _must_be_known(quarter: str, code: str) -> None:
    if (quarter, code) not in _meanings():
        there = ", ".join(known for place, known in _meanings() if place == quarter)
        raise TableError(
            f"'{code}' is no code of the {quarter} quarter", where="NAS523 codes", remedy=f"Listed: {there}"
        )


@cache
def _meanings() -> dict[tuple[str, str], str]:
    return {(row.text("quarter"), row.text("code")): row.text("meaning") for row in NAS523_CODES.rows()}
