"""Clip nuts: facts that only the shop can give, from the part in its hand."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.tables.table import Record, ShopTables, Table


@dataclass(frozen=True, slots=True)
class ClipNut(Record):
    """One clip nut.

    Args:
        reach_in: from the edge it clips on to the screw hole [in].
        grip_min_in, grip_max_in: thinnest and thickest sheet it holds on [in].
        width_in: along the edge, which must be straight there [in].
    """

    name: str
    thread: str
    reach_in: float
    grip_min_in: float
    grip_max_in: float
    width_in: float


CLIP_NUTS = Table(ClipNut, "clip_nuts", otherwise=True, asks=("name",))


def clip_nuts(shop: ShopTables | None = None) -> dict[str, ClipNut]:
    """All clip nuts that the shop has entered, by name; none ship with the program."""
    return {found.name: found for found in CLIP_NUTS.all(shop)}
