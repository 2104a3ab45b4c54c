"""Rivet holes that came out larger than their rivet fills, and holes that got a larger rivet than was drawn."""

from __future__ import annotations

from hatchwright.errors import EntryError, TableError
from hatchwright.judged import FLOAT_NOISE, judge
from hatchwright.layout.layout import Hole, Layout
from hatchwright.tables.rivet_part import parse_rivet
from hatchwright.tables.rivets import hole_range
from hatchwright.tables.table import ShopTables


def is_oversize(hole: Hole, shop: ShopTables | None = None, *, doubt: bool = False) -> bool:
    """Whether a hole is larger than its rivet allows; not where it was not measured, or no table has its rivet.

    Args:
        doubt: whether one that may be by its uncertainty counts too.
    """
    if hole.hole_in is None:
        return False
    try:
        greatest_in = hole_range(hole.diameter_in, shop).greatest_in
    except TableError:
        return False
    return bool(
        judge(hole.hole_in, greatest_in, u=hole.size_uncertainty_in if doubt else 0.0, at_least=False)
    )


def has_larger_rivet(hole: Hole, layout: Layout) -> bool:
    """Whether a hole was rescued by a larger rivet than its row's; not where no table lists one of the two."""
    if hole.kind != "rivet" or hole.nominal_in is None:
        return False
    row = next(row for row in layout.job.rows if row.name == hole.row)
    try:
        drawn_in = parse_rivet(row.rivet).diameter_in
    except EntryError:
        return False
    return hole.nominal_in > drawn_in + FLOAT_NOISE
