"""An examination for programs: the values of `hatchwright check --json`, documented in docs/check-json.md."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from hatchwright.judged import Status
from hatchwright.units import Unit
from hatchwright.verdict import Verdict
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline, line_text, unheard_said
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.finding_values import finding_values, job_values, picked, plain

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
                "entries": [asdict(entry) for entry in remedy.entries],
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
