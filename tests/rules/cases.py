"""Jobs for the tests of the rules, and cases that each say what one rule answers to one change of a job.

A job is plain data: a small one with one row of rivets, one with a doubler on it, one with a flush cover, and an
unstressed one with a lapped cover on clip nuts. A case changes fields by their dotted place; None takes a field away.
"""

from __future__ import annotations

import copy
from dataclasses import dataclass, field
from functools import cache
from typing import Any

import pytest

from hatchwright.finding import Finding
from hatchwright.job.file import read_job
from hatchwright.job.job import Job
from hatchwright.judged import Status
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.survey import survey
from hatchwright.rules import check  # noqa: F401  enters every rule
from hatchwright.rules.rule import Rule, all_rules
from hatchwright.units import Unit
from hatchwright.workings import Grade
from job_text import job_text
from told import advice_of, subject_of

PASS, CAUTION, STOP, UNKNOWN = Status.PASS, Status.CAUTION, Status.STOP, Status.UNKNOWN

CLAD = {"alloy": "2024", "temper": "T3", "clad": True}

PLAIN: dict[str, Any] = {
    "schema": 2,
    "title": "one row",
    "aircraft": {"side": "left", "surface": "lower"},
    "frame": {"origin": "rib row x spar row", "x": "OUTBD", "y": "AFT"},
    "skin": {**CLAD, "thickness": ".032", "stressed": True},
    "opening": {
        "shape": "rounded rectangle",
        "width": "4",
        "height": "4",
        "radius": "1",
        "center": ["0", "0"],
    },
    "rows": [{"name": "row", "lay": "points", "rivet": "MS20470AD4", "points": [["2.3", "0"]]}],
}
"""Skin, opening and one rivet .30 from the opening's edge at X = 2."""

RING: dict[str, Any] = {
    **PLAIN,
    "title": "with a doubler",
    "doubler": {
        **CLAD,
        "thickness": ".040",
        "outer": {"shape": "rounded rectangle", "width": "6", "height": "6", "radius": "1"},
    },
}
"""The same with a doubler whose outer edge lies at X = 3."""

FLUSH: dict[str, Any] = {
    **RING,
    "title": "with a flush cover",
    "doubler": {
        **RING["doubler"],
        "inner": {"shape": "rounded rectangle", "width": "2.6", "height": "2.6", "radius": ".5"},
    },
    "cover": {
        **CLAD,
        "thickness": ".032",
        "fit": "flush",
        "gap": ".03125",
        "screws": {
            "size": "10-32",
            "length": "1/2",
            "head": "100 degree flush",
            "preparation": "dimple",
            "nut": "two-lug nutplate",
            "nut_rivet": "MS20470AD3",
            "steel": False,
            "inset": ".38",
            "count": 8,
        },
    },
}
"""The same with a land inside the opening and a flush cover on it."""

LAPPED: dict[str, Any] = {
    **{key: value for key, value in PLAIN.items() if key != "rows"},
    "title": "a lapped cover on clip nuts",
    "skin": {"alloy": "5052", "temper": "H32", "clad": False, "thickness": ".040", "stressed": False},
    "cover": {
        "alloy": "5052",
        "temper": "H32",
        "thickness": ".040",
        "fit": "lapped",
        "lap": ".75",
        "screws": {
            "size": "8-32",
            "length": "1/2",
            "head": "pan",
            "nut": "clip nut",
            "clip_reach": ".375",
            "clip_width": ".50",
            "clip_grip": [".025", ".051"],
            "inset": ".375",
            "pitch": "2",
            "straights_only": True,
            "from_tangent": ".25",
        },
    },
}
"""Unstressed skin with a lapped cover on clip nuts."""


PATCH: dict[str, Any] = {
    **RING,
    "title": "a flush patch over a crack",
    "patch": {
        "damage": "crack",
        "extent": [{"at": ["-1", "0"], "uncertainty": "0"}, {"at": ["1", "0"], "uncertainty": ".06"}],
        "cause": "a chafing clip, since secured",
        "inspected_by": "eddy current",
        "plug": {**CLAD, "thickness": ".032", "gap": ".03125"},
    },
    "rows": [
        *RING["rows"],
        {
            "name": "plug",
            "lay": "points",
            "rivet": "MS20470AD4",
            "points": [["1.6", "0"], ["0", "1.6"], ["-1.6", "0"], ["0", "-1.6"]],
        },
    ],
}
"""A solid doubler, and a plug whose edge lies at X = 1.96875, over a crack along X that ends at 1, within .06."""


