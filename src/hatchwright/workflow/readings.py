"""Readings side by side: where documents can be read in more than one way, what each reading asks for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hatchwright.finding import Finding, Working
from hatchwright.job.job import Job

_CHOOSABLE = frozenset({"R601"})
"""Rules that ask the job for a choice of reading."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: its name, where it stands, and how far that is to be trusted."""

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
        rule: code of the rule.
        readings: the readings.
        rows: one for each subject judged.
        chosen: name of the reading chosen in the job, "" when none is.
        reason: why it was chosen.
    """

    rule: str
    readings: tuple[Reading, ...]
    rows: tuple[ReadingRow, ...]
    chosen: str
    reason: str


def reading_tables(findings: Iterable[Finding], job: Job) -> tuple[ReadingTable, ...]:
    """Put the readings of each rule that leaves a choice side by side.

    Args:
        findings: of the job.
        job: with the choices made.
    Returns:
        tuple: one table a rule; empty when no documents differ.
    """
    by_rule: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.code in _CHOOSABLE and len(finding.working) > 1:
            by_rule.setdefault(finding.code, []).append(finding)
    return tuple(_table(rule, found, job) for rule, found in by_rule.items())


def _table(rule: str, findings: list[Finding], job: Job) -> ReadingTable:
    choice = job.choice(rule)
    return ReadingTable(
        rule,
        tuple(Reading(_name(w), str(w.source), str(w.grade)) for w in findings[0].working),
        tuple(
            ReadingRow(finding.subject.partition(":")[0], tuple(str(w.result) for w in finding.working))
            for finding in sorted(findings, key=lambda finding: finding.subject)
        ),
        choice.reading if choice else "",
        choice.reason if choice else "",
    )


def _name(working: Working) -> str:
    """Name of the reading, which stands before the colon of its formula."""
    return working.formula.partition(":")[0]
