"""What heads an answer, findings and workings, as plain values for programs; the keys are in docs/check-json.md."""

from __future__ import annotations

from typing import Any

from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.said import Said
from hatchwright.units import Unit
from hatchwright.words.findings import advice_text, subject_text
from hatchwright.words.workings import note_text
from hatchwright.workings import Working


def job_values(job: Job) -> dict[str, str]:
    """Which job an answer is about."""
    return {
        "title": job.title,
        "revision": job.revision,
        "registration": job.aircraft.registration,
        "side": job.aircraft.side,
        "surface": job.aircraft.surface,
        "units": job.units,
    }


def finding_values(finding: Finding, unit: Unit, remedy: Said | None = None) -> dict[str, Any]:
    """Turn one finding into plain values.

    Args:
        remedy: what was tried and makes it pass, told in its advice.
    """
    return {
        "code": finding.code,
        "status": str(finding.status),
        "subject": subject_text(finding, unit),
        "holes": list(finding.holes),
        "value": finding.value,
        "limit": finding.limit,
        "unit": finding.unit,
        "shortfall": finding.shortfall,
        "uncertainty": finding.uncertainty,
        "place": list(finding.place) if finding.place else None,
        "source": {"key": finding.source.key, "place": finding.source.place},
        "grade": str(finding.grade),
        "advice": advice_text(finding, unit, remedy=remedy),
        "readings": list(finding.readings),
        "working": [working_values(working, unit) for working in finding.working],
    }


def working_values(working: Working, unit: Unit) -> dict[str, Any]:
    """Turn one working into plain values."""
    return {
        "formula": working.formula,
        "note": note_text(working, unit),
        "reading": working.reading,
        "values": [{"symbol": q.symbol, "value": q.value, "unit": q.unit} for q in working.values],
        "result": {
            "symbol": working.result.symbol,
            "value": working.result.value,
            "unit": working.result.unit,
        },
        "source": {"key": working.source.key, "place": working.source.place},
        "grade": str(working.grade),
    }
