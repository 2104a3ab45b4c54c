"""A long row of findings cut short: the gravest stay, some of each kind, and the rest are counted by kind."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.said import Listed, Said, said

MOST_TOLD = 300
"""Findings that a command tells in full: more than any example has, and what is still read [-]."""

MOST_OF_A_LINE = 60
"""Findings of one cause that the page unfolds [-]."""

_Kind = tuple[Status, str]
"""Answer and code."""


class Shortened(NamedTuple):
    """Those that are told, in their order, and what is said of the rest, None where there is none."""

    shown: tuple[Finding, ...]
    rest: Said | None


def shortened(findings: Sequence[Finding], most: int = MOST_TOLD) -> Shortened:
    """Cut a row of findings short.

    Every STOP is told before anything less grave, and of each kind the first one before the second of any.

    Args:
        findings: of each kind the worst first.
        most: how many are told [-].
    """
    if len(findings) <= most:
        return Shortened(tuple(findings), None)
    before: Counter[_Kind] = Counter()
    places: list[tuple[int, int, int]] = []
    for at, finding in enumerate(findings):
        kind = finding.status, finding.code
        places.append((finding.status.severity, before[kind], at))
        before[kind] += 1
    kept = sorted(at for *_, at in sorted(places)[:most])
    shown = tuple(findings[at] for at in kept)
    return Shortened(shown, _rest_said(before - Counter((one.status, one.code) for one in shown)))


def _rest_said(rest: Counter[_Kind]) -> Said:
    gravest_first = sorted(rest.items(), key=lambda item: (item[0][0].severity, item[0][1]))
    kinds = tuple(
        said("shortened.kind", n=n, status=status, code=code) for (status, code), n in gravest_first
    )
    return said("shortened.rest", n=rest.total(), kinds=Listed(kinds, ","))
