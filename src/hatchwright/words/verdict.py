"""The head of a job in words: the verdict first, then one line a cause."""

from __future__ import annotations

from collections.abc import Iterable

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.said import Listed, Said, Value, said
from hatchwright.units import Unit
from hatchwright.verdict import Line, Verdict
from hatchwright.words.catalog import HOME
from hatchwright.words.findings import missed, ratio
from hatchwright.words.tell import tell


def headline(verdict: Verdict) -> Said:
    """The verdict in one sentence: what holds back first, how often, and never a word of approval."""
    shown = (Status.STOP, Status.UNKNOWN) if verdict.holds_back else (Status.CAUTION,)
    counts: tuple[Value, ...] = tuple(
        said("verdict.count", n=verdict.count(status), status=status)
        for status in shown
        if verdict.count(status)
    )
    if verdict.holds_back:
        return said("verdict.do_not_cut", counts=Listed(counts, ","))
    return (
        said("verdict.nothing_stops", counts=Listed(counts, ",")) if counts else said("verdict.nothing_open")
    )


def line_said(line: Line) -> Said:
    """One cause in one line: the worst, by how much it misses, and how many more there are."""
    told = finding_said(line.worst)
    return said("line.more", line=told, n=line.more) if line.more else told


def finding_said(finding: Finding) -> Said:
    """One finding in one line."""
    subject, by, of = finding.subject, missed(finding), ratio(finding)
    if by is None:
        return said("line.plain", subject=subject)
    return said(
        "line.missed", subject=subject, missed=said("missed.with_ratio", ratio=of, missed=by) if of else by
    )


def line_text(line: Line, unit: Unit, tongue: str = HOME) -> str:
    """The same as words."""
    return tell(line_said(line), unit, tongue)


def not_checked_said(what: Iterable[Said]) -> Said:
    """What no answer speaks of, in one sentence."""
    return said("verdict.not_checked", what=Listed(tuple(what), ";"))
