"""How often and how far each cause does not pass, and whether anything got worse."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TypeAlias

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.said import Said

Key = tuple[str, str]
"""Code and cause."""

Count: TypeAlias = tuple[float, ...]
"""How often one cause does not pass: things at each rank of answer or a graver one, CAUTION, NOT SHOWN, STOP [-]; then
the greatest part of its limit by which one that holds back misses it [-]."""

Counted: TypeAlias = Mapping[Key, Count]

_NONE: Count = (0, 0, 0, 0.0)


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
