"""Answers as plain values for programs: an examination (docs/check-json.md), and what any other answer holds."""

from __future__ import annotations

from enum import StrEnum
from typing import Any

from msgspec import to_builtins

from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.said import Said
from hatchwright.units import Unit
from hatchwright.verdict import Verdict
from hatchwright.words.findings import advice_text
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline, line_text, unheard_said
from hatchwright.words.workings import note_text
from hatchwright.workflow.examine import Examination
from hatchwright.workings import Quantity, Source, Working

SCHEMA = 2
"""Number of the report's own schema."""


def report(examination: Examination) -> dict[str, Any]:
    """Turn an examination into plain values, documented in docs/check-json.md."""
    job = examination.job
    return {
        "schema": SCHEMA,
        "job": job_values(job),
        "shop": examination.layout.shop.words if examination.layout.shop else "",
        "findings": [
            finding_values(finding, job.unit, examination.remedy(finding)) for finding in examination.findings
        ],
        "summary": {
            **{str(status): count for status, count in examination.count().items()},
            "must_stop": examination.verdict.holds_back,
        },
        "verdict": verdict_values(examination.verdict, job.unit),
        "other_side": verdict_values(examination.other.verdict, job.unit) if examination.other else None,
        "remedies": [
            {
                **picked(finding, job.unit, "code", "cause"),
                "words": tell(remedy.told, job.unit),
                "entries": [to_builtins(entry) for entry in remedy.entries],
                "parts": [to_builtins(part) for part in remedy.parts],
            }
            for finding, remedy in examination.remedies
        ],
        "not_checked": plain(examination.not_checked(), job.unit),
    }


def verdicts_values(*sides: Examination) -> list[dict[str, Any]]:
    """The verdict of each side that something was made for, as plain values."""
    return [verdict_values(one.verdict, one.job.unit) for one in sides]


def verdict_values(verdict: Verdict, unit: Unit) -> dict[str, Any]:
    """Turn a verdict into plain values: what the head of screen, card and command shows."""
    return {
        **picked(verdict, unit, "side", "status"),
        "count": {str(status): verdict.count(status) for status in Status},
        "holds_back": verdict.holds_back,
        "words": tell(headline(verdict), unit),
        **picked(verdict, unit, "strength", "mark"),
        "lines": [
            {
                "shelf": line.shelf.name.lower(),
                "words": line_text(line, unit),
                **picked(line, unit, "status", "codes", "holes", "more"),
                "is_acknowledged": line.acknowledged is not None,
                "reason": line.acknowledged.reason if line.acknowledged else "",
                "initials": line.acknowledged.initials if line.acknowledged else "",
            }
            for line in verdict.lines
        ],
        "not_acknowledged": [tell(one, unit) for one in unheard_said(verdict)],
        "to_enter": [picked(one, unit, "entry", "status", "codes") for one in verdict.to_enter],
    }


def job_values(job: Job) -> dict[str, str]:
    """Which job an answer is about."""
    return {
        **picked(job, job.unit, "title", "revision"),
        **picked(job.aircraft, job.unit, "registration", "side", "surface"),
        "units": job.units,
    }


def plain(value: object, unit: Unit) -> Any:
    """Write a value for programs: what is said as text, a finding and a working as documented, tuples as lists."""
    match value:
        case tuple():
            return [plain(one, unit) for one in value]
        case StrEnum():
            return str(value)
        case Said():
            return tell(value, unit)
        case Quantity():
            return picked(value, unit, "symbol", "value", "unit")
        case Source():
            return picked(value, unit, "key", "place")
        case Working():
            return working_values(value, unit)
        case Finding():
            return finding_values(value, unit)
    return value


def picked(of: object, unit: Unit, *names: str, **renamed: str) -> dict[str, Any]:
    """Fields of a value by their own names, then others by another name, each as `plain` writes it."""
    pairs = (*zip(names, names, strict=True), *renamed.items())
    return {key: plain(getattr(of, name), unit) for key, name in pairs}


def finding_values(finding: Finding, unit: Unit, remedy: Said | None = None) -> dict[str, Any]:
    """Turn one finding into plain values; a remedy that was tried and makes it pass is told in its advice."""
    return {
        **picked(finding, unit, "code", "status"),
        "subject": tell(finding.subject, unit),
        **picked(finding, unit, "holes"),
        **picked(finding.judged, unit, "value", "limit", "unit", "shortfall", "uncertainty"),
        **picked(finding, unit, "place", "source", "grade"),
        "advice": advice_text(finding, unit, remedy=remedy),
        **picked(finding.judged, unit, "readings", "working"),
    }


def working_values(working: Working, unit: Unit) -> dict[str, Any]:
    """Turn one working into plain values."""
    return {
        "formula": working.formula,
        "note": note_text(working, unit),
        **picked(working, unit, "reading", "values", "result", "source", "grade"),
    }
