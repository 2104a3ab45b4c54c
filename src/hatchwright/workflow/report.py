"""An examination for programs: the values of `hatchwright check --json`, documented in docs/check-json.md."""

from __future__ import annotations

from typing import Any

from hatchwright.finding import Finding, Working
from hatchwright.workflow.examine import NOT_CHECKED, Examination

SCHEMA = 1
"""Number of the report's own schema."""


def report(examination: Examination) -> dict[str, Any]:
    """Turn an examination into plain values.

    Args:
        examination: of a job.
    Returns:
        dict: `schema`, `job`, `findings`, `summary`, `not_checked`.
    """
    job = examination.job
    return {
        "schema": SCHEMA,
        "job": {
            "title": job.title,
            "revision": job.revision,
            "registration": job.aircraft.registration,
            "side": job.aircraft.side,
            "surface": job.aircraft.surface,
            "units": job.units,
        },
        "findings": [finding_values(finding) for finding in examination.findings],
        "summary": {
            **{str(status): count for status, count in examination.count().items()},
            "must_stop": examination.must_stop,
        },
        "not_checked": list(NOT_CHECKED),
    }


def finding_values(finding: Finding) -> dict[str, Any]:
    """Turn one finding into plain values.

    Args:
        finding: of a rule.
    Returns:
        dict: as documented.
    """
    return {
        "code": finding.code,
        "status": str(finding.status),
        "subject": finding.subject,
        "holes": list(finding.holes),
        "value": finding.value,
        "limit": finding.limit,
        "unit": finding.unit,
        "shortfall": finding.shortfall,
        "uncertainty": finding.uncertainty,
        "place": list(finding.place) if finding.place else None,
        "source": {"key": finding.source.key, "place": finding.source.place},
        "grade": str(finding.grade),
        "advice": finding.advice,
        "working": [_working_values(working) for working in finding.working],
    }


def _working_values(working: Working) -> dict[str, Any]:
    return {
        "formula": working.formula,
        "values": [{"symbol": q.symbol, "value": q.value, "unit": q.unit} for q in working.values],
        "result": {
            "symbol": working.result.symbol,
            "value": working.result.value,
            "unit": working.result.unit,
        },
        "source": {"key": working.source.key, "place": working.source.place},
        "grade": str(working.grade),
    }
