"""What the making cannot say of holes whose fasteners no table lists."""

from __future__ import annotations

from collections.abc import Iterable

from hatchwright.finding import Finding, stated
from hatchwright.ground import practice
from hatchwright.judged import Status
from hatchwright.layout.layout import Hole, Layout
from hatchwright.layout.unlisted import unlisted_names, what_of
from hatchwright.register import Entry
from hatchwright.said import said

_UNLISTED = practice("what no table gives")


def unlisted_findings(entry: Entry, holes: Iterable[Hole], layout: Layout) -> tuple[Finding, ...]:
    """Say that a code is not shown for holes whose fasteners no table lists.

    Args:
        entry: the code.
        holes: that it asks about.
    Returns:
        tuple: one for each such fastener; empty where all are listed.
    """
    lacking: dict[object, list[int]] = {}
    for hole in holes:
        if hole.nominal_in is None:
            lacking.setdefault(what_of(hole), []).append(hole.number)
    if not lacking:
        return ()
    names = unlisted_names(layout.job, layout.shop)
    return tuple(
        stated(
            entry.code,
            Status.UNKNOWN,
            alike[0].what,
            _UNLISTED,
            said("no_value.remedy", remedy=alike[0].remedy),
            holes=tuple(numbers),
            enter=tuple(name.entry for name in alike),
        )
        for what, numbers in lacking.items()
        if (alike := [name for name in names if name.what == what])
    )
