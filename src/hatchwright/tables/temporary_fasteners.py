"""Temporary fasteners: which size holds in which hole, and how it is told apart."""

from __future__ import annotations

from hatchwright.judged import FLOAT_NOISE
from hatchwright.said import inch, said
from hatchwright.tables.columns import OptionalText
from hatchwright.tables.rivets import RIVET_HOLE_RANGES, hole_drill
from hatchwright.tables.table import Record, ShopTables, Table


class TemporaryFastener(Record, frozen=True):
    """One size.

    Args:
        diameter_in: nominal size, that of the rivet it stands in for [in].
    """

    diameter_in: float
    colour: str
    note: OptionalText


TEMPORARY_FASTENERS = Table(TemporaryFastener, "temporary_fasteners")


def temporary_fastener(hole_in: float, shop: ShopTables | None = None) -> TemporaryFastener:
    """The temporary fastener for a hole: the largest that goes in.

    Raises:
        TableError: the hole is too small or too large for every size.

    >>> temporary_fastener(0.098).diameter_in, temporary_fastener(0.1285).colour
    (0.09375, 'copper')
    """
    sizes = sorted(TEMPORARY_FASTENERS.some(shop), key=lambda one: one.diameter_in)
    going_in = [one for one in sizes if one.diameter_in <= hole_in + FLOAT_NOISE]
    if not going_in or hole_in > _greatest_hole_in(sizes[-1].diameter_in, shop) + FLOAT_NOISE:
        ends = said("table.span", first=inch(sizes[0].diameter_in), last=inch(sizes[-1].diameter_in))
        raise TEMPORARY_FASTENERS.refusal(said("table.hole_of", diameter=inch(hole_in, fine=True)), [ends])
    return going_in[-1]


def loose_over_in(hole_in: float, one: TemporaryFastener, shop: ShopTables | None = None) -> float | None:
    """The greatest hole that a temporary fastener is meant for, where this one is larger; None where it fits [in].

    >>> loose_over_in(0.104, temporary_fastener(0.104)), loose_over_in(0.098, temporary_fastener(0.098))
    (0.103, None)
    """
    greatest_in = _greatest_hole_in(one.diameter_in, shop)
    return greatest_in if hole_in > greatest_in + FLOAT_NOISE else None


def _greatest_hole_in(diameter_in: float, shop: ShopTables | None) -> float:
    """The greatest rivet hole of the size, or its usual drill where no range is listed [in]."""
    listed = RIVET_HOLE_RANGES.all(shop, diameter_in=diameter_in)
    return listed[0].greatest_in if listed else hole_drill(diameter_in, shop=shop).diameter_in