def typed(length: float) -> str:
    """A length as it is typed: all its digits, no exponent."""
    return f"{length:.9f}"


def rivets(
    *places: tuple[float, float], name: str = "row", rivet: str = "MS20470AD4", **more: Any
) -> dict[str, Any]:
    """A row of rivets at points."""
    points = [[typed(x), typed(y)] for x, y in places]
    return {"name": name, "lay": "points", "rivet": rivet, "points": points, **more}


def along_y(x: float, *, pitch: float, count: int = 4, start: float = -0.8, **more: Any) -> dict[str, Any]:
    """A straight row of rivets beside the edge at X = 2."""
    return rivets(*((x, start + pitch * k) for k in range(count)), **more)


def changed(job: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """A job with fields changed by their dotted place; None takes one away, missing sections are added."""
    job = copy.deepcopy(job)
    for place, value in changes.items():
        *way, last = place.split(".")
        node: Any = job
        for part in way:
            node = node[int(part)] if isinstance(node, list) else node.setdefault(part, {})
        if isinstance(node, list):
            node[int(last)] = value
        elif value is None:
            node.pop(last)
        else:
            node[last] = value
    return job


def job_of(job: dict[str, Any], **changes: Any) -> Job:
    """A job as the program reads it from its file."""
    return read_job(job_text(changed(job, {key.replace("__", "."): v for key, v in changes.items()})))


@cache
def rules() -> dict[str, Rule]:
    """Every rule by its code."""
    return {rule.code: rule for rule in all_rules()}


def judged(code: str, job: dict[str, Any], changes: dict[str, Any] | None = None) -> list[Finding]:
    """What one rule finds on a job."""
    layout = lay_out(read_job(job_text(changed(job, changes or {}))))
    return list(rules()[code].check(survey(layout)))


@dataclass(frozen=True)
class Case:
    """What one rule answers to a job.

    Args:
        code: of the rule.
        status: the worst of its findings.
        job: the job that is changed.
        changes: dotted place to new value.
        value: of that finding, when it is to be checked [unit of the finding].
        limit: of that finding, when it is to be checked [unit of the finding].
        said: words that stand in its subject or advice.
        of: words in the subject of the findings that count.
    """

    code: str
    status: Status
    job: dict[str, Any]
    changes: dict[str, Any] = field(default_factory=dict)
    value: float | None = None
    limit: float | None = None
    said: str = ""
    of: str = ""

    def __str__(self) -> str:
        told = ", ".join(f"{place} = {value}" for place, value in self.changes.items())
        return f"{self.code} {self.status} {told}"[:90]

    def holds(self) -> None:
        """Let the rule judge the job, and compare."""
        unit: Unit = "mm" if self.changes.get("units") == "mm" else "in"
        findings = [
            found for found in judged(self.code, self.job, self.changes) if self.of in subject_of(found, unit)
        ]
        assert findings, "the rule found nothing"
        for found in findings:
            assert found.source.key
            assert advice_of(found, unit) or found.status is PASS, found
            if found.grade is Grade.MEMORY:
                assert found.status in (PASS, CAUTION), "a value from memory never fails a job"
        worst = min(findings, key=lambda found: found.status.severity)
        assert worst.status is self.status, worst
        assert worst.code == self.code
        if self.value is not None:
            assert worst.value == pytest.approx(self.value, abs=1e-6)
        if self.limit is not None:
            assert worst.limit == pytest.approx(self.limit, abs=1e-9)
        assert self.said in f"{subject_of(worst, unit)} {advice_of(worst, unit)}"
        assert worst.judged.shortfall >= 0.0
        if worst.status is PASS:
            assert worst.judged.shortfall == 0.0


def cases(*all_cases: Case) -> Any:
    """Run each case as a test of its own."""
    return pytest.mark.parametrize("case", all_cases, ids=str)
