"""The judgments of a job in one canonical text, whose SHA-256 is their mark in the chain, and the mark of its plan."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from hatchwright.job.job import Job
from hatchwright.records.canonical import Plain, canonical
from hatchwright.records.store import sha256_of
from hatchwright.workflow.examine import Examination
from hatchwright.workflow.report import finding_values, job_values, plain, verdict_values

_NO_PLAN = frozenset(
    ("title", "samples", "departures", "scatter", "acknowledged", "as_made", "looks", "wish", "drawing")
)
"""What may change after a hold was passed without opening it again: what was read of the work, and how it is drawn."""


def judgments_of(examination: Examination) -> bytes:
    """Every answer on every side with its number, limit, source and grade, and the verdict; numbers as texts."""
    sides = [
        {
            "verdict": verdict_values(one.verdict, one.job.unit),
            "findings": [finding_values(finding, one.job.unit) for finding in one.findings],
            "not_checked": plain(one.not_checked(), one.job.unit),
        }
        for one in examination.sides
    ]
    whole = {"job": job_values(examination.job), "sides": sides}
    return canonical({name: _without_fractions(value) for name, value in whole.items()}).encode("utf-8")


def plan_mark(job: Job, beside: Iterable[tuple[str, bytes]] = ()) -> str:
    """SHA-256 of what a job says that is to be made, without what was read of the work since."""
    entered = job.model_dump(mode="json", exclude=set(_NO_PLAN), warnings=False)
    files: list[Plain] = [f"{name} {sha256_of(raw)}" for name, raw in beside]
    text = canonical({"entered": _without_fractions(entered), "beside": files})
    return sha256_of(text.encode("utf-8"))


def _without_fractions(value: Any) -> Plain:
    """A value for the chain: a fraction becomes the text of its first nine digits, the same on every machine."""
    match value:
        case float():
            return f"{value:.9g}"
        case Mapping():
            return {str(key): _without_fractions(held) for key, held in value.items()}
        case list() | tuple():
            return [_without_fractions(held) for held in value]
        case None | bool() | int() | str():
            return value
    return str(value)
