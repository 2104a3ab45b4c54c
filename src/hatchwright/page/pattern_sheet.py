"""What a change of a fleet's pattern means for each line, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct

from hatchwright.errors import Fault
from hatchwright.job.entry_words import entry_label
from hatchwright.job.three_ways import Differing, Typed
from hatchwright.said import said
from hatchwright.words.tell import tell
from hatchwright.workflow.fleet_pattern import LineChanges, PatternChanges

_PLAIN = 3
"""Rank of a line that takes a change and nothing else is to be said of it."""


class ShownChange(Struct, frozen=True):
    """One place: what is there, and what the pattern says."""

    field: str
    name: str
    ours: str
    theirs: str


class ShownLine(Struct, frozen=True):
    """One line with what the pattern means for it.

    Args:
        state: what is done with it: "open", "signed", "refused" or "same".
    """

    key: str
    called: str
    job: str
    state: str
    changed: tuple[ShownChange, ...]
    own: tuple[ShownChange, ...]
    conflicts: tuple[ShownChange, ...]
    beside: tuple[ShownChange, ...]
    is_unknown: bool
    faults: tuple[Fault, ...]

    @property
    def is_plain(self) -> bool:
        """Whether it takes the change as all others do, and nothing more is to be said."""
        return self.state == "open" and _rank(self) == _PLAIN and not self.beside


class PatternView(Struct, frozen=True):
    """The page of a pattern's changes.

    Args:
        seen: what the form sends back, so that nothing is entered that was not shown.
        summary: the same change in many jobs, told once: how many take it.
    """

    seen: str
    summary: tuple[tuple[ShownChange, int], ...]
    lines: tuple[ShownLine, ...]
    asking: int
    signed: int


def pattern_view(changes: PatternChanges) -> PatternView:
    """Tell what the present pattern means for each line."""
    lines = tuple(map(_line, changes.lines))
    counted: dict[ShownChange, int] = {}
    for one in lines:
        if one.state == "open":
            for change in one.changed:
                counted[change] = counted.get(change, 0) + 1
    return PatternView(
        seen=seen_mark(changes),
        summary=tuple(counted.items()),
        lines=tuple(sorted((one for one in lines if one.state != "same" or one.own), key=_rank)),
        asking=len(changes.asking),
        signed=len(changes.signed),
    )


def _rank(line: ShownLine) -> int:
    """What asks for a decision stands first, then what is signed, then what a line wants otherwise."""
    if line.faults or line.conflicts or line.is_unknown:
        return 0
    return 1 if line.state == "signed" else 2 if line.own else _PLAIN


def seen_mark(changes: PatternChanges) -> str:
    """What was compared: pattern, fleet file and every job, by their versions."""
    return " ".join((changes.pattern, changes.fleet, *(one.job or "-" for one in changes.lines)))


def _line(one: LineChanges) -> ShownLine:
    state = (
        "refused"
        if one.faults
        else "signed"
        if one.is_signed and one.asks
        else "open"
        if one.asks
        else "same"
    )
    return ShownLine(
        one.line.key,
        one.line.called,
        one.line.line.job or "",
        state,
        _shown(one.changed),
        _shown(one.own),
        _shown(one.conflicts),
        _shown(one.beside),
        one.is_unknown,
        one.faults,
    )


def _shown(some: Iterable[Differing]) -> tuple[ShownChange, ...]:
    return tuple(
        ShownChange(one.field, _named(one.field), _typed(one.ours), _typed(one.theirs)) for one in some
    )


def _named(field: str) -> str:
    """An entry by its label, with the sections above it and their numbers."""
    return ", ".join(_parts(field)) or field


def _parts(field: str) -> Iterator[str]:
    way: list[str] = []
    for part in field.split("."):
        way.append(part)
        label = None if part.isdigit() else entry_label(".".join(way))
        if part.isdigit():
            yield str(int(part) + 1)
        else:
            yield tell(label) if label else part


def _typed(value: Typed) -> str:
    """What stands there, as typed; a section by what it holds."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return tell(said("page.fleet.yes" if value else "page.fleet.no"))
    if isinstance(value, list):
        return "; ".join(map(_typed, value))
    if isinstance(value, dict):
        return ", ".join(_typed(one) for one in value.values())
    return str(value)
