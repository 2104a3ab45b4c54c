"""All papers of a job as the page offers them: what could be made, and why the rest could not."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import cast

from hatchwright.drawings.made_file import MadeFile as MadeFile
from hatchwright.drawings.made_file import MadeKind as MadeKind
from hatchwright.drawings.made_file import Written as Written
from hatchwright.drawings.writers import AnyPaper
from hatchwright.errors import Fault, HatchwrightError
from hatchwright.making.trial.piece import PieceKind
from hatchwright.page.screen import Asked
from hatchwright.workflow.examine import Examination, examine
from hatchwright.workflow.machines import machine_named
from hatchwright.workflow.papers import papers
from hatchwright.workflow.pins import pin_files
from hatchwright.workflow.printing import PAPERS, paper_of
from hatchwright.workflow.template_files import template_files
from hatchwright.workflow.toolpath import machine_files
from hatchwright.workflow.trial import trial_files

PIECES = ("square", "disc", "corner")
"""Pieces of a trial on scrap."""


@dataclass(frozen=True, slots=True)
class PaperChoice:
    """What is asked for.

    Args:
        paper: one of `PAPERS`.
        bar_short: what the 6.000 in bar along the short side of a printed page measured, as typed; "" for true pages.
        bar_long: the same along its long side.
        piece: one of `PIECES`, "" for no trial.
        printable: whether the template is wanted as a body for a 3D printer.
        machine: a machine file of the folder, "" for no toolpath.
    """

    paper: str = PAPERS[0]
    bar_short: str = ""
    bar_long: str = ""
    piece: str = ""
    printable: bool = False
    machine: str = ""


@dataclass(frozen=True, slots=True)
class MadePapers:
    """The files of one moment.

    Args:
        both_sides: whether the other side gets the mirrored job too.
        files: each read back before it is offered.
        refusals: what could not be made, and what to do about it.
    """

    title: str
    revision: str
    both_sides: bool
    files: tuple[MadeFile, ...]
    refusals: tuple[Fault, ...]


def made_papers(asked: Asked, *, stamp: datetime, choice: PaperChoice) -> MadePapers:
    """Make the papers and machine files of a job, for each side that gets the opening.

    Returns:
        MadePapers: with refusals instead of files where something cannot be made; none at all when the paper is
            refused, so that no page is taken for a corrected one.
    Raises:
        JobError: the job is not sound.
    """
    job = asked.entered()
    examination = examine(job, asked.shop)
    files: list[MadeFile] = []
    refusals: dict[Fault, None] = {}
    try:
        paper = paper_of(choice.paper, bar_short=choice.bar_short, bar_long=choice.bar_long)
    except HatchwrightError as error:
        return MadePapers(job.title, job.revision, job.aircraft.both_sides, (), (error.as_fault("papers"),))
    for make in _makers(examination, asked, stamp, choice, paper):
        try:
            files += make()
        except HatchwrightError as error:
            refusals |= dict.fromkeys(error.as_faults("papers"))
    return MadePapers(job.title, job.revision, job.aircraft.both_sides, tuple(files), tuple(refusals))


def _makers(
    examination: Examination, asked: Asked, stamp: datetime, choice: PaperChoice, paper: AnyPaper
) -> Iterator[Callable[[], tuple[MadeFile, ...]]]:
    """Each set of files by itself, so that one that cannot be made keeps none of the others back."""
    stem = Path(asked.name).stem
    yield lambda: papers(examination, stamp=stamp, paper=paper, stem=stem)
    yield lambda: template_files(examination, stamp=stamp, paper=paper, stem=stem, printable=choice.printable)
    yield lambda: pin_files(examination, stamp=stamp, paper=paper.plain, stem=stem)
    if choice.piece:
        yield lambda: trial_files(
            examination, kind=cast(PieceKind, choice.piece), stamp=stamp, paper=paper, stem=stem
        )
    if choice.machine:

        def toolpaths() -> tuple[MadeFile, ...]:
            used = machine_named(asked.folder, choice.machine)
            made = machine_files(examination, used, stamp=stamp, stem=stem, name=choice.machine)
            return tuple(file.made for file in made)

        yield toolpaths
