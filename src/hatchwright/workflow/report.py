"""An examination for programs: the values of `hatchwright check --json`, documented in docs/check-json.md."""

from __future__ import annotations

from typing import Any

from hatchwright.words.tell import tell
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.finding_values import finding_values

SCHEMA = 1
"""Number of the report's own schema."""


def report(examination: Examination) -> dict[str, Any]:
    """Turn an examination into plain values.

    Returns:
        dict: `schema`, `job`, `shop`, `findings`, `summary`, `not_checked`.
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
        "shop": examination.layout.shop.words if examination.layout.shop else "",
        "findings": [finding_values(finding, job.unit) for finding in examination.findings],
        "summary": {
            **{str(status): count for status, count in examination.count().items()},
            "must_stop": examination.verdict.holds_back,
        },
        "not_checked": [tell(one, job.unit) for one in examination.not_checked()],
    }
