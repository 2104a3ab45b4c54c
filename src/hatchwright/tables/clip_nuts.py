"""Clip nuts: facts that only the shop can give, from the part in its hand."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.errors import TableError
from hatchwright.judged import FLOAT_NOISE
from hatchwright.tables.catalog import CLIP_NUTS
from hatchwright.tables.table import ShopTables
from hatchwright.workings import Grade, Source


@dataclass(frozen=True, slots=True)
class ClipNut:
    """One clip nut.

    Args:
        name: what the shop calls it.
        thread: such as "8-32".
        reach_in: from the edge it clips on to the screw hole [in].
        grip_min_in: thinnest sheet it holds on [in].
        grip_max_in: thickest sheet it holds on [in].
        width_in: along the edge, which must be straight there [in].
        source: where the shop has it from.
        grade: the shop's own.
    """

    name: str
    thread: str
    reach_in: float
    grip_min_in: float
    grip_max_in: float
    width_in: float
    source: Source
    grade: Grade

    def grips(self, thickness_in: float) -> bool:
        """Whether it holds on a thickness of sheet [in]."""
        return self.grip_min_in - FLOAT_NOISE <= thickness_in <= self.grip_max_in + FLOAT_NOISE


def clip_nuts(shop: ShopTables | None = None) -> dict[str, ClipNut]:
    """All clip nuts that the shop has entered, by name; none ship with the program.

    Args:
        shop: a shop's own rows.
    Returns:
        dict[str, ClipNut]: by name.
    """
    return {
        row.text("name"): ClipNut(
            name=row.text("name"),
            thread=row.text("thread"),
            reach_in=row.number("reach_in"),
            grip_min_in=row.number("grip_min_in"),
            grip_max_in=row.number("grip_max_in"),
            width_in=row.number("width_in"),
            source=row.source,
            grade=row.grade,
        )
        for row in CLIP_NUTS.rows(shop)
    }


def clip_nut(name: str, shop: ShopTables | None = None) -> ClipNut:
    """One clip nut by the shop's name for it.

    Args:
        name: the shop's name.
        shop: a shop's own rows.
    Returns:
        ClipNut: its reach, grip range and width.
    Raises:
        TableError: the shop has entered no such clip nut.
    """
    entered = clip_nuts(shop)
    if name not in entered:
        raise TableError(
            f"there is no clip nut '{name}'",
            where="clip nuts",
            remedy=f"Measure it and add it to the shop's own clip_nuts.csv; entered: {', '.join(entered) or 'none'}",
        )
    return entered[name]
