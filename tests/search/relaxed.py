"""A job with limits moved as a conflict says: what may be entered is entered; a request is taken for granted, and a
published limit for one that the shop's own tables give, as if an engineer had shown it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.remedy import EntryChange, PartChange
from hatchwright.search.candidate import Candidate
from hatchwright.search.proposal.values import Relaxation
from hatchwright.tables.limits import RULE_LIMITS
from hatchwright.tables.rivets_per_inch import AC43_TABLE_4_10
from hatchwright.tables.table import Row, ShopTables
from hatchwright.workings import Grade, Source

_KEYS = {
    "clearance": "clearance_to_adjacent_structure",
    "edge": "edge_min_single_row_protruding",
    "pitch": "pitch_min_double_row",
}
_NOTE_C = 0.75
"""[AC43.13-1B], table 4-10, note c: the jobs here go by it."""


def relaxed(layout: Layout, way: Sequence[Relaxation]) -> Layout:
    """The job laid out again with every limit of a way moved."""
    entries: list[EntryChange] = []
    parts: list[PartChange] = []
    rows: dict[str, list[Row]] = {"rule_limits": [], "ac43_13_1b_table_4_10": []}
    for one in way:
        change = one.may_be_entered
        if isinstance(change, EntryChange):
            entries.append(change)
        elif isinstance(change, PartChange):
            parts.append(change)
        elif one.key in _KEYS:
            rows["rule_limits"] += _limit(_KEYS[one.key], one.to.value)
        elif one.key == "count":
            rows["ac43_13_1b_table_4_10"] += _per_inch(layout, round(one.from_.value - one.to.value))
        else:
            entries += _granted(layout, one)
    job = Candidate(tuple(entries), one.limit, tuple(parts)).on(layout.job)
    return lay_out(job, ShopTables({name: tuple(some) for name, some in rows.items() if some}))


def _limit(key: str, value: float) -> list[Row]:
    (own,) = (row for row in RULE_LIMITS.rows() if row.cells["key"] == key)
    return [_shops(dict(own.cells) | {"value": f"{value:.9f}"})]


def _per_inch(layout: Layout, fewer: int) -> list[Row]:
    """Of every rivet for this skin so many that each side of the cut asks for as many fewer, and none for less."""
    x_min, y_min, x_max, y_max = layout.wanted.bounds
    found = []
    for row in AC43_TABLE_4_10.rows():
        if float(row.cells["thickness_in"]) != layout.job.skin.thickness.inch:
            continue
        per_inch = float(row.cells["rivets_per_in"])
        most = min(
            (math.ceil(cut * per_inch * _NOTE_C - 1e-9) - fewer) / (cut * _NOTE_C)
            for cut in (x_max - x_min, y_max - y_min)
        )
        found.append(_shops(dict(row.cells) | {"rivets_per_in": f"{max(0.5, most - 1e-6):.9f}"}))
    return found


def _shops(cells: dict[str, str]) -> Row:
    source = {"source": "OUR-HANDBOOK", "place": "1", "edition": "1", "basis": "shop"}
    return Row(cells | source, 2, Source("OUR-HANDBOOK", "1"), Grade.SHOP)


def _granted(layout: Layout, one: Relaxation) -> list[EntryChange]:
    """What was mandated, changed by whoever mandates it."""
    new = f"{one.to.value:.6f}"
    if one.key == "place":
        return [EntryChange("wish.shift", "", new)]
    name = _axis_of(one)
    entries = [EntryChange(f"opening.{name}", getattr(layout.job.opening, name).text, new)]
    asked = {"width": "opening_x", "height": "opening_y"}[name]
    if getattr(layout.job.mandate, asked):
        entries.append(EntryChange(f"mandate.{asked}", getattr(layout.job.mandate, asked).text, new))
    return entries


def _axis_of(one: Relaxation) -> str:
    return str(one.limit.id).rpartition(".")[2]
