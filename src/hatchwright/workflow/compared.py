"""A job as it is beside the same with what is to be entered: answers and numbers, in one pass."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from hatchwright.documents.drawn_made import DrawnMade
from hatchwright.errors import Fault, JobError
from hatchwright.job.file import read_job
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.layout import Layout
from hatchwright.progress import Progress, stretches, unheard
from hatchwright.search.changed_findings import ChangedFinding, changed_findings
from hatchwright.workflow.drawn_beside_made import changed_numbers
from hatchwright.workflow.examine import Examination, examine_layout


@dataclass(frozen=True)
class Compared:
    """The job before and after the readings became what was made.

    Args:
        after: None where the job can't take the readings; why is in `faults`.
        changes: answers that appear, go or change.
        numbers: every number that depends on what was made, and is another with the readings.
    """

    before: Examination
    after: Examination | None
    changes: tuple[ChangedFinding, ...]
    numbers: tuple[DrawnMade, ...] = ()
    faults: tuple[Fault, ...] = ()


class Changed(Protocol):
    """A job, and its text with something else in it."""

    @property
    def layout(self) -> Layout:
        """As it is."""

    @property
    def changed_text(self) -> str:
        """With what was read; JobError where the job can't take it."""


def compared(
    found: Changed, *, folder: Path | None, with_strength: bool = True, progress: Progress = unheard
) -> Compared:
    """Judge a job as it is and with what was read in it, in one pass.

    Args:
        folder: of the job's file, where a DXF outline is looked for.
        with_strength: whether margins are asked for too; they take seconds.
    """
    first, second = stretches(progress, 1.0, 1.0)
    before = examine_layout(found.layout, with_strength=with_strength, progress=first)
    try:
        after_layout = lay_out(read_job(found.changed_text, folder=folder), found.layout.shop)
    except JobError as error:
        return Compared(before, None, (), faults=error.faults)
    after = examine_layout(after_layout, with_strength=with_strength, progress=second)
    answers = changed_findings(before.findings, after.findings)
    return Compared(before, after, answers, changed_numbers(before, after))
