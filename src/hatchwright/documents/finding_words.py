"""Findings in the words of paper: the answer first, then what it is, the limit, the source, and what to do."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.said import Amount, said
from hatchwright.units import Unit
from hatchwright.words.amounts import value_text
from hatchwright.words.catalog import HOME
from hatchwright.words.findings import advice_text
from hatchwright.words.tell import tell

FindingLine = dict[str, str]
"""One finding as it is printed: answer, code, subject, value and limit with their units, source, advice."""


def finding_line(finding: Finding, unit: Unit, tongue: str = HOME) -> FindingLine:
    """Put a finding into words."""
    value = value_text(finding.value, finding.unit, unit, beside=finding.limit)
    if finding.judged.uncertainty and value:
        u = Amount(finding.judged.uncertainty, finding.unit)
        value = tell(said("card.value_with_u", value=value, u=u), unit, tongue)
    return {
        "answer": tell(finding.status, unit, tongue),
        "code": finding.code,
        "subject": tell(finding.subject, unit, tongue),
        "value": value,
        "limit": value_text(finding.limit, finding.unit, unit, beside=finding.value),
        "source": tell(said("card.cited", source=str(finding.source), grade=finding.grade), unit, tongue),
        "advice": advice_text(finding, unit, tongue),
    }


def passed(findings: Iterable[Finding], unit: Unit, tongue: str = HOME) -> list[dict[str, Any]]:
    """Gather what passed, by rule and source: what was judged, its value and limit, and advice if there is any."""
    groups: dict[tuple[str, str], list[str]] = {}
    for finding in findings:
        if finding.status is Status.PASS:
            line = finding_line(finding, unit, tongue)
            of_value = "card.passed_limit" if line["limit"] else "card.passed_value"
            told = tell(said(of_value if line["value"] else "card.passed", **line), tongue=tongue)
            words = f"{told} {line['advice']}".rstrip()
            groups.setdefault((line["code"], line["source"]), []).append(words)
    return [{"code": code, "source": source, "lines": lines} for (code, source), lines in groups.items()]
