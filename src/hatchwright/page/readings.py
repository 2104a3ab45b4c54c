"""Readings side by side: where documents can be read in more than one way, what each reading asks for."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.words.readings import reading_called
from hatchwright.words.tell import tell
from hatchwright.words.workings import quantity_text


def reading_tables(findings: Iterable[Finding], job: Job) -> list[dict[str, Any]]:
    """Put the readings of each rule side by side, where they decide: something does not pass, or a choice was made.

    Returns:
        list: a table for each rule and its set of readings: the key that a job keeps each by, its name, where it
            stands, and how far that is to be trusted; a row for each subject judged; the key chosen, "" for none.
    """
    groups: dict[tuple[str, tuple[str, ...]], list[Finding]] = {}
    for finding in findings:
        if len(finding.judged.readings) > 1:
            groups.setdefault((finding.code, finding.judged.readings), []).append(finding)
    return [
        _table(rule, found, job)
        for (rule, _), found in groups.items()
        if job.choice(rule) or any(finding.status is not Status.PASS for finding in found)
    ]


def _table(rule: str, findings: list[Finding], job: Job) -> dict[str, Any]:
    choice, names = job.choice(rule), findings[0].judged.readings
    readings = [
        {
            "key": key,
            "name": tell(reading_called(key)),
            "source": str(working.source),
            "grade": tell(working.grade),
        }
        for key, working in zip(names, findings[0].working, strict=False)
    ]
    rows = []
    for finding in sorted(findings, key=lambda finding: tell(finding.subject, job.unit)):
        worked = finding.working[: len(names)]
        asks = [f"{working.formula}; {quantity_text(working.result, job.unit)}" for working in worked]
        rows.append({"subject": tell(finding.subject, job.unit).partition(":")[0], "results": asks})
    chosen, reason = (choice.reading, choice.reason) if choice else ("", "")
    return {"rule": rule, "readings": readings, "rows": rows, "chosen": chosen, "reason": reason}
