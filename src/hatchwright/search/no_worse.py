"""How often and how far each cause does not pass, which holes it holds back, and whether anything got worse."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from typing import TypeAlias

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.layout.layout import Hole, Layout
from hatchwright.said import Said

Key = tuple[str, str]
"""Code and cause."""

Count: TypeAlias = tuple[float, ...]
"""How often one cause does not pass: things at each rank of answer or a graver one, CAUTION, NOT SHOWN, STOP [-]; then
the greatest part of its limit by which one that holds back misses it [-]."""

Counted: TypeAlias = Mapping[Key, Count]

_NONE: Count = (0, 0, 0, 0.0)


class Answered(Struct, frozen=True, dict=True):
    """A layout and what is answered to it."""

    layout: Layout
    found: tuple[Finding, ...]

    @cached_property
    def counted(self) -> Counted:
        """Every cause that does not pass."""
        return counted(self.found)

    @cached_property
    def at(self) -> Mapping[tuple[float, float], Hole]:
        """Its holes by their places."""
        return {_place(hole): hole for hole in self.layout.holes}

    def held(self) -> Iterator[Finding]:
        """What holds holes back that it names."""
        return (one for one in self.found if one.status.holds_back and one.holes and one.unit not in PIECES)


def is_no_worse(after: Answered, before: Answered, but: frozenset[str] = frozenset()) -> bool:
    """Whether no cause is short more often, more gravely or, where it holds work back, by more, and no hole or pair of
    holes is held back, or more gravely, that was not: a count alone lets one take the place of another.

    Args:
        but: codes that are not asked.
    """
    if not at_most(after.counted, before.counted, but):
        return False
    held = [(one.code, one.status.rank, frozenset(one.holes)) for one in before.held()]
    was = _numbers_before(after, before)

    def was_held(finding: Finding) -> bool:
        holes = {was.get(number, number) for number in finding.holes}
        rank = finding.status.rank
        return any(code == finding.code and then >= rank and holes <= of for code, then, of in held)

    return all(one.code in but or was_held(one) for one in after.held())


def changed_holes(after: Answered, before: Answered) -> frozenset[int]:
    """Holes that are new, or that have another place, fastener or measured diameter."""
    return frozenset(
        hole.number
        for place, hole in after.at.items()
        if place not in before.at or _filled(hole) != _filled(before.at[place])
    )


def _numbers_before(after: Answered, before: Answered) -> Mapping[int, int]:
    """The number that a hole had where one stood at its place: another row may be numbered on from a longer one."""
    return {hole.number: before.at[place].number for place, hole in after.at.items() if place in before.at}


def _place(hole: Hole) -> tuple[float, float]:
    return round(hole.x_in, 6), round(hole.y_in, 6)


def _filled(hole: Hole) -> tuple[str, float | None]:
    return hole.fastener if hole.is_fitted else "", hole.hole_in


def counted(found: Iterable[Finding]) -> Counted:
    """Every cause that does not pass."""
    so_far: dict[Key, Count] = {}
    for finding in found:
        if finding.status is Status.PASS:
            continue
        key, number = (finding.code, finding.cause), number_short(finding)
        *graver, worst = so_far.get(key, _NONE)
        missed = finding.judged.shortfall / abs(finding.limit or 1.0)
        counts = (of + number * (finding.status.rank >= rank) for rank, of in enumerate(graver, start=1))
        so_far[key] = (*counts, max(worst, missed if finding.status.holds_back else 0.0))
    return so_far


PIECES = ("rivets", "screws", "holes")
"""Units of what is counted: the holes of such a finding are those that hold."""


def number_short(finding: Finding) -> int:
    """How many things are short: its holes, or as many as its subject counts.

    Where pieces are what is measured, such as the rivets on a side of the cut, its holes are those that hold, and it is
    one thing that is short.
    """
    if finding.unit in PIECES:
        return 1
    told = dict(finding.subject.values).get("n") if isinstance(finding.subject, Said) else None
    return max(1, len(finding.holes), told if isinstance(told, int) else 0)


def at_most(after: Counted, before: Counted, but: frozenset[str] = frozenset()) -> bool:
    """Whether no cause is short more often, more gravely or, where it holds work back, by more.

    Args:
        but: codes that are not asked.
    """
    return all(
        now <= then + FLOAT_NOISE
        for key, count in after.items()
        if key[0] not in but
        for now, then in zip(count, before.get(key, _NONE), strict=True)
    )
