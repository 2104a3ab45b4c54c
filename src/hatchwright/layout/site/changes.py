"""From the survey to the job: what is to be entered so that the job says what was measured."""

from __future__ import annotations

from collections.abc import Iterable

from hatchwright.layout.site.difference import Difference
from hatchwright.remedy import EntryChange, PartChange


def changes_of(
    found: Iterable[Difference],
) -> tuple[tuple[EntryChange, ...], tuple[PartChange, ...]]:
    """The changes that take up every difference: texts typed anew, then sections and lines put in whole."""
    every = tuple(one for one in found if one.new is not None)
    entries = tuple(EntryChange(one.field, one.old, one.new) for one in every if isinstance(one.new, str))
    parts = tuple(PartChange(one.field, one.new) for one in every if not isinstance(one.new, str))
    return entries, parts
