"""Temporary fasteners: which size holds in which hole, and how it is told apart."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.errors import TableError
from hatchwright.judged import FLOAT_NOISE
from hatchwright.tables.catalog import TEMPORARY_FASTENERS
from hatchwright.tables.rivets import hole_drill, hole_range
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Source


@dataclass(frozen=True, slots=True)
class TemporaryFastener:
    """One size.

    Args:
        diameter_in: nominal size, that of the rivet it stands in for [in].
        colour: colour that marks the size.
        note: what a reader must know beside it.
        source: where the colour is published.
        grade: how far it is to be trusted.
    """

    diameter_in: float
    colour: str
    note: str
    source: Source
    grade: Grade


def temporary_fasteners(shop: ShopTables | None = None) -> tuple[TemporaryFastener, ...]:
    """All sizes, smallest first.

    Args:
        shop: a shop's own rows, when there are any.
    Returns:
        tuple[TemporaryFastener, ...]: with their colours.
    """
    found = (
        TemporaryFastener(
            row.number("diameter_in"), row.text("colour"), row.text("note"), row.source, row.grade
        )
        for row in TEMPORARY_FASTENERS.rows(shop)
    )
    return tuple(sorted(found, key=lambda one: one.diameter_in))


def temporary_fastener(hole_in: float, shop: ShopTables | None = None) -> TemporaryFastener:
    """The temporary fastener for a hole: the largest that goes in.

    Args:
        hole_in: diameter of the hole [in].
        shop: a shop's own rows, when there are any.
    Returns:
        TemporaryFastener: its note says so when the hole is larger than its size is meant for.
    Raises:
        TableError: the hole is too small or too large for every size.

    >>> temporary_fastener(0.098).diameter_in, temporary_fastener(0.1285).colour
    (0.09375, 'copper')
    """
    sizes = temporary_fasteners(shop)
    going_in = [one for one in sizes if one.diameter_in <= hole_in + FLOAT_NOISE]
    if not going_in or hole_in > _greatest_hole_in(sizes[-1].diameter_in, shop) + FLOAT_NOISE:
        raise TableError(
            f"no temporary fastener is for a hole of {hole_in:.4f} in",
            where="temporary fasteners",
            remedy=f"Sizes run from {sizes[0].diameter_in:g} to {sizes[-1].diameter_in:g} in",
        )
    found = going_in[-1]
    greatest_in = _greatest_hole_in(found.diameter_in, shop)
    if hole_in <= greatest_in + FLOAT_NOISE:
        return found
    loose = f"the hole is larger than {greatest_in:.3f} in, for which it is meant; try whether it holds"
    note = "; ".join(filter(None, (found.note, loose)))
    return TemporaryFastener(found.diameter_in, found.colour, note, found.source, found.grade)


def _greatest_hole_in(diameter_in: float, shop: ShopTables | None) -> float:
    """The greatest rivet hole of the size, or its usual drill where no range is listed [in]."""
    try:
        return hole_range(diameter_in, shop).greatest_in
    except TableError:
        return hole_drill(diameter_in, shop=shop).diameter_in
