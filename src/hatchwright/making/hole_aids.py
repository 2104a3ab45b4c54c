"""What helps at a hole: the shop head that documents ask for, temporary fasteners that hold, how far a dimple opens."""

from __future__ import annotations

from collections.abc import Iterable

from hatchwright.errors import TableError
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.rivet_length import ShopHead
from hatchwright.making.hole_work import LayerWork
from hatchwright.said import Said, inch, said
from hatchwright.tables.countersink import dimple_spread
from hatchwright.tables.driven_heads import DrivenHead, driven_head_limits
from hatchwright.tables.rivets import RivetPart
from hatchwright.tables.table import ShopTables
from hatchwright.tables.temporary_fasteners import TemporaryFastener, temporary_fastener


def heads_asked(part: RivetPart, shop: ShopTables | None = None) -> tuple[DrivenHead, ...]:
    """What each document asks of the shop head.

    Returns:
        tuple: side by side; empty for a size that no document lists.
    """
    try:
        return driven_head_limits(part.diameter_in, letters=part.letters, shop=shop)
    except TableError:
        return ()


def missed_by(head: ShopHead, asked: Iterable[DrivenHead]) -> tuple[str, ...]:
    """The documents whose least or greatest diameter a predicted head would miss.

    Args:
        head: as it comes out at half a rivet diameter high.
    Returns:
        tuple: their names, such as ``college notes``.
    """
    return tuple(
        one.document
        for one in asked
        if (one.head_min_in is not None and head.diameter_in < one.head_min_in - FLOAT_NOISE)
        or (one.head_max_in is not None and head.diameter_in > one.head_max_in + FLOAT_NOISE)
    )


def held_by(layers: Iterable[LayerWork], shop: ShopTables | None = None) -> tuple[TemporaryFastener, ...]:
    """The temporary fasteners for the holes that a stack gets on its way, the smallest first.

    Returns:
        tuple: each size once; a hole that none is listed for is left out.
    """
    found: dict[float, TemporaryFastener] = {}
    for hole_in in {step.drill.diameter_in for layer in layers for step in layer.steps if step.drill}:
        try:
            one = temporary_fastener(hole_in, shop)
        except TableError:
            continue
        found[one.diameter_in] = one
    return tuple(found[diameter_in] for diameter_in in sorted(found))


def dimple_opens(layer: LayerWork, shop: ShopTables | None = None) -> Said | None:
    """How far dimpling opens the hole of a sheet.

    Returns:
        Said | None: with its source, or that a trial piece must give it; None where nothing is dimpled.
    """
    before = layer.before_dimple
    if before is None:
        return None
    try:
        after = dimple_spread(str(before), shop)
    except TableError:
        return said("dimple.not_listed", drill=str(before))
    opened = inch(after.value, fine=True)
    return said("dimple.opens", drill=str(before), opened=opened, source=str(after.source), grade=after.grade)
