"""What the tests of the scenarios share."""

from __future__ import annotations

from pathlib import Path

from hatchwright.finding import Finding
from hatchwright.job.file import load_job
from hatchwright.workflow.examine import Examination, examine
from told import subject_of

EXAMPLES = Path(__file__).parents[2] / "examples"


def examined(name: str) -> Examination:
    """An example job, laid out and judged."""
    return examine(load_job(EXAMPLES / f"{name}.toml"))


def found(examination: Examination, code: str, part: str = "") -> list[Finding]:
    """Findings of one rule whose subject holds some words."""
    return [f for f in examination.findings if f.code == code and part in subject_of(f)]


def one(examination: Examination, code: str, part: str = "") -> Finding:
    """The only finding of that kind."""
    (finding,) = found(examination, code, part)
    return finding
