"""Readings side by side: where documents can be read in more than one way, what each reading asks for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hatchwright.finding import Finding
from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.units import Unit
from hatchwright.words.findings import subject_text
from hatchwright.words.readings import reading_called
from hatchwright.words.tell import tell
from hatchwright.words.workings import quantity_text
from hatchwright.workings import Working


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: the key that a job keeps it by, its name, where it stands, and how far that is to be trusted."""

    key: str
    name: str
    source: str
    grade: str


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One subject and what each reading asks for it, in the order of the readings."""

    subject: str
    results: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReadingTable:
    """All readings of one rule.

    Args:
        rows: one for each subject judged.
        chosen: key of the reading chosen in the job, "" when none is.
    """

    rule: str
    readings: tuple[Reading, ...]
    rows: tuple[ReadingRow, ...]
    chosen: str
    reason: str


def reading_tables(findings: Iterable[Finding], job: Job) -> tuple[ReadingTable, ...]:
    """Put the readings of each rule side by side, where they decide: something does not pass, or a choice was made.

    Returns:
        tuple: one table for each rule and its set of readings; empty when no documents differ.
    """
    groups: dict[tuple[str, tuple[str, ...]], list[Finding]] = {}
    for finding in findings:
        if len(finding.readings) > 1:
            groups.setdefault((finding.code, finding.readings), []).append(finding)
    return tuple(
        _table(rule, found, job)
        for (rule, _), found in groups.items()
        if job.choice(rule) or any(finding.status is not Status.PASS for finding in found)
    )


def _table(rule: str, findings: list[Finding], job: Job) -> ReadingTable:
    choice = job.choice(rule)
    names = findings[0].readings
    return ReadingTable(
        rule,
        tuple(
            Reading(key, tell(reading_called(key)), str(working.source), tell(working.grade))
            for key, working in zip(names, findings[0].working, strict=False)
        ),
        tuple(
            ReadingRow(
                subject_text(finding, job.unit).partition(":")[0],
                tuple(_asks(working, job.unit) for working in finding.working[: len(names)]),
            )
            for finding in sorted(findings, key=lambda finding: subject_text(finding, job.unit))
        ),
        choice.reading if choice else "",
        choice.reason if choice else "",
    )


def _asks(working: Working, unit: Unit) -> str:
    """What a reading asks for: its formula and its result."""
    return f"{working.formula}; {quantity_text(working.result, unit)}"
