"""The fastener symbol of drawings: a cross with a code in each quarter, restated, never authoritative."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from hatchwright.tables.table import Record, Table
from hatchwright.workings import Grade

Quarter = Literal["upper left", "upper right", "lower left"]


class _Code(Record, frozen=True):
    quarter: Quarter
    code: str
    meaning: str


NAS523_CODES = Table(_Code, "nas523_codes", named_by=2, is_open=False, title="NAS523 codes", otherwise=True)

_SIDES = {"near": "manufactured head near side", "far": "manufactured head far side"}


class FastenerCross(Struct, frozen=True):
    """The codes of one cross, its lower right quarter left open: a length is settled on scrap.

    Args:
        upper_left: of the fastener.
        upper_right: diameter in 32nds with the side of the manufactured head in the view that is named.
        lower_left: preparation, "" for a plain hole.
        grade: how far the codes are to be trusted.
    """

    upper_left: str
    upper_right: str
    lower_left: str
    grade: Grade


def fastener_cross(
    rivet: str, size_32nds: float, *, head: Literal["near", "far"], dimpled: int, is_countersunk: bool
) -> FastenerCross | None:
    """The cross of a rivet, None where the table lacks a code that it needs.

    Args:
        rivet: family and alloy letters, such as "MS20470AD".
        size_32nds: diameter of the shank [1/32 in].
        head: on which side of the named view its manufactured head lies.
        dimpled: how many sheets are dimpled.

    >>> fastener_cross("MS20426AD", 3, head="near", dimpled=2, is_countersunk=False).lower_left
    'D2'
    """
    wanted: list[tuple[Quarter, str]] = [("upper left", rivet), ("upper right", _SIDES[head])]
    if dimpled:
        wanted.append(("lower left", "dimple" if dimpled == 1 else "dimple both sheets"))
    if is_countersunk:
        wanted.append(("lower left", "countersink"))
    found = [NAS523_CODES.all(quarter=quarter, meaning=meaning) for quarter, meaning in wanted]
    if dimpled > 2 or not all(found):
        return None
    fastener, side, *prepared = (rows[0] for rows in found)
    codes = "".join(row.code for row in prepared)
    return FastenerCross(fastener.code, f"{size_32nds:g}{side.code}", codes, fastener.grade)
