"""All papers of a job as the page offers them: what could be made, and why the rest could not."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from hatchwright.errors import Fault, HatchwrightError, JobError
from hatchwright.job.file import read_job
from hatchwright.tables.table import ShopTables
from hatchwright.workflow.examine import examine
from hatchwright.workflow.papers import papers
from hatchwright.workflow.pins import pin_files
from hatchwright.workflow.template_files import template_files

PAPERS = ("letter", "a4", "11x17")
"""What a printer takes."""


@dataclass(frozen=True, slots=True)
class MadePapers:
    """The files of one moment.

    Args:
        title: of the job.
        revision: of the job.
        both_sides: whether the other side gets the mirrored job too.
        files: file name to its bytes, each read back before it is offered.
        refusals: what could not be made, and what to do about it.
    """

    title: str
    revision: str
    both_sides: bool
    files: dict[str, bytes]
    refusals: tuple[Fault, ...]


def made_papers(
    text: str, folder: Path, name: str, *, stamp: datetime, paper: str, shop: ShopTables | None = None
) -> MadePapers:
    """Make layout drawing, work card and template of a job, for each side that gets the opening.

    Args:
        text: of the job file.
        folder: of the job file.
        name: its file name.
        stamp: when they are made.
        paper: one of `PAPERS`.
        shop: a shop's own rows of the tables, when there are any.
    Returns:
        MadePapers: with refusals instead of files where something cannot be made.
    Raises:
        JobError: the job is not sound.
    """
    job = read_job(text, folder=folder, name=name)
    examination = examine(job, shop)
    stem = Path(name).stem
    files: dict[str, bytes] = {}
    refusals: list[Fault] = []
    makers: tuple[Callable[..., dict[str, bytes]], ...] = (papers, template_files, pin_files)
    for make in makers:
        try:
            files |= make(examination, stamp=stamp, paper=paper, stem=stem)
        except JobError as error:
            refusals += error.faults
        except HatchwrightError as error:
            refusals.append(
                Fault(error.where or "papers", error.what, remedy=f"{error.remedy}." if error.remedy else "")
            )
    return MadePapers(job.title, job.revision, job.aircraft.both_sides, files, tuple(refusals))
