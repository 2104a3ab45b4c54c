"""How large a shop head must be: every document's limits, side by side, in inches."""

from __future__ import annotations

from dataclasses import dataclass

from hatchwright.errors import TableError
from hatchwright.tables.catalog import DRIVEN_HEAD_RATIOS, DRIVEN_HEADS
from hatchwright.tables.rivet_part import DIAMETERS_32NDS
from hatchwright.tables.table import DIAMETER_MATCH_IN, Row, ShopTables
from hatchwright.workings import Grade, Source


@dataclass(frozen=True, slots=True)
class DrivenHead:
    """One document's word on the shop head of one rivet; None where it says nothing.

    Args:
        document: the document in short.
        head_aim_in: diameter to aim at [in].
        height_aim_in: height to aim at [in].
        head_min_in: least diameter [in].
        head_max_in: greatest diameter [in].
        height_min_in: least height [in].
        height_max_in: greatest height [in].
        source: where it stands.
        grade: how far it is to be trusted.
    """

    document: str
    head_aim_in: float | None
    height_aim_in: float | None
    head_min_in: float | None
    head_max_in: float | None
    height_min_in: float | None
    height_max_in: float | None
    source: Source
    grade: Grade


def driven_head_limits(
    diameter_in: float, *, letters: str = "AD", shop: ShopTables | None = None
) -> tuple[DrivenHead, ...]:
    """What each document says of the shop head of a rivet.

    Args:
        diameter_in: nominal diameter [in].
        letters: alloy letters; 7050 rivets ("KE") need a wider head.
        shop: a shop's own rows, when there are any.
    Returns:
        tuple[DrivenHead, ...]: documents in diameters first, then those that list the size in inches.
    Raises:
        TableError: no rivet is made in that diameter.

    >>> [head.document for head in driven_head_limits(0.125)]
    ['handbook aim', 'design minimum', 'college notes', 'military specification']
    """
    if not any(abs(size / 32 - diameter_in) < DIAMETER_MATCH_IN for size in DIAMETERS_32NDS):
        made = ", ".join(f"{size / 32:g}" for size in DIAMETERS_32NDS)
        raise TableError(
            f"no solid rivet is {diameter_in:.4f} in across", where="driven heads", remedy=f"Sizes: {made} in"
        )
    in_diameters = [row for row in DRIVEN_HEAD_RATIOS.rows(shop) if row.text("letters") in ("", letters)]
    special = {row.text("document") for row in in_diameters if row.text("letters")}
    ratios = [row for row in in_diameters if row.text("letters") or row.text("document") not in special]
    sizes = [row for row in DRIVEN_HEADS.rows(shop) if row.is_size("diameter_in", diameter_in)]
    return tuple(_by_ratio(row, diameter_in) for row in ratios) + tuple(_by_size(row) for row in sizes)


def _by_ratio(row: Row, diameter_in: float) -> DrivenHead:
    def times(heading: str) -> float | None:
        ratio = row.number_or_none(heading)
        return None if ratio is None else ratio * diameter_in

    return DrivenHead(
        document=row.text("document"),
        head_aim_in=times("head_aim_ratio"),
        height_aim_in=times("height_aim_ratio"),
        head_min_in=times("head_min_ratio"),
        head_max_in=None,
        height_min_in=times("height_min_ratio"),
        height_max_in=None,
        source=row.source,
        grade=row.grade,
    )


def _by_size(row: Row) -> DrivenHead:
    return DrivenHead(
        document=row.text("document"),
        head_aim_in=None,
        height_aim_in=None,
        head_min_in=row.number("head_min_in"),
        head_max_in=row.number_or_none("head_max_in"),
        height_min_in=row.number("height_min_in"),
        height_max_in=row.number("height_max_in"),
        source=row.source,
        grade=row.grade,
    )
