"""Rivets that the circular's tables call for on each side of the cut, as a path of evidence."""

from __future__ import annotations

from hatchwright.errors import TableError
from hatchwright.layout.layout import Layout
from hatchwright.layout.survey import survey
from hatchwright.rules.rivets_per_inch import JudgedSide, judged_sides
from hatchwright.rules.wording import is_flush
from hatchwright.strength.evidence import TableCount


def table_counts(layout: Layout) -> tuple[TableCount, ...]:
    """The count of R601 for each side, by the reading that the job goes by.

    Returns:
        tuple: empty where the circular has no number, which R601 says, or its tables are not for these rivets.
    """
    try:
        sides = judged_sides(survey(layout)) if layout.part("doubler") else ()
    except TableError:
        return ()
    # Of flush heads a table's number is a least: what has it is not shown to be enough by it.
    return () if any(map(is_flush, layout.holes_of("rivet"))) else tuple(map(_count, sides))


def _count(found: JudgedSide) -> TableCount:
    judged = found.judged
    by = judged.by
    working = judged.more[judged.bounds.index(by)]
    share = next((value.value for value in working.values if value.symbol.startswith("note")), 1.0)
    has = len(found.side.rivets)
    return TableCount(found.side.name, has, found.needed, share, by.reading, by.source, by.grade)
