"""Findings in the words of paper: the answer first, then what it is, the limit, the source, and what to do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.said import Amount, said
from hatchwright.units import Unit
from hatchwright.words.amounts import value_text
from hatchwright.words.catalog import HOME
from hatchwright.words.findings import advice_text, subject_text
from hatchwright.words.tell import tell


@dataclass(frozen=True, slots=True)
class FindingLine:
    """One finding as it is printed.

    Args:
        value: what it is, with its unit.
        limit: what it was judged against, with its unit.
    """

    answer: str
    code: str
    subject: str
    value: str
    limit: str
    source: str
    advice: str


@dataclass(frozen=True, slots=True)
class Passed:
    """What passed by one rule and source.

    Args:
        lines: what was judged, its value and limit, and advice if there is any.
    """

    code: str
    source: str
    lines: tuple[str, ...]


def finding_line(finding: Finding, unit: Unit, tongue: str = HOME) -> FindingLine:
    """Put a finding into words."""
    value = value_text(finding.value, finding.unit, unit, beside=finding.limit)
    if finding.uncertainty and value:
        u = Amount(finding.uncertainty, finding.unit)
        value = tell(said("card.value_with_u", value=value, u=u), unit, tongue)
    return FindingLine(
        answer=tell(finding.status, unit, tongue),
        code=finding.code,
        subject=subject_text(finding, unit, tongue),
        value=value,
        limit=value_text(finding.limit, finding.unit, unit, beside=finding.value),
        source=tell(said("card.cited", source=str(finding.source), grade=finding.grade), unit, tongue),
        advice=advice_text(finding, unit, tongue),
    )


def passed(findings: Iterable[Finding], unit: Unit, tongue: str = HOME) -> tuple[Passed, ...]:
    """Gather what passed, by rule and source."""
    groups: dict[tuple[str, str], list[str]] = {}
    for finding in findings:
        if finding.status is Status.PASS:
            line = finding_line(finding, unit, tongue)
            groups.setdefault((line.code, line.source), []).append(_passed(line, tongue))
    return tuple(Passed(code, source, tuple(lines)) for (code, source), lines in groups.items())


def _passed(line: FindingLine, tongue: str) -> str:
    if not line.value:
        told = said("card.passed", subject=line.subject)
    elif not line.limit:
        told = said("card.passed_value", subject=line.subject, value=line.value)
    else:
        told = said("card.passed_limit", subject=line.subject, value=line.value, limit=line.limit)
    return f"{tell(told, tongue=tongue)} {line.advice}".rstrip()
