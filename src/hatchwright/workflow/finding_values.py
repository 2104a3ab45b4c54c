"""What heads an answer, findings and workings, as plain values for programs; the keys are in docs/check-json.md."""

from __future__ import annotations

from enum import StrEnum
from typing import Any

from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.said import Said
from hatchwright.units import Unit
from hatchwright.words.findings import advice_text
from hatchwright.words.tell import tell
from hatchwright.words.workings import note_text
from hatchwright.workings import Quantity, Source, Working


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
    judged = finding.judged
    return {
        **picked(finding, unit, "code", "status"),
        "subject": tell(finding.subject, unit),
        **picked(finding, unit, "holes"),
        **picked(judged, unit, "value", "limit", "unit", "shortfall", "uncertainty"),
        **picked(finding, unit, "place", "source", "grade"),
        "advice": advice_text(finding, unit, remedy=remedy),
        **picked(judged, unit, "readings", "working"),
    }


def working_values(working: Working, unit: Unit) -> dict[str, Any]:
    """Turn one working into plain values."""
    return {
        "formula": working.formula,
        "note": note_text(working, unit),
        **picked(working, unit, "reading", "values", "result", "source", "grade"),
    }
