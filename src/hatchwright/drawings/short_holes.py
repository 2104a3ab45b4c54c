"""Short holes: what a drawing says of the holes that findings stop, by number and by how much they are short."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hatchwright.drawings.figures import Unit, shortfall_figure
from hatchwright.finding import Finding
from hatchwright.judged import Status


@dataclass(frozen=True, slots=True)
class ShortHoles:
    """One hole, or two that are too near each other, with the worst that was found of them.

    Args:
        holes: their numbers.
        words: lines to letter beside them, beginning with the numbers.
    """

    holes: tuple[int, ...]
    words: tuple[str, ...]


def short_holes(findings: Iterable[Finding], unit: Unit) -> tuple[ShortHoles, ...]:
    """The holes that a drawing has to mark: those that findings stop, or that cannot be shown to pass.

    Args:
        findings: in any order.
    Returns:
        tuple[ShortHoles, ...]: the worst finding of each hole or pair, the worst first.
    """
    worst: dict[tuple[int, ...], Finding] = {}
    for finding in sorted(filter(_marks, findings), key=_badness):
        worst.setdefault(finding.holes, finding)
    return tuple(ShortHoles(holes, _lines(finding, unit)) for holes, finding in worst.items())


def marking_codes(findings: Iterable[Finding]) -> Iterator[str]:
    """Codes of the findings that a drawing marks.

    Args:
        findings: in any order.
    Yields:
        str: one for each of them.
    """
    return (finding.code for finding in findings if _marks(finding))


def _marks(finding: Finding) -> bool:
    return finding.status in (Status.STOP, Status.UNKNOWN) and 0 < len(finding.holes) <= 2


def remarks(findings: Iterable[Finding], unit: Unit) -> dict[int, str]:
    """What the hole table says of single holes, cautions included.

    Args:
        findings: in any order.
    Returns:
        dict[int, str]: by number of the hole, the worst first; a finding of many holes is named by its code.
    """
    words: dict[int, list[str]] = {}
    for finding in sorted(findings, key=_badness):
        if finding.status is not Status.PASS:
            for number in finding.holes:
                said = words.setdefault(number, [])
                if (word := _remark(finding, unit)) not in said:
                    said.append(word)
    return {number: "; ".join(said) for number, said in words.items()}


def _badness(finding: Finding) -> tuple[int, float, tuple[int, ...], str]:
    return finding.status.severity, -finding.shortfall, finding.holes, finding.code


def _lines(finding: Finding, unit: Unit) -> tuple[str, ...]:
    named = "-".join(str(number) for number in finding.holes)
    said = _by_how_much(finding, unit)
    first = f"{named}: {said} {finding.code}" if said == "SEE" else f"{named}: {said}"
    if finding.status is Status.UNKNOWN and finding.uncertainty:
        return first, f"WITHIN u {shortfall_figure(finding.uncertainty, unit)}"
    return (first,)


def _remark(finding: Finding, unit: Unit) -> str:
    """The code of the rule; before it by how much a single hole is short, when that is more than a caution."""
    if finding.status is Status.CAUTION or len(finding.holes) > 2:
        return finding.code
    within = f", u {shortfall_figure(finding.uncertainty, unit)}" if finding.status is Status.UNKNOWN else ""
    return f"{_by_how_much(finding, unit)}{within} {finding.code}"


def _by_how_much(finding: Finding, unit: Unit) -> str:
    if finding.unit != "in" or finding.value is None or finding.limit is None or not finding.shortfall:
        return "SEE"
    word = "SHORT" if finding.value < finding.limit else "OVER"
    return f"{word} {shortfall_figure(finding.shortfall, unit)}"
