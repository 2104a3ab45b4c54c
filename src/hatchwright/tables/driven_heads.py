"""How large a shop head must be: every document's limits, side by side, in inches."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.said import inch
from hatchwright.tables.columns import OptionalText
from hatchwright.tables.rivet_part import SERIES
from hatchwright.tables.table import SAME_SIZE_IN, Order, Record, ShopTables, Table
from hatchwright.units import Unit
from hatchwright.workings import Grade, Source

_COUNTED: dict[Unit, str] = {"in": "/32", "mm": " mm"}
"""How a diameter of each series is called."""


class _Ratios(Record, frozen=True):
    document: str
    letters: OptionalText
    head_aim_ratio: float | None
    height_aim_ratio: float | None
    head_min_ratio: float | None
    height_min_ratio: float | None


class _Size(Record, frozen=True):
    document: str
    diameter_in: float
    head_min_in: float
    head_max_in: float | None
    height_min_in: float
    height_max_in: float


DRIVEN_HEADS = Table(
    _Size,
    "driven_heads",
    named_by=2,
    orders=tuple(
        Order(value, along="diameter_in")
        for value in ("head_min_in", "head_max_in", "height_min_in", "height_max_in")
    ),
)

DRIVEN_HEAD_RATIOS = Table(_Ratios, "driven_head_ratios", named_by=2)


_SIZES = ("head_aim", "height_aim", "head_min", "head_max", "height_min", "height_max")


class DrivenHead(Struct, frozen=True):
    """One document's word on the shop head of one rivet; None where it says nothing.

    Args:
        head_aim_in, height_aim_in: diameter and height to aim at [in].
        head_min_in, head_max_in: least and greatest diameter [in].
        height_min_in, height_max_in: least and greatest height [in].
    """

    document: str
    source: Source
    grade: Grade
    head_aim_in: float | None
    height_aim_in: float | None
    head_min_in: float | None
    head_max_in: float | None
    height_min_in: float | None
    height_max_in: float | None


def driven_head_limits(
    diameter_in: float, *, letters: str = "AD", shop: ShopTables | None = None
) -> tuple[DrivenHead, ...]:
    """What each document says of the shop head of a rivet: those in diameters first, then those in inches.

    Args:
        letters: alloy letters; 7050 rivets ("KE") need a wider head.
    Raises:
        TableError: no rivet is made in that diameter.

    >>> [head.document for head in driven_head_limits(0.125)]
    ['1940s manual', 'design minimum', 'college notes', 'military specification']
    """
    made = {
        f"{size:g}{_COUNTED[unit]}": size * one.diameter_step_in
        for unit, one in SERIES.items()
        for size in one.diameters
    }
    if not any(abs(size_in - diameter_in) < SAME_SIZE_IN for size_in in made.values()):
        raise DRIVEN_HEADS.refusal(inch(diameter_in, fine=True), list(made))
    in_diameters = [row for row in DRIVEN_HEAD_RATIOS.all(shop) if row.letters in ("", letters)]
    special = {row.document for row in in_diameters if row.letters}
    in_diameters = [row for row in in_diameters if row.letters or row.document not in special]
    in_inches = DRIVEN_HEADS.all(shop, diameter_in=diameter_in)
    return (
        *(_head(row, "ratio", diameter_in) for row in in_diameters),
        *(_head(row, "in", 1.0) for row in in_inches),
    )


def _head(row: _Ratios | _Size, unit: str, size_in: float) -> DrivenHead:
    """What one row says, whose sizes are multiples of a length; None for columns that it has not or leaves empty."""
    said_of = {name: getattr(row, f"{name}_{unit}", None) for name in _SIZES}
    sizes_in = {f"{name}_in": None if of is None else of * size_in for name, of in said_of.items()}
    return DrivenHead(row.document, row.source, row.grade, **sizes_in)
