"""Findings in the words of paper: the answer first, then what it is, the limit, the source, and what to do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hatchwright.documents.step import cited
from hatchwright.drawings.figures import Unit, figure
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.said import Amount
from hatchwright.words.findings import advice_text, subject_text
from hatchwright.words.tell import tell


@dataclass(frozen=True, slots=True)
class FindingLine:
    """One finding as it is printed.

    Args:
        subject: what was judged.
        value: what it is, with its unit.
        limit: what it was judged against, with its unit.
        source: where the limit stands.
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
        source: where its limit stands.
        lines: what was judged, its value and limit, and advice if there is any.
    """

    code: str
    source: str
    lines: tuple[str, ...]


def finding_line(finding: Finding, unit: Unit) -> FindingLine:
    """Put a finding into words.

    Args:
        finding: of a rule or of the template.
    Returns:
        FindingLine: every cell as text.
    """
    uncertainty = f" u {figure(finding.uncertainty, unit)}" if finding.uncertainty else ""
    return FindingLine(
        answer=tell(finding.status),
        code=finding.code,
        subject=subject_text(finding, unit),
        value=f"{_amount(finding.value, finding.unit, unit, finding.limit)}{uncertainty}",
        limit=_amount(finding.limit, finding.unit, unit, finding.value),
        source=cited(finding.source, finding.grade),
        advice=advice_text(finding, unit),
    )


def passed(findings: Iterable[Finding], unit: Unit) -> tuple[Passed, ...]:
    """Gather what passed, by rule and source.

    Args:
        findings: in the order to print.
    Returns:
        tuple[Passed, ...]: one for each rule and source.
    """
    groups: dict[tuple[str, str], list[str]] = {}
    for finding in findings:
        if finding.status is Status.PASS:
            line = finding_line(finding, unit)
            limit = f" (limit {line.limit})" if line.limit else ""
            said = f"{line.subject}: {line.value}{limit}" if line.value else line.subject
            groups.setdefault((line.code, line.source), []).append(f"{said}. {line.advice}".rstrip())
    return tuple(Passed(code, source, tuple(lines)) for (code, source), lines in groups.items())


def _amount(value: float | None, unit: str, shown: Unit, beside: float | None) -> str:
    """A value with its unit; lengths to four places, or as many as tell value and limit apart."""
    if value is None:
        return ""
    if unit == "in":
        return f"{figure(value, shown, fine=True, beside_in=beside)} {shown}"
    return tell(Amount(value, unit), shown)
