"""The lines of a verdict as the page shows them: each with a lasting name, the parts it speaks of, and its readings."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Any

from msgspec import Struct

from hatchwright.page.entry_sheet import EntrySheet
from hatchwright.page.spoken_of import SpokenOf, parts_of
from hatchwright.page.ways_out import LineName, line_name
from hatchwright.register import Shelf
from hatchwright.verdict import Line, ToEnter, Verdict

_MOST_IN_BAND = 4
"""What stops beyond this number would push the drawing away [-]."""


class ShownLine(Struct, frozen=True):
    """One line.

    Args:
        name: that it keeps when others come and go.
        parts: sections of the entry sheet that it speaks of.
        readings: tables of the readings among which a choice settles it.
        ways: what its ways out are asked for by, None where it is about nothing that was made.
    """

    line: Line
    name: str
    parts: tuple[str, ...]
    readings: tuple[dict[str, Any], ...] = ()
    ways: LineName | None = None


class ShownShelf(Struct, frozen=True):
    """One shelf that holds something."""

    shelf: Shelf
    lines: tuple[ShownLine, ...]
    to_enter: tuple[ToEnter, ...]


class Band(Struct, frozen=True):
    """What stands over the drawing: the lines that hold work back, the gravest first, and how many more there are."""

    shown: tuple[ShownLine, ...] = ()
    to_enter: tuple[ToEnter, ...] = ()
    more: int = 0


def shown_shelves(
    verdict: Verdict,
    spoken: SpokenOf,
    sheet: EntrySheet,
    readings: Sequence[dict[str, Any]],
    made: Sequence[Line] = (),
) -> tuple[ShownShelf, ...]:
    """The shelves that hold something, with their lines.

    Args:
        readings: tables of readings, each at the first line that has its rule.
        made: those lines that are about what was made, by themselves.
    """
    times: Counter[str] = Counter()
    left = list(readings)
    shelves = []
    for shelf, lines, to_enter in verdict.shelves():
        shown = []
        for line in lines:
            code = line.worst.code.lower()
            times[code] += 1
            own = tuple(table for table in left if table["rule"] in line.codes)
            left = [table for table in left if table not in own]
            entries = (entry for finding in line.findings for entry in spoken.entries(finding))
            ways = line_name(line) if any(line is one for one in made) else None
            parts = parts_of(entries, sheet.sections)
            shown.append(ShownLine(line, f"{code}-{times[code]}", parts, own, ways))
        shelves.append(ShownShelf(shelf, tuple(shown), to_enter))
    return tuple(shelves)


def band_of(shelves: Iterable[ShownShelf]) -> Band:
    """What holds work back."""
    shelves = tuple(shelves)
    held = [one for shelf in shelves for one in shelf.lines if one.line.status.holds_back]
    to_enter = tuple(one for shelf in shelves for one in shelf.to_enter if one.status.holds_back)
    return Band(tuple(held[:_MOST_IN_BAND]), to_enter, max(0, len(held) - _MOST_IN_BAND))
