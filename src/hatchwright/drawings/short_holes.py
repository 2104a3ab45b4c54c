"""Short holes: what a drawing says of the holes that findings stop, by number and by how much they are short."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.judged import Judgement, Status
from hatchwright.said import Said, missing, said
from hatchwright.units import Unit
from hatchwright.words.catalog import HOME
from hatchwright.words.tell import tell


class ShortHoles(Struct, frozen=True):
    """One hole, or two that are too near each other, and the lines that say the worst that was found of them."""

    holes: tuple[int, ...]
    words: tuple[str, ...]


def short_holes(findings: Iterable[Finding], unit: Unit) -> tuple[ShortHoles, ...]:
    """The holes that a drawing has to mark, those that findings stop or that cannot be shown to pass, worst first."""
    worst: dict[tuple[int, ...], Finding] = {}
    for finding in sorted(filter(_marks, findings), key=_badness):
        worst.setdefault(finding.holes, finding)
    return tuple(ShortHoles(holes, _lines(finding, unit)) for holes, finding in worst.items())


class StopPlace(Struct, frozen=True):
    """A place (x, y) of the job at which a finding stops that is not of a single hole [in], and what stops there."""

    at_in: tuple[float, float]
    code: str
    words: str


def stop_places(findings: Iterable[Finding], unit: Unit) -> tuple[StopPlace, ...]:
    """The places that a drawing has to mark beside its short holes, the worst first."""
    held = (finding for finding in findings if finding.status.holds_back and not _marks(finding))
    found = []
    for finding in sorted(held, key=_badness):
        if finding.place is not None:
            by = (
                _by_how_much(finding) if isinstance(finding.judged, Judgement) else None
            )  # as its line says it
            what = said("short.place", subject=finding.subject, by=by) if by else finding.subject
            found.append(StopPlace(finding.place, finding.code, tell(what, unit)))
    return tuple(found)


def marking_codes(findings: Iterable[Finding]) -> Iterator[str]:
    """Codes of the findings that a drawing marks."""
    return (finding.code for finding in findings if _marks(finding))


def _marks(finding: Finding) -> bool:
    return finding.status.holds_back and 0 < len(finding.holes) <= 2


def remarks(findings: Iterable[Finding], unit: Unit, tongue: str = HOME) -> dict[int, str]:
    """What the hole table says of single holes by number, the worst first and once for each code; of many holes only
    the code."""
    words: dict[int, dict[str, str]] = {}
    for finding in sorted(findings, key=_badness):
        if finding.status is not Status.PASS:
            word = tell(_remark(finding), unit, tongue)
            for number in finding.holes:
                words.setdefault(number, {}).setdefault(finding.code, word)
    return {number: "; ".join(told.values()) for number, told in words.items()}


def _badness(finding: Finding) -> tuple[int, float, tuple[int, ...], str]:
    return finding.status.severity, -finding.judged.shortfall, finding.holes, finding.code


def _lines(finding: Finding, unit: Unit) -> tuple[str, ...]:
    holes = "-".join(map(str, finding.holes))
    by = _by_how_much(finding)
    first = said("short.see", holes=holes, code=finding.code)
    if by is not None:
        first = said("short.by", holes=holes, by=by)
    if finding.status is Status.UNKNOWN and finding.judged.uncertainty:
        return tell(first, unit), tell(said("short.within_u", u=missing(finding.judged.uncertainty)), unit)
    return (tell(first, unit),)


def _remark(finding: Finding) -> Said:
    """The code of the rule; before it by how much a single hole is short, when that is more than a caution."""
    if finding.status is Status.CAUTION or len(finding.holes) > 2:
        return said("remark.code", code=finding.code)
    by = _by_how_much(finding) or said("short.see_plain")
    if finding.status is Status.UNKNOWN:
        return said("remark.within_u", by=by, u=missing(finding.judged.uncertainty), code=finding.code)
    return said("remark.by", by=by, code=finding.code)


def _by_how_much(finding: Finding) -> Said | None:
    if finding.unit != "in" or finding.value is None or finding.limit is None or not finding.judged.shortfall:
        return None
    id = "short.short" if finding.value < finding.limit else "short.over"
    return said(id, by=missing(finding.judged.shortfall))
