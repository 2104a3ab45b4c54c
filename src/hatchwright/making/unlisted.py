"""What the making cannot say of holes whose fasteners no table lists."""

from __future__ import annotations

from collections.abc import Iterable

from hatchwright.finding import Finding, stated
from hatchwright.ground import practice
from hatchwright.judged import Status
from hatchwright.layout.layout import Hole
from hatchwright.layout.unlisted import NAMED_BY, what_of
from hatchwright.register import Entry
from hatchwright.said import Said

_UNLISTED = practice("what no table gives")


def unlisted_findings(entry: Entry, holes: Iterable[Hole]) -> tuple[Finding, ...]:
    """Say that a code is not shown for holes that no table lists a fastener of, once for each fastener."""
    lacking: dict[Said, list[int]] = {}
    for hole in holes:
        if (what := what_of(hole)) is not None:
            lacking.setdefault(what, []).append(hole.number)
    return tuple(
        stated(
            entry.code, Status.UNKNOWN, what, _UNLISTED, holes=tuple(found), cause=str(what), told_by=NAMED_BY
        )
        for what, found in lacking.items()
    )
